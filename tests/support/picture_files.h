#pragma once

#include <cstdint>
#include <opencv2/core/mat.hpp>
#include <optional>
#include <string>
#include <vector>

namespace scantling::test {

using Bytes = std::vector<std::uint8_t>;

/// A smooth RGB picture without any symmetry, so that each wrong turn shows.
cv::Mat asymmetric_picture(int width, int height);

/// ITU-R BT.601 luma, worked out in floating point.
cv::Mat luma_of(const cv::Mat& rgb);

/// What a camera would store for this upright picture at an orientation tag of 1..8, by the tag's
/// wording in Exif 2.3: which side of the scene the first row and the first column show.
cv::Mat stored_for_orientation(const cv::Mat& upright, int orientation);

struct JpegOptions {
  int quality = 95;
  bool progressive = false;
  bool full_chroma = false;  ///< 4:4:4 instead of 4:2:0
};
Bytes jpeg_file(const cv::Mat& rgb_or_gray, const JpegOptions& options = {});
Bytes cmyk_jpeg_file(int width, int height);

/// Gray, RGB or RGBA with 8 or 16 bits.
Bytes png_file(const cv::Mat& pixels);
/// Columns 0, 1, 2, ... in the palette's colours, repeated.
Bytes palette_png_file(int width, int height, const std::vector<cv::Vec3b>& palette);

/// Gray or RGB with 8 or 16 bits, LZW-compressed.
Bytes tiff_file(const cv::Mat& pixels, int orientation = 1);
/// 1 bit a pixel, 0 meaning white: the left half black.
Bytes bilevel_tiff_file(int width, int height);

struct ExifFields {
  std::string make = {}, model = {}, software = {}, taken_at = {};
  std::optional<std::pair<int, int>> focal_length_mm = {};  ///< numerator, denominator
  std::optional<int> focal_length_35mm = {};
  std::optional<int> orientation = {};
  std::optional<int> width_px = {}, height_px = {};
};
Bytes exif_block(const ExifFields& fields);
Bytes jpeg_with_exif(const Bytes& jpeg, const Bytes& exif_block);
Bytes png_with_exif(const Bytes& png, const Bytes& exif_block);

struct HeicOptions {
  Bytes exif = {};         ///< without any prefix; empty for none
  int container_turn = 1;  ///< 1..8: what the container asks the reader to do
  int quality = 90;
};
Bytes heic_file(const cv::Mat& rgb, const HeicOptions& options = {});

}  // namespace scantling::test
