#pragma once

#include <cstdint>
#include <opencv2/core/mat.hpp>
#include <span>
#include <string>
#include <vector>

#include "photo/photo.h"

namespace scantling {

enum class PixelKind { luma, colour };

/// What each format's reader is asked for.
struct PictureRequest {
  std::span<const std::uint8_t> bytes;  ///< the whole file
  std::string name;                     ///< for messages
  PhotoLimits limits;
  PixelKind kind = PixelKind::luma;
  int longest_side_px = 1 << 20;  ///< a reader that can reduce cheaply may stop above this
};

/// A picture as the file stores it.
struct StoredPicture {
  cv::Mat pixels;  ///< CV_8UC1 luma (ITU-R BT.601) or CV_8UC3 RGB
  int turn = 1;    ///< orientation still to be applied, 1..8
  int exif_orientation = 1;
  CameraTags tags;
  std::vector<Check> checks;  ///< never a `stop`: that is a PhotoRefusal
};

// Each checks the limits from the header before it takes memory for pixels.
// @throws PhotoRefusal
StoredPicture read_jpeg(const PictureRequest& request);
StoredPicture read_png(const PictureRequest& request);
StoredPicture read_tiff(const PictureRequest& request);
StoredPicture read_heic(const PictureRequest& request);

}  // namespace scantling
