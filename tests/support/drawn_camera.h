#pragma once

#include <array>

#include "support/drawn_math.h"
#include "support/drawn_scene.h"

namespace scantling::drawn {

struct Ray {
  Vec3 origin;
  Vec3 direction;  ///< of unit length
};

/// A pinhole with Brown's radial distortion. Rays through given pixels are exact to 1e-6 px.
class Camera {
 public:
  explicit Camera(const DrawnCamera& settings);

  /// Where a place of the card's frame is seen on the upright photo.
  Point_px project(Vec3 world) const;
  /// The ray through a place of the photo; whole numbers are pixel centres.
  Ray ray(double x_px, double y_px) const;
  Vec3 position() const { return frame_.origin; }

 private:
  DrawnCamera settings_;
  Frame frame_;  ///< a right, b down, c forward
  double cx_, cy_;
  double r_step_ = 0;
  std::array<double, 4097> undistort_{};  ///< undistorted over distorted radius
};

}  // namespace scantling::drawn
