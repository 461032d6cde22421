#pragma once

#include <opencv2/core/mat.hpp>

#include "support/drawn_camera.h"

namespace scantling::drawn {

struct Colour {
  double red = 0, green = 0, blue = 0;
  Colour& operator+=(Colour o) {
    red += o.red, green += o.green, blue += o.blue;
    return *this;
  }
};
inline Colour operator*(double s, Colour c) {
  return {s * c.red, s * c.green, s * c.blue};
}
inline Colour operator*(Colour a, Colour b) {
  return {a.red * b.red, a.green * b.green, a.blue * b.blue};
}

struct Seen {
  Colour light;
  int thing = 0;              ///< which surface, so that borders between surfaces are noticed
  bool surroundings = false;  ///< table, wall or nothing
};

/// All that a camera can look at.
class Surroundings {
 public:
  virtual ~Surroundings() = default;
  /// What a ray sees; `lamp` in the unit disc says from where on the lamp the light comes.
  virtual Seen look(const Ray& ray, Point_mm lamp) const = 0;
};

/// The light that reaches the sensor: CV_32FC3 (red, green, blue), linear, 1 = white, upright, not
/// yet blurred.
cv::Mat cast_light(const Camera& camera, const DrawnCamera& settings, const Surroundings& world,
                   std::uint32_t seed);

}  // namespace scantling::drawn
