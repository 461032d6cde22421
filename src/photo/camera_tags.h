#pragma once

#include <cstdint>
#include <span>

#include "photo/photo.h"

namespace scantling {

/// What a block of Exif says; anything missing, broken or absurd is left out.
struct ExifBlock {
  CameraTags tags;
  int orientation = 1;  ///< 1..8
};

/// Reads a TIFF-structured Exif block, without its "Exif\0\0" prefix. Never throws: a block that
/// can't be read counts as absent.
ExifBlock read_exif(std::span<const std::uint8_t> block);

/// Numbers as every reader takes them in; outside a phone's or camera's range they are dropped.
std::optional<double> plausible_focal_length_mm(double value);    ///< 0.5..2000 mm
std::optional<double> plausible_focal_length_35mm(double value);  ///< 10..200 mm
std::optional<int> plausible_side_px(long long value);            ///< 1..100 000 px
int plausible_orientation(long long value);                       ///< 1 unless 1..8

/// Printable, trimmed and at most 100 bytes: tags may hold anything.
std::string tidy_tag(std::string text);

}  // namespace scantling
