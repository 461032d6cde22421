#pragma once

#include <opencv2/core/mat.hpp>

namespace scantling {

/// Turns a picture upright by its orientation tag 1..8 (TIFF 6.0, tag 274; Exif 2.3). Orientation 1
/// gives the same pixels back without a copy.
cv::Mat turned_upright(const cv::Mat& stored, int orientation);

/// Whether this orientation exchanges width and height.
inline bool swaps_sides(int orientation) {
  return orientation >= 5 && orientation <= 8;
}

}  // namespace scantling
