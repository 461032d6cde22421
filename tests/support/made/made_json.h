#pragma once

#include <Eigen/Core>
#include <cmath>
#include <nlohmann/json.hpp>

namespace scantling::made {

inline double rounded(double value, double step) {
  const double parts = std::round(1 / step);
  return std::round(value * parts) / parts;
}

/// A place on the photo, to a ten-thousandth of a pixel.
inline nlohmann::ordered_json point(const Eigen::Vector2d& px) {
  return {rounded(px.x(), 1e-4), rounded(px.y(), 1e-4)};
}

}  // namespace scantling::made
