#pragma once

#include <opencv2/core/mat.hpp>
#include <string>

namespace scantling {

/// A photo, or a piece of one, made small enough for a page.
struct ScaledPhoto {
  cv::Mat rgb;       ///< CV_8UC3
  std::string jpeg;  ///< the same as a JPEG file
};

/// The piece of an upright RGB photo inside `window`, its longer side at most so many pixels.
ScaledPhoto scaled_photo(const cv::Mat& rgb, const cv::Rect& window, int longest_side_px);

}  // namespace scantling
