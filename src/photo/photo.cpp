#include "photo/photo.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <new>
#include <opencv2/imgproc.hpp>

#include "photo/file_kind.h"
#include "photo/orientation.h"
#include "photo/photo_file.h"
#include "photo/photo_refusal.h"
#include "photo/picture_reader.h"

namespace scantling {
namespace {

using Clock = std::chrono::steady_clock;

struct ReadPicture {
  PhotoFormat format;
  StoredPicture picture;
};

ReadPicture read_picture(const std::filesystem::path& path, const PhotoLimits& limits,
                         PixelKind kind, int longest_side_px) {
  const FileBytes file = FileBytes::read(path, limits);
  const PictureRequest request{file.bytes(), name_for_user(path), limits, kind, longest_side_px};
  const auto format = photo_format_of(request.bytes);
  if (!format) throw refuse_not_a_photo(request.name, other_kind_of(request.bytes));
  switch (*format) {
    case PhotoFormat::jpeg:
      return {*format, read_jpeg(request)};
    case PhotoFormat::png:
      return {*format, read_png(request)};
    case PhotoFormat::tiff:
      return {*format, read_tiff(request)};
    case PhotoFormat::heic:
      break;
  }
  return {*format, read_heic(request)};
}

/// Compares the size the camera wrote with the size the file has, in either orientation. A changed
/// photo no longer fits the camera's profile, nor a focal length given in sensor sizes.
void check_against_camera_size(Photo& photo, std::vector<Check>& checks) {
  if (!photo.tags.exif_width_px || !photo.tags.exif_height_px) return;
  const int tag_long = std::max(*photo.tags.exif_width_px, *photo.tags.exif_height_px);
  const int tag_short = std::min(*photo.tags.exif_width_px, *photo.tags.exif_height_px);
  const int long_side = std::max(photo.width_px(), photo.height_px());
  const int short_side = std::min(photo.width_px(), photo.height_px());
  if (tag_short == short_side && tag_long == long_side) return;
  const double tag_shape = static_cast<double>(tag_long) / tag_short;
  const double shape = static_cast<double>(long_side) / short_side;
  const bool same_shape = std::abs(shape / tag_shape - 1) < 0.005;
  const auto sizes = fmt::format("the camera took {} x {} pixels, this file has {} x {}", tag_long,
                                 tag_short, long_side, short_side);
  if (same_shape)
    checks.push_back(
        {"photo_resized", Severity::warn,
         fmt::format("This photo was resized ({}): send the original file for the best "
                     "result.",
                     sizes)});
  else
    checks.push_back({"photo_cropped", Severity::warn,
                      fmt::format("This photo was cropped ({}): send the whole photo, as the lens "
                                  "can't be reckoned with otherwise.",
                                  sizes)});
}

/// Runs `body`; whatever goes wrong with the file comes back as one check.
template <class Body>
std::optional<Check> refusal_of(const std::filesystem::path& path, Body body) {
  try {
    body();
    return std::nullopt;
  } catch (const PhotoRefusal& refusal) {
    return refusal.check;
  } catch (const std::bad_alloc&) {
    return refuse_memory(name_for_user(path)).check;
  } catch (const cv::Exception& error) {
    if (error.code == cv::Error::StsNoMem) return refuse_memory(name_for_user(path)).check;
    return refuse_damaged(name_for_user(path)).check;
  }
}

}  // namespace

PhotoLoad load_photo(const std::filesystem::path& path, const PhotoLimits& limits) {
  const auto start = Clock::now();
  PhotoLoad load;
  const auto fault = refusal_of(path, [&] {
    ReadPicture read = read_picture(path, limits, PixelKind::luma, limits.side_px);
    Photo photo;
    photo.path = path;
    photo.format = read.format;
    photo.luma = turned_upright(read.picture.pixels, read.picture.turn);
    photo.tags = std::move(read.picture.tags);
    photo.exif_orientation = read.picture.exif_orientation;
    load.checks = std::move(read.picture.checks);
    check_against_camera_size(photo, load.checks);
    photo.decode_ms = std::chrono::duration<double, std::milli>(Clock::now() - start).count();
    load.photo = std::move(photo);
  });
  if (fault) load.checks.push_back(*fault);
  return load;
}

cv::Mat load_colour(const std::filesystem::path& path, int longest_side_px) {
  cv::Mat colour;
  const int limit = std::max(1, longest_side_px);
  refusal_of(path, [&] {
    const ReadPicture read = read_picture(path, {}, PixelKind::colour, limit);
    cv::Mat pixels = read.picture.pixels;
    while (std::max(pixels.cols, pixels.rows) > limit) {
      cv::Mat half;
      cv::resize(pixels, half, {(pixels.cols + 1) / 2, (pixels.rows + 1) / 2}, 0, 0,
                 cv::INTER_AREA);
      pixels = half;
    }
    colour = turned_upright(pixels, read.picture.turn);
  });
  return colour;
}

}  // namespace scantling
