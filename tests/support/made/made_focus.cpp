#include <array>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "made_develop.h"

namespace scantling::made {

namespace {

// Gaussian sigmas between which each pixel's own blur is interpolated, rendered px.
constexpr std::array<double, 6> kSigmas_px = {0, 0.8, 1.6, 3.2, 6.4, 12.8};

/// Signed blur of each pixel: positive behind the focus, negative before it.
cv::Mat signed_sigma(const cv::Mat& depth_mm, double aperture_px_mm, double focus_mm) {
  cv::Mat sigma(depth_mm.size(), CV_32F);
  for (int y = 0; y < depth_mm.rows; ++y) {
    const float* z = depth_mm.ptr<float>(y);
    float* s = sigma.ptr<float>(y);
    for (int x = 0; x < depth_mm.cols; ++x) {
      // A disc of diameter d spreads like a Gaussian of sigma d / 4.
      s[x] = static_cast<float>(aperture_px_mm / 4 * (1 / focus_mm - 1 / std::max(1.0f, z[x])));
    }
  }
  return sigma;
}

/// Share of level k in a blur of `sigma`: a tent over the neighbouring levels.
float level_share(double sigma, size_t k) {
  const double s = std::min(std::abs(sigma), kSigmas_px.back());
  if (k > 0 && s <= kSigmas_px[k]) {
    return static_cast<float>(
        std::max(0.0, (s - kSigmas_px[k - 1]) / (kSigmas_px[k] - kSigmas_px[k - 1])));
  }
  if (k + 1 == kSigmas_px.size()) return s >= kSigmas_px[k] ? 1.0f : 0.0f;
  return static_cast<float>(
      std::max(0.0, 1 - (s - kSigmas_px[k]) / (kSigmas_px[k + 1] - kSigmas_px[k])));
}

}  // namespace

cv::Mat out_of_focus(const cv::Mat& light, const cv::Mat& depth_mm, double aperture_px_mm,
                     double focus_mm) {
  const cv::Mat sigma = signed_sigma(depth_mm, aperture_px_mm, focus_mm);
  cv::Mat result = cv::Mat::zeros(light.size(), CV_32FC3);
  for (const double side : {1.0, -1.0}) {
    for (size_t k = 0; k < kSigmas_px.size(); ++k) {
      if (k == 0 && side < 0) continue;
      // All that has a share in this level, and a little more; nothing much sharper.
      const double usable_from = k < 2 ? -0.2 : 0.75 * kSigmas_px[k - 1];
      cv::Mat share(light.size(), CV_32F), usable(light.size(), CV_32F);
      for (int y = 0; y < light.rows; ++y) {
        const float* s = sigma.ptr<float>(y);
        float* a = share.ptr<float>(y);
        float* m = usable.ptr<float>(y);
        for (int x = 0; x < light.cols; ++x) {
          a[x] = k > 0 && s[x] * side < 0 ? 0 : level_share(s[x], k);
          m[x] = s[x] * side >= usable_from ? 1 : 0;
        }
      }
      if (cv::countNonZero(share) == 0) continue;
      cv::Mat blurred;  // its own memory: light is read again for the next level
      if (k == 0) {
        blurred = light;
      } else {
        cv::Mat masked, usable3, weight;
        cv::merge(std::array<cv::Mat, 3>{usable, usable, usable}, usable3);
        cv::multiply(light, usable3, masked);
        cv::GaussianBlur(masked, blurred, {}, kSigmas_px[k], kSigmas_px[k], cv::BORDER_REPLICATE);
        cv::GaussianBlur(usable, weight, {}, kSigmas_px[k], kSigmas_px[k], cv::BORDER_REPLICATE);
        weight = cv::max(weight, 1e-4);
        cv::merge(std::array<cv::Mat, 3>{weight, weight, weight}, usable3);
        cv::divide(blurred, usable3, blurred);
      }
      for (int y = 0; y < light.rows; ++y) {
        const float* a = share.ptr<float>(y);
        const auto* b = blurred.ptr<cv::Vec3f>(y);
        auto* r = result.ptr<cv::Vec3f>(y);
        for (int x = 0; x < light.cols; ++x) {
          if (a[x] > 0) r[x] += a[x] * b[x];
        }
      }
    }
  }
  return result;
}

}  // namespace scantling::made
