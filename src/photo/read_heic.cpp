#include <libheif/heif.h>

#include <algorithm>
#include <memory>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "photo/camera_tags.h"
#include "photo/orientation.h"
#include "photo/photo_refusal.h"
#include "photo/picture_reader.h"

namespace scantling {
namespace {

struct Free {
  void operator()(heif_context* p) const { heif_context_free(p); }
  void operator()(heif_image_handle* p) const { heif_image_handle_release(p); }
  void operator()(heif_image* p) const { heif_image_release(p); }
  void operator()(heif_decoding_options* p) const { heif_decoding_options_free(p); }
  void operator()(heif_color_profile_nclx* p) const { heif_nclx_color_profile_free(p); }
};
template <class T>
using Owned = std::unique_ptr<T, Free>;

void require(const heif_error& error, const std::string& name) {
  if (error.code == heif_error_Ok) return;
  if (error.code == heif_error_Memory_allocation_error) throw refuse_memory(name);
  if (error.subcode == heif_suberror_End_of_data) throw refuse_truncated(name);
  if (error.code == heif_error_Unsupported_filetype || error.code == heif_error_Unsupported_feature)
    throw refuse_unsupported(name, "a kind of HEIC picture that this program doesn't open");
  throw refuse_damaged(name);
}

/// The Exif block begins with a 4-byte big-endian offset to its TIFF header (ISO/IEC 23008-12,
/// A.2.1).
ExifBlock exif_of(const heif_image_handle* handle) {
  heif_item_id id = 0;
  if (heif_image_handle_get_list_of_metadata_block_IDs(handle, "Exif", &id, 1) != 1) return {};
  const std::size_t size = heif_image_handle_get_metadata_size(handle, id);
  if (size < 4 || size > (1u << 20)) return {};
  std::vector<std::uint8_t> block(size);
  if (heif_image_handle_get_metadata(handle, id, block.data()).code != heif_error_Ok) return {};
  const std::size_t offset = (std::size_t{block[0]} << 24) | (std::size_t{block[1]} << 16) |
                             (std::size_t{block[2]} << 8) | block[3];
  if (offset > size - 4) return {};
  return read_exif(std::span<const std::uint8_t>(block).subspan(4 + offset));
}

/// How the sensor lay. Exif's tag may be left over from before the pixels were turned for good:
/// where the camera wrote its size, the picture's shape tells.
int sensor_orientation(const ExifBlock& exif, int width, int height) {
  const std::optional<int> tag_width = exif.tags.exif_width_px;
  const std::optional<int> tag_height = exif.tags.exif_height_px;
  if (!tag_width || !tag_height || *tag_width == *tag_height) return exif.orientation;
  const bool turned = (*tag_width > *tag_height) != (width > height);
  return turned == swaps_sides(exif.orientation) ? exif.orientation : 1;
}

Owned<heif_image> decode(const heif_image_handle* handle, heif_colorspace space, heif_chroma chroma,
                         const std::string& name) {
  const Owned<heif_decoding_options> options(heif_decoding_options_alloc());
  if (!options) throw refuse_memory(name);
  options->convert_hdr_to_8bit = 1;
  options->strict_decoding = 1;
  heif_image* decoded = nullptr;
  require(heif_decode_image(handle, &decoded, space, chroma, options.get()), name);
  Owned<heif_image> image(decoded);
  heif_error warning;
  if (heif_image_get_decoding_warnings(image.get(), 0, &warning, 1) > 0) require(warning, name);
  return image;
}

/// A plane of the decoded picture, without a copy; it lives as long as the picture.
cv::Mat plane_of(const heif_image* image, heif_channel channel, int type, const std::string& name) {
  int stride = 0;
  const std::uint8_t* data = heif_image_get_plane_readonly(image, channel, &stride);
  const int width = heif_image_get_width(image, channel);
  const int height = heif_image_get_height(image, channel);
  if (!data || width <= 0 || height <= 0 || stride < width * CV_ELEM_SIZE(type) ||
      heif_image_get_bits_per_pixel_range(image, channel) != 8)
    throw refuse_damaged(name);
  return cv::Mat(height, width, type, const_cast<std::uint8_t*>(data),
                 static_cast<std::size_t>(stride));
}

bool has_video_range(const heif_image* image) {
  heif_color_profile_nclx* profile = nullptr;
  if (heif_image_get_nclx_color_profile(image, &profile).code != heif_error_Ok) return false;
  const Owned<heif_color_profile_nclx> owned(profile);
  return profile->full_range_flag == 0;
}

cv::Mat read_colour(const heif_image_handle* handle, const std::string& name) {
  const auto image = decode(handle, heif_colorspace_RGB, heif_chroma_interleaved_RGB, name);
  return plane_of(image.get(), heif_channel_interleaved, CV_8UC3, name).clone();
}

cv::Mat read_luma(const heif_image_handle* handle, const std::string& name) {
  // The stored luma plane as it is, where there is one: no colour conversion.
  const auto image = decode(handle, heif_colorspace_undefined, heif_chroma_undefined, name);
  cv::Mat luma;
  if (heif_image_get_colorspace(image.get()) == heif_colorspace_RGB) {
    cv::cvtColor(read_colour(handle, name), luma, cv::COLOR_RGB2GRAY);
    return luma;
  }
  const cv::Mat plane = plane_of(image.get(), heif_channel_Y, CV_8UC1, name);
  if (has_video_range(image.get()))
    plane.convertTo(luma, CV_8U, 255.0 / 219.0, -16.0 * 255.0 / 219.0);
  else
    luma = plane.clone();
  return luma;
}

}  // namespace

StoredPicture read_heic(const PictureRequest& request) {
  const std::string& name = request.name;
  const Owned<heif_context> context(heif_context_alloc());
  if (!context) throw refuse_memory(name);
  heif_context_set_maximum_image_size_limit(context.get(), request.limits.side_px);
  require(heif_context_read_from_memory_without_copy(context.get(), request.bytes.data(),
                                                     request.bytes.size(), nullptr),
          name);
  heif_image_handle* primary = nullptr;
  require(heif_context_get_primary_image_handle(context.get(), &primary), name);
  const Owned<heif_image_handle> handle(primary);
  const int width = heif_image_handle_get_width(handle.get());
  const int height = heif_image_handle_get_height(handle.get());
  require_size_within_limits(name, width, height, request.limits);

  StoredPicture picture;
  picture.pixels = request.kind == PixelKind::luma ? read_luma(handle.get(), name)
                                                   : read_colour(handle.get(), name);
  const ExifBlock exif = exif_of(handle.get());
  picture.tags = exif.tags;
  picture.exif_orientation = sensor_orientation(exif, width, height);
  // libheif has turned the pixels by the container's own tag: Exif's must not be applied again.
  picture.turn = 1;
  return picture;
}

}  // namespace scantling
