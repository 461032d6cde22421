#pragma once

#include <cmath>
#include <string>

#include "geometry/points.h"

namespace scantling {

/// A pinhole with square pixels and two terms of radial distortion (Brown 1966):
/// x_d = x_u (1 + k1 r^2 + k2 r^4) in normalised coordinates, then px = focal_px * x_d + centre.
struct CameraModel {
  double focal_px = 0;
  double centre_x_px = 0;
  double centre_y_px = 0;
  double k1 = 0;
  double k2 = 0;

  /// Normalised, distortion-free direction to the photo.
  template <typename T>
  void project_direction(T u, T v, T& x_px, T& y_px) const {
    const T r2 = u * u + v * v;
    const T factor = T(1) + k1 * r2 + k2 * r2 * r2;
    x_px = focal_px * factor * u + centre_x_px;
    y_px = focal_px * factor * v + centre_y_px;
  }

  /// The inverse: where on the plane at unit distance a photo point lies. Newton's method on the
  /// radius; exact to 1e-12 wherever the distortion is monotonic.
  void direction(Point_px p, double& u, double& v) const {
    const double ud = (p.x - centre_x_px) / focal_px;
    const double vd = (p.y - centre_y_px) / focal_px;
    const double rd = std::hypot(ud, vd);
    if (rd == 0 || (k1 == 0 && k2 == 0)) {
      u = ud;
      v = vd;
      return;
    }
    double r = rd;
    for (int i = 0; i < 12; ++i) {
      const double r2 = r * r;
      const double error = r * (1 + k1 * r2 + k2 * r2 * r2) - rd;
      const double slope = 1 + 3 * k1 * r2 + 5 * k2 * r2 * r2;
      if (!(slope > 0.05)) break;
      r -= error / slope;
      if (std::abs(error) < 1e-13) break;
    }
    u = ud * r / rd;
    v = vd * r / rd;
  }
};

/// What is believed of the camera before the card has its say: standard uncertainties.
struct CameraPrior {
  CameraModel model;
  double focal_relative_u = 0.04;
  double centre_u_px = 0;
  double k1_u = 0.04;
  double k2_u = 0.02;
  double k1_k2_correlation =
      0;               ///< both bend the picture's edge: a calibration leaves them near -1
  std::string source;  ///< plain words: where the focal length is from
};

}  // namespace scantling
