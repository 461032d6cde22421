#pragma once

#include <cmath>

namespace scantling {

/// A place on the full-resolution, upright photo; pixel centres lie at whole numbers.
struct Point_px {
  double x = 0;
  double y = 0;
};

/// A place in a card's plane, in the card's frame: x right, y down, as seen on its printed face.
struct Point_mm {
  double x = 0;
  double y = 0;
};

/// A place in a card's frame; z points into the card, away from the viewer of its printed face.
struct Point3_mm {
  double x = 0;
  double y = 0;
  double z = 0;
};

inline double distance_px(Point_px a, Point_px b) {
  return std::hypot(a.x - b.x, a.y - b.y);
}

}  // namespace scantling
