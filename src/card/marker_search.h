#pragma once

#include <opencv2/core/mat.hpp>
#include <vector>

#include "card/card_definition.h"
#include "card/search_effort.h"

namespace scantling {

/// A decoded marker: its centre tells which square lies where; its corners are biased inwards by
/// up to 2 px and serve no measure.
struct FoundMarker {
  int id = 0;
  std::vector<Point_px> corners;  ///< four, full-resolution photo
};

/// Searches an upright luma picture for markers of the 4x4 dictionary of 250, on a reduced picture
/// first and on finer ones only while fewer than `enough` markers of `card` are found.
std::vector<FoundMarker> search_markers(const cv::Mat& luma, const CardDefinition& card, int enough,
                                        SearchEffort effort = SearchEffort::thorough);

}  // namespace scantling
