#include <png.h>

#include <cstring>
#include <opencv2/imgproc.hpp>
#include <string_view>

#include "photo/camera_tags.h"
#include "photo/photo_refusal.h"
#include "photo/picture_reader.h"

namespace scantling {
namespace {

using Bytes = std::span<const std::uint8_t>;

std::uint32_t big_endian_32(Bytes bytes) {
  return (std::uint32_t{bytes[0]} << 24) | (std::uint32_t{bytes[1]} << 16) |
         (std::uint32_t{bytes[2]} << 8) | bytes[3];
}

struct ChunkWalk {
  ExifBlock exif;
  bool ended = false;  ///< the IEND chunk is there
};

ChunkWalk walk_chunks(Bytes file) {
  ChunkWalk walk;
  std::size_t at = 8;
  while (at + 12 <= file.size()) {
    const std::size_t length = big_endian_32(file.subspan(at));
    if (length > file.size() - at - 12) break;
    const std::string_view type(reinterpret_cast<const char*>(file.data()) + at + 4, 4);
    if (type == "eXIf") walk.exif = read_exif(file.subspan(at + 8, length));
    if (type == "IEND") walk.ended = true;
    at += 12 + length;
  }
  return walk;
}

class PngImage {
 public:
  PngImage() {
    std::memset(&image, 0, sizeof image);
    image.version = PNG_IMAGE_VERSION;
  }
  ~PngImage() { png_image_free(&image); }
  PngImage(const PngImage&) = delete;
  PngImage& operator=(const PngImage&) = delete;

  png_image image;
};

}  // namespace

StoredPicture read_png(const PictureRequest& request) {
  const ChunkWalk walk = walk_chunks(request.bytes);
  PngImage png;
  png_image& image = png.image;
  const auto refusal = [&] {
    return walk.ended ? refuse_damaged(request.name) : refuse_truncated(request.name);
  };
  if (!png_image_begin_read_from_memory(&image, request.bytes.data(), request.bytes.size()))
    throw refusal();
  require_size_within_limits(request.name, image.width, image.height, request.limits);

  // 16-bit files without a colour tag hold the same curve as 8-bit ones, not linear light.
  image.flags |= PNG_IMAGE_FLAG_16BIT_sRGB;
  const bool gray = (image.format & PNG_FORMAT_FLAG_COLOR) == 0;
  image.format = gray ? PNG_FORMAT_GRAY : PNG_FORMAT_RGB;
  cv::Mat pixels(static_cast<int>(image.height), static_cast<int>(image.width),
                 gray ? CV_8UC1 : CV_8UC3);
  const png_color white = {255, 255, 255};  // under transparent parts
  if (!png_image_finish_read(&image, &white, pixels.data, static_cast<png_int_32>(pixels.step),
                             nullptr))
    throw refusal();

  StoredPicture picture;
  const bool luma = request.kind == PixelKind::luma;
  if (gray == luma)
    picture.pixels = pixels;
  else
    cv::cvtColor(pixels, picture.pixels, luma ? cv::COLOR_RGB2GRAY : cv::COLOR_GRAY2RGB);
  picture.tags = walk.exif.tags;
  picture.exif_orientation = picture.turn = walk.exif.orientation;
  return picture;
}

}  // namespace scantling
