#pragma once

#include <opencv2/core/types.hpp>
#include <vector>

#include "dimension/measurement.h"
#include "print/page.h"

namespace scantling {

/// A piece of a photo on a page.
struct PlacedPhoto {
  PageBox box;
  cv::Rect window;  ///< of the full-resolution, upright photo

  /// Where a place of the photo lies on the page.
  PagePoint at(Point_px p) const;
};

/// Draws measured edges over a photo, each in its own colour and rhythm; named where `labelled`.
void draw_edges(Page& page, const PlacedPhoto& photo, const std::vector<MeasuredEdge>& edges,
                double width_mm, bool labelled);

}  // namespace scantling
