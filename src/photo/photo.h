#pragma once

#include <cstdint>
#include <filesystem>
#include <opencv2/core/mat.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/check.h"

namespace scantling {

enum class PhotoFormat { jpeg, png, tiff, heic };

/// What the camera wrote about itself (Exif 2.3 tags); absent where the file does not say.
struct CameraTags {
  std::string make;
  std::string model;
  std::optional<double> focal_length_mm;
  std::optional<double> focal_length_35mm;  ///< 35 mm film equivalent
  std::optional<int> exif_width_px;         ///< PixelXDimension, sensor orientation
  std::optional<int> exif_height_px;
  std::string taken_at;  ///< DateTimeOriginal, "YYYY:MM:DD HH:MM:SS"; empty where absent
  std::string software;  ///< the program that last wrote the file
};

/// A decoded photo, upright: what the measuring needs of it.
struct Photo {
  std::filesystem::path path;
  PhotoFormat format = PhotoFormat::jpeg;
  cv::Mat luma;  ///< CV_8UC1, full resolution, turned upright by the EXIF orientation
  CameraTags tags;
  int exif_orientation = 1;  ///< 1..8 as stored; the pixels here are already turned
  double decode_ms = 0;

  int width_px() const { return luma.cols; }
  int height_px() const { return luma.rows; }
};

/// Refused before memory is spent on pixels.
struct PhotoLimits {
  std::uintmax_t file_bytes = 256u << 20;
  std::int64_t pixels = 120'000'000;
  int side_px = 32'000;
  int smallest_side_px = 480;  ///< below this no card can be read
};

/// Either a photo, or at least one `stop` check that says why not.
struct PhotoLoad {
  std::optional<Photo> photo;
  std::vector<Check> checks;
};

/// Reads a JPEG, PNG, TIFF or HEIC file, recognised by its content and not by its name.
/// Only the luma plane is decoded. Never throws for bad input.
PhotoLoad load_photo(const std::filesystem::path& path, const PhotoLimits& limits = {});

/// What took the photo, from the file's Exif alone: nothing is decoded. Empty
/// where the file says nothing or is no photo; never throws for bad input.
CameraTags camera_tags_of(const std::filesystem::path& path);

/// The same file in colour for the screen and for reports: CV_8UC3, RGB order,
/// upright, scaled down by whole powers of two until neither side exceeds
/// `longest_side_px`. Empty on bad input.
cv::Mat load_colour(const std::filesystem::path& path, int longest_side_px = 1 << 20);

}  // namespace scantling
