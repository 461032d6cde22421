#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>

#include "photo/photo.h"

namespace scantling {

/// The picture format by the file's first bytes; the name plays no part.
std::optional<PhotoFormat> photo_format_of(std::span<const std::uint8_t> bytes);

/// What a file that is no photo seems to be, with its article ("a PDF document"); empty where
/// unknown.
std::string other_kind_of(std::span<const std::uint8_t> bytes);

}  // namespace scantling
