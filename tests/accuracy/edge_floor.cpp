#include "accuracy/edge_floor.h"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/core.hpp>
#include <ostream>
#include <random>

#include "edges/edge_fit.h"
#include "edges/lane_profiles.h"
#include "edges/line_candidates.h"
#include "edges/linear_light.h"

namespace scantling::accuracy {
namespace {

constexpr int kWidth_px = 480, kHeight_px = 480;
constexpr double kPxPerMm = 10, kHalfLength_mm = 15;
constexpr double kReach_px = 9;  ///< the fit's own window

/// Square on, 10 px/mm, no distortion: the middle of the picture sees (64, 45) mm.
CardPose pose() {
  CardPose::Vector p = CardPose::Vector::Zero();
  p << 0, 0, 0, -64, -45, 200, 2000, 0.5 * (kWidth_px - 1), 0.5 * (kHeight_px - 1), 0, 0, 0, 0;
  return CardPose(p);
}

PartFrame frame_of(const FloorScene& scene) {
  PartFrame frame;
  const double a = scene.angle_deg * std::numbers::pi / 180;
  frame.along_x = std::cos(a);
  frame.along_y = -std::sin(a);
  frame.across_x = -std::sin(a);
  frame.across_y = -std::cos(a);
  frame.origin = {64 + scene.phase_px / kPxPerMm * frame.across_x,
                  45 + scene.phase_px / kPxPerMm * frame.across_y};
  return frame;
}

/// Along and across from the edge's middle, in pixels.
struct Place {
  double along = 0, across = 0;
};

template <class Visit>
void each_pixel(const FloorScene& scene, Visit visit) {
  const PartFrame frame = frame_of(scene);
  for (int y = 0; y < kHeight_px; ++y)
    for (int x = 0; x < kWidth_px; ++x) {
      const Point_mm at = frame.coordinates({64 + (x - 0.5 * (kWidth_px - 1)) / kPxPerMm,
                                             45 + (y - 0.5 * (kHeight_px - 1)) / kPxPerMm});
      visit(x, y, Place{at.x * kPxPerMm, at.y * kPxPerMm});
    }
}

double code(double across_px, double blur_px, double dark, double bright) {
  return srgb_code(dark + (bright - dark) * 0.5 * std::erfc(-across_px / blur_px * M_SQRT1_2));
}

cv::Mat picture(const FloorScene& scene, unsigned seed) {
  std::mt19937 random(seed);
  std::normal_distribution<double> noise(0, scene.noise_codes);
  cv::Mat luma(kHeight_px, kWidth_px, CV_8UC1);
  each_pixel(scene, [&](int x, int y, Place at) {
    luma.at<uchar>(y, x) = cv::saturate_cast<uchar>(
        code(at.across, scene.blur_px, scene.dark, scene.bright) + noise(random));
  });
  return luma;
}

/// The place found in the middle of the edge, against the true one; NaN where none was.
double error_px(const FloorScene& scene, unsigned seed) {
  const PartFrame frame = frame_of(scene);
  LaneRequest request;
  request.along_first_mm = -kHalfLength_mm;
  request.along_last_mm = kHalfLength_mm;
  request.across_first_mm = -2;
  request.across_last_mm = 2;
  const LaneProfiles lanes = sample_lanes(picture(scene, seed), pose(), frame, request);
  const std::vector<LineCandidate> lines = find_line_candidates(lanes);
  const auto strongest = std::max_element(lines.begin(), lines.end(), [](auto& a, auto& b) {
    return std::abs(a.step) < std::abs(b.step);
  });
  if (strongest == lines.end()) return NAN;
  EdgeFitOptions options;
  options.blur_start_px = scene.blur_px;
  options.most_blur_px = 6;
  options.reach_px = std::max(kReach_px, 3.5 * scene.blur_px);
  const EdgeFit fit = fit_edge(lanes, *strongest, {}, options);
  return fit.valid ? fit.at(0) * kPxPerMm : NAN;
}

FloorScene floor_scene(double angle_deg, double phase_px, double blur_px, double noise_codes) {
  FloorScene scene;
  scene.angle_deg = angle_deg;
  scene.phase_px = phase_px;
  scene.blur_px = blur_px;
  scene.noise_codes = noise_codes;
  return scene;
}

}  // namespace

double edge_bound_px(const FloorScene& scene) {
  const double reach = std::max(kReach_px, 3.5 * scene.blur_px);
  const double variance = scene.noise_codes * scene.noise_codes + 1.0 / 12;
  using Vector = Eigen::Matrix<double, 5, 1>;
  Eigen::Matrix<double, 5, 5> fisher = Eigen::Matrix<double, 5, 5>::Zero();
  each_pixel(scene, [&](int, int, Place at) {
    if (std::abs(at.across) > reach || std::abs(at.along) > kHalfLength_mm * kPxPerMm) return;
    constexpr double kStep = 1e-4;
    const auto slope = [&](double across, double blur, double dark, double bright) {
      return (code(at.across + across, scene.blur_px + blur, scene.dark + dark,
                   scene.bright + bright) -
              code(at.across - across, scene.blur_px - blur, scene.dark - dark,
                   scene.bright - bright)) /
             (2 * kStep);
    };
    Vector d;
    d << -slope(kStep, 0, 0, 0), -at.along * slope(kStep, 0, 0, 0), slope(0, kStep, 0, 0),
        slope(0, 0, kStep, 0), slope(0, 0, 0, kStep);
    fisher += d * d.transpose() / variance;
  });
  return std::sqrt(fisher.inverse()(0, 0));
}

FloorResult run_floor(const FloorScene& scene, int trials, unsigned seed) {
  FloorResult result;
  result.scene = scene;
  result.trials = trials;
  result.bound_px = edge_bound_px(scene);
  double sum = 0, squares = 0;
  for (int i = 0; i < trials; ++i) {
    const double error = error_px(scene, seed + static_cast<unsigned>(i));
    if (!std::isfinite(error)) continue;
    ++result.found;
    sum += error;
    squares += error * error;
  }
  if (result.found < 2) return result;
  result.bias_px = sum / result.found;
  result.scatter_px =
      std::sqrt(std::max(0.0, squares - sum * sum / result.found) / (result.found - 1));
  return result;
}

void print_floor_report(std::ostream& out, int trials) {
  out << "bias over ten phases, blur 1 px, noise 1 code, px\n  angle   mean    worst phase\n";
  double worst = 0;
  for (int angle = 0; angle <= 90; angle += 10) {
    double sum = 0, most = 0;
    for (int i = 0; i < 10; ++i) {
      const FloorResult r = run_floor(floor_scene(angle, 0.1 * i, 1, 1), 4,
                                      static_cast<unsigned>(1000 * angle + 10 * i + 1));
      sum += r.bias_px / 10;
      most = std::max(most, std::abs(r.bias_px));
    }
    worst = std::max(worst, most);
    out << fmt::format("  {:>5}  {:+.4f}  {:.4f}\n", angle, sum, most);
  }
  out << fmt::format("  worst {:.4f} (target below 0.02)\n\n", worst);
  out << fmt::format(
      "scatter over {} pictures against the Cramer-Rao bound, edge of {:.0f} px\n"
      "   blur  noise  found  scatter    bound  ratio     bias\n",
      trials, 2 * kHalfLength_mm * kPxPerMm);
  double ratio = 0;
  unsigned seed = 1;
  for (const double blur : {0.7, 1.0, 1.5, 2.5, 4.0})
    for (const double noise : {1.0, 2.0, 4.0, 8.0}) {
      const FloorResult r = run_floor(floor_scene(7, 0.3, blur, noise), trials, seed);
      seed += static_cast<unsigned>(trials);
      ratio = std::max(ratio, r.over_bound());
      out << fmt::format("  {:5.1f}  {:5.0f}  {:4.0f}%  {:7.4f}  {:7.4f}  {:5.2f}  {:+7.4f}\n",
                         blur, noise, 100.0 * r.found / r.trials, r.scatter_px, r.bound_px,
                         r.over_bound(), r.bias_px);
    }
  out << fmt::format("  largest ratio {:.2f} (target within 1.3; its own scatter is {:.0f} %)\n",
                     ratio, 100 / std::sqrt(2.0 * trials));
}

}  // namespace scantling::accuracy
