#include <tiffio.h>

#include <algorithm>
#include <bit>
#include <cstdio>
#include <cstring>
#include <memory>
#include <opencv2/imgproc.hpp>

#include "photo/camera_tags.h"
#include "photo/photo_refusal.h"
#include "photo/picture_reader.h"

namespace scantling {
namespace {

/// A file in memory as libtiff reads it; also counts what libtiff complained about.
struct Source {
  std::span<const std::uint8_t> bytes;
  std::uint64_t at = 0;
  bool read_past_end = false;
  int errors = 0;
};

tmsize_t read_some(thandle_t handle, void* to, tmsize_t wanted) {
  Source& source = *static_cast<Source*>(handle);
  const std::uint64_t size = source.bytes.size();
  const std::uint64_t left = source.at < size ? size - source.at : 0;
  const std::uint64_t count =
      std::min(left, static_cast<std::uint64_t>(std::max<tmsize_t>(wanted, 0)));
  if (static_cast<tmsize_t>(count) < wanted) source.read_past_end = true;
  if (count > 0) std::memcpy(to, source.bytes.data() + source.at, count);
  source.at += count;
  return static_cast<tmsize_t>(count);
}

tmsize_t write_nothing(thandle_t, void*, tmsize_t) {
  return 0;
}

toff_t seek_to(thandle_t handle, toff_t offset, int whence) {
  Source& source = *static_cast<Source*>(handle);
  if (whence == SEEK_CUR)
    source.at += offset;
  else
    source.at = whence == SEEK_END ? source.bytes.size() + offset : offset;
  return source.at;
}

int close_nothing(thandle_t) {
  return 0;
}
toff_t size_of(thandle_t handle) {
  return static_cast<Source*>(handle)->bytes.size();
}
int no_map(thandle_t, void**, toff_t*) {
  return 0;
}
void no_unmap(thandle_t, void*, toff_t) {}

int count_error(TIFF*, void* source, const char*, const char*, va_list) {
  ++static_cast<Source*>(source)->errors;
  return 1;  // handled: nothing is printed
}
int pass_over(TIFF*, void*, const char*, const char*, va_list) {
  return 1;
}

struct CloseTiff {
  void operator()(TIFF* tiff) const { TIFFClose(tiff); }
};
using Tiff = std::unique_ptr<TIFF, CloseTiff>;

Tiff open_tiff(Source& source, const PhotoLimits& limits) {
  TIFFOpenOptions* options = TIFFOpenOptionsAlloc();
  if (!options) return nullptr;
  TIFFOpenOptionsSetMaxSingleMemAlloc(options, static_cast<tmsize_t>(limits.pixels) * 4);
  TIFFOpenOptionsSetErrorHandlerExtR(options, count_error, &source);
  TIFFOpenOptionsSetWarningHandlerExtR(options, pass_over, nullptr);
  Tiff tiff(TIFFClientOpenExt("photo", "r", &source, read_some, write_nothing, seek_to,
                              close_nothing, size_of, no_map, no_unmap, options));
  TIFFOpenOptionsFree(options);
  return tiff;
}

std::string text_tag(TIFF* tiff, std::uint32_t tag) {
  const char* text = nullptr;
  return TIFFGetField(tiff, tag, &text) && text ? tidy_tag(text) : std::string();
}

std::optional<double> number_tag(TIFF* tiff, std::uint32_t tag) {
  float value = 0;
  if (!TIFFGetField(tiff, tag, &value)) return std::nullopt;
  return value;
}

std::optional<int> side_tag(TIFF* tiff, std::uint32_t tag) {
  std::uint32_t value = 0;
  if (!TIFFGetField(tiff, tag, &value)) return std::nullopt;
  return plausible_side_px(value);
}

/// Leaves `tiff` in its Exif directory: call it last.
CameraTags tags_of(TIFF* tiff) {
  CameraTags tags;
  tags.make = text_tag(tiff, TIFFTAG_MAKE);
  tags.model = text_tag(tiff, TIFFTAG_MODEL);
  tags.software = text_tag(tiff, TIFFTAG_SOFTWARE);
  toff_t exif = 0;
  if (!TIFFGetField(tiff, TIFFTAG_EXIFIFD, &exif) || !TIFFReadEXIFDirectory(tiff, exif))
    return tags;
  tags.taken_at = text_tag(tiff, EXIFTAG_DATETIMEORIGINAL);
  if (const auto value = number_tag(tiff, EXIFTAG_FOCALLENGTH))
    tags.focal_length_mm = plausible_focal_length_mm(*value);
  std::uint16_t equivalent = 0;
  if (TIFFGetField(tiff, EXIFTAG_FOCALLENGTHIN35MMFILM, &equivalent))
    tags.focal_length_35mm = plausible_focal_length_35mm(equivalent);
  tags.exif_width_px = side_tag(tiff, EXIFTAG_PIXELXDIMENSION);
  tags.exif_height_px = side_tag(tiff, EXIFTAG_PIXELYDIMENSION);
  return tags;
}

/// Raw camera files are TIFFs whose first picture is a preview.
bool is_raw_camera_file(TIFF* tiff) {
  const unsigned char* version = nullptr;
  std::uint16_t count = 0, interpretation = 0;
  if (TIFFGetField(tiff, TIFFTAG_DNGVERSION, &version) && version) return true;
  if (TIFFGetField(tiff, TIFFTAG_PHOTOMETRIC, &interpretation) && interpretation == PHOTOMETRIC_CFA)
    return true;
  std::uint32_t type = 0;
  const toff_t* below = nullptr;
  return TIFFGetField(tiff, TIFFTAG_SUBFILETYPE, &type) && (type & FILETYPE_REDUCEDIMAGE) != 0 &&
         TIFFGetField(tiff, TIFFTAG_SUBIFD, &count, &below) && count > 0;
}

/// libtiff hands out RGBA with the colours already multiplied by the alpha: adds white below.
void lay_on_white(cv::Mat& rgba) {
  for (int y = 0; y < rgba.rows; ++y) {
    auto* pixel = rgba.ptr<cv::Vec4b>(y);
    for (int x = 0; x < rgba.cols; ++x)
      if (const int gap = 255 - pixel[x][3]; gap > 0)
        for (int c = 0; c < 3; ++c)
          pixel[x][c] = static_cast<std::uint8_t>(std::min(255, pixel[x][c] + gap));
  }
}

}  // namespace

StoredPicture read_tiff(const PictureRequest& request) {
  static_assert(std::endian::native == std::endian::little, "libtiff packs RGBA by value");
  Source source{request.bytes};
  const auto refusal = [&] {
    return source.read_past_end ? refuse_truncated(request.name) : refuse_damaged(request.name);
  };
  const Tiff tiff = open_tiff(source, request.limits);
  if (!tiff) throw refusal();
  if (is_raw_camera_file(tiff.get())) throw refuse_unsupported(request.name, "a raw camera file");
  std::uint32_t width = 0, height = 0;
  TIFFGetField(tiff.get(), TIFFTAG_IMAGEWIDTH, &width);
  TIFFGetField(tiff.get(), TIFFTAG_IMAGELENGTH, &height);
  require_size_within_limits(request.name, width, height, request.limits);
  char reason[1024] = "";
  if (!TIFFRGBAImageOK(tiff.get(), reason))
    throw refuse_unsupported(request.name, "a kind of TIFF that this program doesn't open");

  std::uint16_t orientation = ORIENTATION_TOPLEFT;
  TIFFGetFieldDefaulted(tiff.get(), TIFFTAG_ORIENTATION, &orientation);
  cv::Mat rgba(static_cast<int>(height), static_cast<int>(width), CV_8UC4);
  // Asking for the stored orientation keeps libtiff from turning the picture by halves.
  const bool read = TIFFReadRGBAImageOriented(tiff.get(), width, height, rgba.ptr<std::uint32_t>(),
                                              orientation, 1);
  if (!read || source.errors > 0) throw refusal();
  lay_on_white(rgba);

  StoredPicture picture;
  cv::cvtColor(rgba, picture.pixels,
               request.kind == PixelKind::luma ? cv::COLOR_RGBA2GRAY : cv::COLOR_RGBA2RGB);
  picture.exif_orientation = picture.turn = plausible_orientation(orientation);
  picture.tags = tags_of(tiff.get());
  return picture;
}

}  // namespace scantling
