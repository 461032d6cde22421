#include "support/drawn_file.h"

#include <turbojpeg.h>

#include <cmath>
#include <memory>
#include <stdexcept>

#include "support/picture_files.h"

namespace scantling::drawn {
namespace {

constexpr double kSensorCrop = 5.2;  ///< 35 mm film over the invented sensor

/// As whole mm, the way phones write it: by the picture's diagonal, 43.27 mm on film.
int written_f35(const DrawnCamera& camera) {
  const double diagonal = std::hypot(camera.width_px, camera.height_px);
  return static_cast<int>(std::lround(camera.f35_factor * camera.focal_px * 43.2666 / diagonal));
}

test::ExifFields tags_of(const DrawnCamera& camera) {
  const bool turned = camera.exif_orientation >= 5;
  const int f35 = written_f35(camera);
  test::ExifFields tags;
  tags.make = "Fernhill";
  tags.model = "Fernhill F2";
  tags.software = "Scantling drawn picture (not a photograph)";
  tags.taken_at = "2026:04:11 15:20:00";
  tags.focal_length_mm = {static_cast<int>(std::lround(f35 / kSensorCrop * 100)), 100};
  tags.focal_length_35mm = f35;
  tags.orientation = camera.exif_orientation;
  tags.width_px = turned ? camera.height_px : camera.width_px;
  tags.height_px = turned ? camera.width_px : camera.height_px;
  return tags;
}

}  // namespace

std::vector<unsigned char> jpeg_file(const DrawnScene& scene, const cv::Mat& rgb) {
  return jpeg_file(scene.camera, rgb);
}

std::vector<unsigned char> jpeg_file(const DrawnCamera& camera, const cv::Mat& rgb) {
  const cv::Mat stored = test::stored_for_orientation(rgb, camera.exif_orientation);
  const auto jpeg = test::jpeg_file(stored, {.quality = camera.jpeg_quality});
  return test::jpeg_with_exif(jpeg, test::exif_block(tags_of(camera)));
}

Photo as_photo(const DrawnScene& scene, const cv::Mat& rgb) {
  return as_photo(scene.camera, rgb);
}

Photo as_photo(const DrawnCamera& camera, const cv::Mat& rgb) {
  return as_photo(camera, upright_jpeg(camera, rgb));
}

std::vector<unsigned char> upright_jpeg(const DrawnCamera& camera, const cv::Mat& rgb) {
  return test::jpeg_file(rgb, {.quality = camera.jpeg_quality});
}

Photo as_photo(const DrawnCamera& camera, const std::vector<unsigned char>& jpeg) {
  Photo photo;
  photo.luma.create(camera.height_px, camera.width_px, CV_8UC1);
  const std::unique_ptr<void, int (*)(tjhandle)> codec(tjInitDecompress(), tjDestroy);
  if (tjDecompress2(codec.get(), jpeg.data(), jpeg.size(), photo.luma.data, photo.luma.cols,
                    static_cast<int>(photo.luma.step), photo.luma.rows, TJPF_GRAY, 0) != 0)
    throw std::runtime_error(std::string("JPEG: ") + tjGetErrorStr2(codec.get()));
  const test::ExifFields tags = tags_of(camera);
  photo.tags.make = tags.make;
  photo.tags.model = tags.model;
  photo.tags.software = tags.software;
  photo.tags.taken_at = tags.taken_at;
  photo.tags.focal_length_mm =
      tags.focal_length_mm->first / static_cast<double>(tags.focal_length_mm->second);
  photo.tags.focal_length_35mm = tags.focal_length_35mm;
  photo.tags.exif_width_px = tags.width_px;
  photo.tags.exif_height_px = tags.height_px;
  photo.exif_orientation = camera.exif_orientation;
  return photo;
}

}  // namespace scantling::drawn
