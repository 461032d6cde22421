#include <libheif/heif.h>

#include <cstring>
#include <stdexcept>

#include "support/picture_files.h"

#ifdef __SANITIZE_ADDRESS__
// The HEIC encoder, which only these test pictures need, keeps memory of its own to the end.
extern "C" const char* __lsan_default_suppressions() {
  return "leak:libx265";
}
#endif

namespace scantling::test {
namespace {

void require(const heif_error& error) {
  if (error.code != heif_error_Ok) throw std::runtime_error(error.message);
}

heif_error append(heif_context*, const void* data, size_t size, void* to) {
  Bytes& bytes = *static_cast<Bytes*>(to);
  const auto* first = static_cast<const std::uint8_t*>(data);
  bytes.insert(bytes.end(), first, first + size);
  return {heif_error_Ok, heif_suberror_Unspecified, "ok"};
}

}  // namespace

Bytes heic_file(const cv::Mat& rgb, const HeicOptions& options) {
  heif_image* image = nullptr;
  require(heif_image_create(rgb.cols, rgb.rows, heif_colorspace_RGB, heif_chroma_interleaved_RGB,
                            &image));
  require(heif_image_add_plane(image, heif_channel_interleaved, rgb.cols, rgb.rows, 8));
  int stride = 0;
  std::uint8_t* plane = heif_image_get_plane(image, heif_channel_interleaved, &stride);
  for (int y = 0; y < rgb.rows; ++y)
    std::memcpy(plane + static_cast<std::ptrdiff_t>(y) * stride, rgb.ptr(y),
                static_cast<std::size_t>(rgb.cols) * 3);

  heif_context* context = heif_context_alloc();
  heif_encoder* encoder = nullptr;
  require(heif_context_get_encoder_for_format(context, heif_compression_HEVC, &encoder));
  require(heif_encoder_set_lossy_quality(encoder, options.quality));
  require(heif_encoder_set_parameter_string(encoder, "preset", "ultrafast"));
  heif_encoding_options* encoding = heif_encoding_options_alloc();
  encoding->image_orientation = static_cast<heif_orientation>(options.container_turn);
  heif_image_handle* handle = nullptr;
  require(heif_context_encode_image(context, image, encoder, encoding, &handle));
  if (!options.exif.empty())
    require(heif_context_add_exif_metadata(context, handle, options.exif.data(),
                                           static_cast<int>(options.exif.size())));
  Bytes bytes;
  heif_writer writer = {1, append};
  require(heif_context_write(context, &writer, &bytes));
  heif_image_handle_release(handle);
  heif_encoding_options_free(encoding);
  heif_encoder_release(encoder);
  heif_context_free(context);
  heif_image_release(image);
  return bytes;
}

}  // namespace scantling::test
