#include "made_develop.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>
#include <random>
#include <stdexcept>
#include <vector>

#include "made_povray.h"

namespace scantling::made {

namespace {

/// Weights of the cubic convolution kernel (Keys 1981, a = -1/2) for a fraction 0..1.
std::array<float, 4> cubic_weights(double t) {
  const double t2 = t * t, t3 = t2 * t;
  return {static_cast<float>(-0.5 * t3 + t2 - 0.5 * t), static_cast<float>(1.5 * t3 - 2.5 * t2 + 1),
          static_cast<float>(-1.5 * t3 + 2 * t2 + 0.5 * t),
          static_cast<float>(0.5 * t3 - 0.5 * t2)};
}

/// cv::remap rounds positions to 1/32 px; the truth here must hold to a thousandth.
cv::Vec3f sample(const cv::Mat& image, const Vec2& at) {
  const int x0 = static_cast<int>(std::floor(at.x())), y0 = static_cast<int>(std::floor(at.y()));
  const auto wx = cubic_weights(at.x() - x0), wy = cubic_weights(at.y() - y0);
  cv::Vec3f sum(0, 0, 0);
  for (int j = 0; j < 4; ++j) {
    const auto* row = image.ptr<cv::Vec3f>(std::clamp(y0 + j - 1, 0, image.rows - 1));
    cv::Vec3f line(0, 0, 0);
    for (int i = 0; i < 4; ++i) {
      line += wx[static_cast<size_t>(i)] * row[std::clamp(x0 + i - 1, 0, image.cols - 1)];
    }
    sum += wy[static_cast<size_t>(j)] * line;
  }
  return sum;
}

void hand_movement(cv::Mat& light, double length_px, double angle_deg) {
  const int half = static_cast<int>(std::ceil(length_px / 2)) + 1;
  cv::Mat kernel = cv::Mat::zeros(2 * half + 1, 2 * half + 1, CV_32F);
  const double a = angle_deg * std::numbers::pi / 180;
  constexpr int kSteps = 400;
  for (int i = 0; i <= kSteps; ++i) {
    const double d = length_px * (static_cast<double>(i) / kSteps - 0.5);
    const double x = half + d * std::cos(a), y = half + d * std::sin(a);
    const int x0 = static_cast<int>(x), y0 = static_cast<int>(y);
    const auto fx = static_cast<float>(x - x0), fy = static_cast<float>(y - y0);
    kernel.at<float>(y0, x0) += (1 - fx) * (1 - fy);
    kernel.at<float>(y0, x0 + 1) += fx * (1 - fy);
    kernel.at<float>(y0 + 1, x0) += (1 - fx) * fy;
    kernel.at<float>(y0 + 1, x0 + 1) += fx * fy;
  }
  kernel /= cv::sum(kernel)[0];
  cv::filter2D(light, light, -1, kernel, {-1, -1}, 0, cv::BORDER_REPLICATE);
}

/// The phone's own exposure: the brightest twentieth of the picture lands at 0.62 of white.
float exposure_gain(const cv::Mat& light) {
  std::vector<float> level;
  for (int y = 0; y < light.rows; y += 7) {
    for (int x = 0; x < light.cols; x += 7) level.push_back(light.at<cv::Vec3f>(y, x)[1]);
  }
  const auto at = level.begin() + static_cast<std::ptrdiff_t>(level.size() * 95 / 100);
  std::nth_element(level.begin(), at, level.end());
  return 0.62f / std::max(*at, 0.02f);
}

cv::Mat noise_field(cv::Size size, double grain_px, std::mt19937& random) {
  cv::RNG generator(random());
  cv::Mat noise(size, CV_32FC3);
  generator.fill(noise, cv::RNG::NORMAL, 0, 1);
  if (grain_px > 0) {
    cv::GaussianBlur(noise, noise, {}, grain_px);
    cv::Scalar mean, deviation;
    cv::meanStdDev(noise, mean, deviation);
    // Smoothed as phones do: half of what smoothing took away stays away.
    noise *= 1 / std::sqrt(deviation[0]);
  }
  return noise;
}

/// IEC 61966-2-1.
float encode_srgb(float linear) {
  const float l = std::clamp(linear, 0.0f, 1.0f);
  return l <= 0.0031308f ? 12.92f * l : 1.055f * std::pow(l, 1 / 2.4f) - 0.055f;
}

}  // namespace

cv::Mat widened(const RenderFrame& frame, const cv::Mat& coarse) {
  cv::Mat whole;
  cv::resize(coarse, whole, {frame.width_px, frame.height_px}, 0, 0, cv::INTER_LINEAR);
  return whole;
}

cv::Mat assemble(const RenderFrame& frame, const cv::Mat& coarse, const cv::Mat& fine) {
  cv::Mat whole = widened(frame, coarse);
  const cv::Rect part(frame.left_px, frame.top_px, frame.right_px - frame.left_px + 1,
                      frame.bottom_px - frame.top_px + 1);
  if (fine.size() != whole.size()) throw std::runtime_error("the rendered pictures differ in size");
  fine(part).copyTo(whole(part));
  return whole;
}

cv::Mat develop(const Scene& scene, const cv::Mat& rendered, const cv::Mat& depth_picture) {
  cv::Mat depth = depth_picture;
  if (depth.channels() > 1) cv::extractChannel(depth_picture, depth, 0);
  const auto& settings = scene.photo;
  const Camera camera(scene);
  const RenderFrame frame = render_frame(scene, camera);
  const double focus_mm = settings.focus_mm > 0
                              ? settings.focus_mm
                              : camera.depth_mm({scene.camera.from_mm[0], scene.camera.from_mm[1],
                                                 scene.camera.from_mm[2]});
  cv::Mat light = out_of_focus(rendered, depth * kDepthRange_mm,
                               settings.aperture_px_mm * scene.render_factor, focus_mm);
  const double sigma = settings.blur_px * scene.render_factor;
  if (sigma > 0) cv::GaussianBlur(light, light, {}, sigma, sigma, cv::BORDER_REPLICATE);
  if (settings.motion_px > 0) {
    hand_movement(light, settings.motion_px * scene.render_factor, settings.motion_deg);
  }

  const float gain = exposure_gain(light) * static_cast<float>(settings.exposure);
  const double corner2 = 0.25 * (std::pow(settings.width_px, 2) + std::pow(settings.height_px, 2));
  std::mt19937 random(settings.seed);
  const cv::Mat noise =
      noise_field({settings.width_px, settings.height_px}, settings.noise_grain_px, random);
  cv::Mat photo(settings.height_px, settings.width_px, CV_32FC3);
  for (int y = 0; y < photo.rows; ++y) {
    auto* out = photo.ptr<cv::Vec3f>(y);
    const auto* n = noise.ptr<cv::Vec3f>(y);
    for (int x = 0; x < photo.cols; ++x) {
      cv::Vec3f value = sample(light, frame.from_undistorted(camera.undistorted(Vec2(x, y))));
      const double r2 =
          (std::pow(x - camera.centre_px().x(), 2) + std::pow(y - camera.centre_px().y(), 2)) /
          corner2;
      const auto fall = static_cast<float>(1 - settings.vignetting * r2);
      for (int c = 0; c < 3; ++c) {
        const float level = std::max(0.0f, value[c] * gain * fall);
        const double spread =
            std::sqrt(level / settings.full_well + settings.read_noise * settings.read_noise);
        const float noisy = level + static_cast<float>(spread) * n[x][c];
        out[x][c] = encode_srgb(noisy * static_cast<float>(settings.white[static_cast<size_t>(c)]));
      }
    }
  }
  if (settings.sharpen > 0) {
    cv::Mat soft;
    cv::GaussianBlur(photo, soft, {}, 1.2);
    photo += settings.sharpen * (photo - soft);
  }
  cv::Mat bytes;
  photo.convertTo(bytes, CV_8UC3, 255.0);
  return bytes;
}

}  // namespace scantling::made
