#pragma once

#include <vector>

#include "photo/photo.h"
#include "support/drawn_scene.h"

namespace scantling::drawn {

/// The drawn picture as a phone would write it: JPEG with EXIF, turned by the orientation tag.
std::vector<unsigned char> jpeg_file(const DrawnScene& scene, const cv::Mat& rgb);
std::vector<unsigned char> jpeg_file(const DrawnCamera& camera, const cv::Mat& rgb);

/// The same without a file: the luma after JPEG, upright, with the tags the file would have.
Photo as_photo(const DrawnScene& scene, const cv::Mat& rgb);
Photo as_photo(const DrawnCamera& camera, const cv::Mat& rgb);
/// From the upright JPEG that a drawing became.
Photo as_photo(const DrawnCamera& camera, const std::vector<unsigned char>& upright_jpeg);
std::vector<unsigned char> upright_jpeg(const DrawnCamera& camera, const cv::Mat& rgb);

}  // namespace scantling::drawn
