#pragma once

#include <opencv2/core/mat.hpp>
#include <span>
#include <string>

#include "card/card_sighting.h"
#include "dimension/measurement.h"
#include "print/page.h"

namespace scantling {

/// Draws what was measured over a photo that fills `box`: the card's corners, each edge with its
/// name, and each thickness as a dimension line with its size. `photo_width_px` ties the
/// measurement's places, on the full-resolution photo, to the box. The photo itself is left to the
/// caller.
void draw_overlay(Page& page, const PageBox& box, int photo_width_px,
                  const Measurement& measurement, std::span<const SightedCorner> corners);

/// The photo with its overlay as a PNG file's bytes, at the size of `colour` (CV_8UC3, RGB), which
/// may be a reduced copy of the photo.
/// @throws std::runtime_error when the PNG can't be made.
std::string overlay_png(const cv::Mat& colour, int photo_width_px, const Measurement& measurement,
                        std::span<const SightedCorner> corners);

}  // namespace scantling
