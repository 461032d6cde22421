#include "support/made_sheet_photo.h"

#include <cmath>
#include <opencv2/core.hpp>
#include <random>

#include "card/card_pattern.h"
#include "edges/linear_light.h"

namespace scantling::test {
namespace {

bool on_card(const MadeCard& card, double x, double y, double& u, double& v) {
  const double a = card.turn_deg * CV_PI / 180;
  u = (x - card.centre_x) * std::cos(a) + (y - card.centre_y) * std::sin(a);
  v = -(x - card.centre_x) * std::sin(a) + (y - card.centre_y) * std::cos(a);
  const double du = std::abs(u) - (card.width_mm / 2 - card.corner_mm);
  const double dv = std::abs(v) - (card.height_mm / 2 - card.corner_mm);
  if (du > card.corner_mm || dv > card.corner_mm) return false;
  return du < 0 || dv < 0 || std::hypot(du, dv) <= card.corner_mm;
}

/// How much of the light reaches a place on the sheet past the card's edge.
double light_left(const MadeSheetPhoto& made, double x, double y) {
  if (!made.card || !made.shadow) return 1;
  const double reach = std::hypot(made.card->width_mm / 2 + std::abs(made.shadow->x_mm),
                                  made.card->height_mm / 2 + std::abs(made.shadow->y_mm));
  if (std::hypot(x - made.card->centre_x, y - made.card->centre_y) > reach) return 1;
  constexpr int kParts = 8;
  int hidden = 0;
  for (int i = 0; i < kParts; ++i) {
    const double part = (i + 0.5) / kParts;
    double u = 0, v = 0;
    hidden += on_card(*made.card, x - part * made.shadow->x_mm, y - part * made.shadow->y_mm, u, v);
  }
  return 1 - made.shadow->dark * hidden / kParts;
}

/// Linear light along a ray from the camera through (u, v).
double traced(const MadeSheetPhoto& made, const CardPattern& pattern, double u, double v) {
  // Camera looking along +z onto the sheet, turned a little about x and y.
  const double cx = std::cos(made.tilt_x), sx = std::sin(made.tilt_x);
  const double cy = std::cos(made.tilt_y), sy = std::sin(made.tilt_y);
  const double y1 = cx * v - sx, z1 = sx * v + cx;
  const double dx = cy * u + sy * z1, dz = -sy * u + cy * z1, dy = y1;
  if (made.card) {
    const double t = (-made.card->thick_mm - made.camera_z) / dz;
    double cu = 0, cv = 0;
    if (on_card(*made.card, made.camera_x + t * dx, made.camera_y + t * dy, cu, cv))
      return made.card->printed && cv > 8 && cv < 20 ? 0.04 : made.card->light;
  }
  const double t = -made.camera_z / dz;
  const double x = made.camera_x + t * dx, y = made.camera_y + t * dy;
  const double light = light_left(made, x, y);
  switch (pattern.at({x / made.scale_x, y / made.scale_y})) {
    case PrintedTone::black:
      return 0.03 * light;
    case PrintedTone::white:
      return 0.8 * light;
    case PrintedTone::none:
      break;
  }
  return 0.3 * light;
}

}  // namespace

cv::Mat made_sheet_photo(const MadeSheetPhoto& made) {
  const CardPattern pattern(ground_sheet());
  cv::Mat picture(made.height, made.width, CV_8UC1);
  constexpr int kSub = 3;
  cv::Mat1f light(made.height, made.width);
  cv::parallel_for_({0, made.height}, [&](const cv::Range& rows) {
    for (int y = rows.start; y < rows.end; ++y) {
      for (int x = 0; x < made.width; ++x) {
        double sum = 0;
        for (int j = 0; j < kSub; ++j) {
          for (int i = 0; i < kSub; ++i) {
            // Each pixel gathers over 1.6 pixels: the lens's blur.
            const double px = x + 1.6 * ((i + 0.5) / kSub - 0.5);
            const double py = y + 1.6 * ((j + 0.5) / kSub - 0.5);
            double u = (px - (made.width - 1) / 2.0) / made.focal_px;
            double v = (py - (made.height - 1) / 2.0) / made.focal_px;
            const double r2 = u * u + v * v;
            const double undo = 1 - made.k1 * r2 + 3 * made.k1 * made.k1 * r2 * r2;
            sum += traced(made, pattern, u * undo, v * undo);
          }
        }
        light(y, x) = static_cast<float>(sum / (kSub * kSub));
      }
    }
  });
  std::mt19937 random(11);
  std::normal_distribution<double> noise(0, made.noise);
  for (int y = 0; y < made.height; ++y)
    for (int x = 0; x < made.width; ++x)
      picture.at<uchar>(y, x) =
          cv::saturate_cast<uchar>(srgb_code(static_cast<double>(light(y, x))) + noise(random));
  return picture;
}

}  // namespace scantling::test
