#include "edges/surface_rows.h"

#include <algorithm>
#include <cmath>

#include "edges/linear_light.h"

namespace scantling {
namespace {

double median(std::vector<double> v) {
  if (v.empty()) return 0;
  const auto middle = v.begin() + static_cast<long>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

double median_in_place(std::vector<float>& v) {
  if (v.empty()) return 0;
  const auto middle = v.begin() + static_cast<long>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

double median_between(const std::vector<double>& rows, double first, double last) {
  const auto size = static_cast<double>(rows.size());
  const double a = std::clamp(std::ceil(first), 0.0, size - 1);
  const double b = std::clamp(std::floor(last), a, size - 1);
  return median({rows.begin() + static_cast<long>(a), rows.begin() + static_cast<long>(b) + 1});
}

}  // namespace

double SurfaceRows::level_between(double first, double last) const {
  return median_between(level, first, last);
}

double SurfaceRows::roughness_between(double first, double last) const {
  return median_between(roughness, first, last);
}

SurfaceRows read_surface_rows(const LaneProfiles& lanes) {
  SurfaceRows rows;
  std::vector<float> level, change;
  const QuickSrgbCode code_of;
  for (int j = 0; j < lanes.light.cols; ++j) {
    level.clear();
    change.clear();
    float before = NAN;
    for (int k = 0; k < lanes.light.rows; ++k) {
      const float light = lanes.light(k, j);
      const float code = std::isfinite(light) ? code_of(light) : NAN;
      if (std::isfinite(code)) level.push_back(code);
      if (std::isfinite(code) && std::isfinite(before)) change.push_back(std::abs(code - before));
      before = code;
    }
    rows.level.push_back(median_in_place(level));
    rows.roughness.push_back(median_in_place(change));
  }
  return rows;
}

}  // namespace scantling
