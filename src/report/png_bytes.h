#pragma once

#include <opencv2/core/mat.hpp>
#include <string>

namespace scantling {

/// A CV_8UC3 picture in RGB order as a PNG file's bytes, packed for speed rather than size.
/// @throws std::runtime_error when the picture is empty, of another type or too large.
std::string png_bytes(const cv::Mat& rgb);

}  // namespace scantling
