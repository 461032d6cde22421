#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>

#include "edges/linear_light.h"
#include "support/drawn_planes_cast.h"
#include "support/picture_files.h"

namespace scantling::drawn {
namespace {

/// Mean light over a pixel's own square.
double pixel_light(const PlanesCast& cast, const PlaneLens& lens, double x, double y) {
  constexpr int kSide = 4;
  double sum = 0;
  for (int j = 0; j < kSide; ++j)
    for (int i = 0; i < kSide; ++i)
      sum += cast.first(lens.ray(x + (i + 0.5) / kSide - 0.5, y + (j + 0.5) / kSide - 0.5)).light;
  return sum / (kSide * kSide);
}

/// One ray at each pixel's corner tells where all is even; more only where it is not.
cv::Mat1f cast_light(const PlanesCast& cast, const PlaneLens& lens, int width, int height) {
  cv::Mat1f corners(height + 1, width + 1), light(height, width);
  cv::parallel_for_({0, height + 1}, [&](const cv::Range& rows) {
    for (int y = rows.start; y < rows.end; ++y)
      for (int x = 0; x <= width; ++x)
        corners(y, x) = static_cast<float>(cast.first(lens.ray(x - 0.5, y - 0.5)).light);
  });
  cv::parallel_for_({0, height}, [&](const cv::Range& rows) {
    for (int y = rows.start; y < rows.end; ++y)
      for (int x = 0; x < width; ++x) {
        const auto [low, high] = std::minmax(
            {corners(y, x), corners(y, x + 1), corners(y + 1, x), corners(y + 1, x + 1)});
        light(y, x) = high - low < 0.03f ? (low + high) / 2
                                         : static_cast<float>(pixel_light(cast, lens, x, y));
      }
  });
  return light;
}

}  // namespace

cv::Mat plane_picture(const PlanesScene& scene, const PlaneCamera& camera, std::uint32_t seed,
                      double noise) {
  const PlanesCast cast(scene);
  const PlaneLens lens(camera);
  cv::Mat1f light = cast_light(cast, lens, camera.width_px, camera.height_px);
  constexpr double kBlur_px = 0.7;
  cv::GaussianBlur(light, light, {7, 7}, kBlur_px, kBlur_px, cv::BORDER_REPLICATE);
  cv::Mat picture(camera.height_px, camera.width_px, CV_8UC1);
  cv::RNG random(seed);
  cv::Mat1f grain(light.size());
  random.fill(grain, cv::RNG::NORMAL, 0, noise);
  for (int y = 0; y < light.rows; ++y)
    for (int x = 0; x < light.cols; ++x)
      picture.at<uchar>(y, x) = cv::saturate_cast<uchar>(
          srgb_code(static_cast<double>(light(y, x))) + static_cast<double>(grain(y, x)));
  return picture;
}

std::vector<unsigned char> plane_jpeg(const PlanesScene& scene, const PlaneCamera& camera,
                                      std::uint32_t seed, double noise) {
  const cv::Mat stored = test::stored_for_orientation(plane_picture(scene, camera, seed, noise),
                                                      camera.exif_orientation);
  test::ExifFields tags;
  tags.make = camera.make;
  tags.model = camera.model;
  tags.software = "Scantling drawn picture (not a photograph)";
  tags.taken_at = camera.taken_at;
  tags.focal_length_35mm = written_focal_length_35mm(camera);
  tags.orientation = camera.exif_orientation;
  tags.width_px = stored.cols;
  tags.height_px = stored.rows;
  return test::jpeg_with_exif(test::jpeg_file(stored, {.quality = 92}), test::exif_block(tags));
}

}  // namespace scantling::drawn
