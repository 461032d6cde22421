#include "report/png_bytes.h"

#include <png.h>

#include <cstring>
#include <stdexcept>

namespace scantling {

std::string png_bytes(const cv::Mat& rgb) {
  if (rgb.empty() || rgb.type() != CV_8UC3)
    throw std::runtime_error("Only an 8-bit RGB picture can be written as a PNG.");
  png_image image;
  std::memset(&image, 0, sizeof image);
  image.version = PNG_IMAGE_VERSION;
  image.width = static_cast<png_uint_32>(rgb.cols);
  image.height = static_cast<png_uint_32>(rgb.rows);
  image.format = PNG_FORMAT_RGB;
  image.flags = PNG_IMAGE_FLAG_FAST;
  // More than any packing needs, so that the picture is packed only once.
  png_alloc_size_t size = PNG_IMAGE_PNG_SIZE_MAX(image);
  std::string bytes(size, '\0');
  if (!png_image_write_to_memory(&image, bytes.data(), &size, 0, rgb.data,
                                 static_cast<png_int_32>(rgb.step), nullptr))
    throw std::runtime_error(std::string("The picture can't be written as a PNG: ") +
                             image.message);
  bytes.resize(size);
  return bytes;
}

}  // namespace scantling
