// What a phone makes of the light: lens blur, vignetting, noise, tone curve, sharpening.

#include <algorithm>
#include <opencv2/imgproc.hpp>

#include "support/drawn_math.h"
#include "support/drawn_scene.h"

namespace scantling::drawn {
namespace {

constexpr std::size_t kTable = 65536;

std::vector<float> tone_table(double strength) {
  std::vector<float> table(kTable + 1);
  for (std::size_t i = 0; i <= kTable; ++i) {
    const double v = static_cast<double>(i) / kTable;
    const double s = v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055;
    table[i] = static_cast<float>(255 * (s + strength * (s * s * (3 - 2 * s) - s)));
  }
  return table;
}

/// Noise of unit variance, a little smooth as demosaicing leaves it.
cv::Mat grain(int rows, int cols, std::uint32_t seed) {
  std::vector<float> normals(kTable);
  Random random(seed * 31ull + 3);
  for (float& v : normals) v = static_cast<float>(random.normal());
  cv::Mat noise(rows, cols, CV_32FC3);
  std::uint32_t state = mix(seed);
  for (int y = 0; y < rows; ++y) {
    auto* row = noise.ptr<float>(y);
    for (int i = 0; i < 3 * cols; i += 2) {
      state = state * 747796405u + 2891336453u;
      const std::uint32_t bits = mix(state);
      row[i] = normals[bits & 0xFFFFu];
      if (i + 1 < 3 * cols) row[i + 1] = normals[bits >> 16];
    }
  }
  constexpr double kSigma = 0.45;
  cv::GaussianBlur(noise, noise, {3, 3}, kSigma);
  const double edge = std::exp(-0.5 / (kSigma * kSigma)), sum = 1 + 2 * edge;
  const double kept = (1 + 2 * edge * edge) / (sum * sum);  // of the variance, in both directions
  return noise / kept;
}

}  // namespace

cv::Mat develop(const DrawnScene& scene, const cv::Mat& light) {
  return develop(scene.camera, scene.seed, light);
}

cv::Mat develop(const DrawnCamera& camera, std::uint32_t seed, const cv::Mat& light) {
  cv::Mat picture;
  const int reach = static_cast<int>(std::ceil(4 * camera.blur_px));
  if (camera.blur_px > 0)
    cv::GaussianBlur(light, picture, {2 * reach + 1, 2 * reach + 1}, camera.blur_px, camera.blur_px,
                     cv::BORDER_REPLICATE);
  else
    picture = light.clone();

  const bool noisy = camera.shot_electrons > 0;
  const cv::Mat noise = noisy ? grain(picture.rows, picture.cols, seed) : cv::Mat();
  const auto tone = tone_table(camera.tone);
  const double cx = (picture.cols - 1) / 2.0, cy = (picture.rows - 1) / 2.0;
  const double corner2 = cx * cx + cy * cy;
  for (int y = 0; y < picture.rows; ++y) {
    auto* row = picture.ptr<float>(y);
    const auto* noise_row = noisy ? noise.ptr<float>(y) : nullptr;
    for (int x = 0; x < picture.cols; ++x) {
      const double r2 = ((x - cx) * (x - cx) + (y - cy) * (y - cy)) / corner2;
      const float kept = static_cast<float>(1 - camera.vignetting * r2);
      for (int k = 3 * x; k < 3 * x + 3; ++k) {
        float v = row[k] * kept;
        if (noisy)
          v += noise_row[k] *
               std::sqrt(std::max(0.0f, v) / static_cast<float>(camera.shot_electrons) +
                         static_cast<float>(camera.read_noise * camera.read_noise));
        const float place = std::clamp(v, 0.0f, 1.0f) * kTable;
        row[k] = tone[static_cast<std::size_t>(place + 0.5f)];
      }
    }
  }
  if (camera.sharpen > 0) {
    cv::Mat soft;
    cv::GaussianBlur(picture, soft, {}, 1.2);
    cv::addWeighted(picture, 1 + camera.sharpen, soft, -camera.sharpen, 0, picture);
  }
  cv::Mat rgb;
  picture.convertTo(rgb, CV_8UC3);
  if (camera.mirrored) cv::flip(rgb, rgb, 1);
  return rgb;
}

cv::Mat draw(const DrawnScene& scene) {
  return develop(scene, cast_light(scene));
}

}  // namespace scantling::drawn
