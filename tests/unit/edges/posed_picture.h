#pragma once

#include <cmath>
#include <functional>
#include <opencv2/core.hpp>
#include <random>

#include "edges/linear_light.h"
#include "edges/part_frame.h"

namespace scantling {

inline constexpr int kWidth = 640, kHeight = 480;

/// About 10 px/mm, 6 degrees off square, a slightly barrel-shaped lens; the middle of the picture
/// sees about (64, 45) mm.
inline CardPose oblique_pose() {
  CardPose::Vector p = CardPose::Vector::Zero();
  p << 0.08, -0.06, 0.02, -62, -43, 200, 2000, 319.5, 239.5, -0.1, 0, 0, 0;
  return CardPose(p);
}

inline CardPose frontal_pose() {
  CardPose::Vector p = CardPose::Vector::Zero();
  p << 0, 0, 0, -64.03, -45.02, 200, 2000, 319.5, 239.5, 0, 0, 0, 0;
  return CardPose(p);
}

/// A frame whose edge runs at `angle_deg` through the middle of the picture.
inline PartFrame frame_at(double angle_deg) {
  PartFrame frame;
  const double a = angle_deg * M_PI / 180;
  frame.origin = {63.27, 44.61};
  frame.along_x = std::cos(a);
  frame.along_y = -std::sin(a);
  frame.across_x = -std::sin(a);
  frame.across_y = -std::cos(a);
  return frame;
}

/// Linear light against (along, across) on the frame's plane, as 8-bit sRGB with a little noise.
inline cv::Mat picture(const CardPose& pose, const PartFrame& frame, unsigned seed,
                       const std::function<double(double, double)>& light,
                       double noise_codes = 0.7) {
  std::mt19937 random(seed);
  std::normal_distribution<double> noise(0, noise_codes);
  cv::Mat luma(kHeight, kWidth, CV_8UC1);
  for (int y = 0; y < kHeight; ++y)
    for (int x = 0; x < kWidth; ++x) {
      const Point_mm p = frame.coordinates(pose.on_plane({double(x), double(y)}, frame.depth_mm));
      luma.at<uchar>(y, x) = cv::saturate_cast<uchar>(srgb_code(light(p.x, p.y)) + noise(random));
    }
  return luma;
}

}  // namespace scantling
