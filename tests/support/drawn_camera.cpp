#include "support/drawn_camera.h"

#include <algorithm>
#include <stdexcept>

namespace scantling::drawn {

Camera::Camera(const DrawnCamera& settings)
    : settings_(settings),
      cx_((settings.width_px - 1) / 2.0 + settings.centre_dx_px),
      cy_((settings.height_px - 1) / 2.0 + settings.centre_dy_px) {
  const double e = radians(settings.elevation_deg), a = radians(settings.azimuth_deg);
  const Vec3 target{settings.target.x, settings.target.y, 0};
  const Vec3 towards_us{std::sin(a) * std::cos(e), -std::sin(e), -std::cos(a) * std::cos(e)};
  frame_.origin = target + settings.distance_mm * towards_us;
  frame_.c = -1 * towards_us;
  const Vec3 right = unit(cross({0, 1, 0}, frame_.c));
  const Vec3 down = cross(frame_.c, right);
  const double roll = radians(settings.roll_deg);
  frame_.a = std::cos(roll) * right + std::sin(roll) * down;
  frame_.b = cross(frame_.c, frame_.a);

  const double reach = std::hypot(settings.width_px, settings.height_px) * 0.6 / settings.focal_px;
  r_step_ = reach / (static_cast<double>(undistort_.size()) - 2);
  for (std::size_t i = 0; i < undistort_.size(); ++i) {
    const double rd = r_step_ * static_cast<double>(i);
    double ru = rd;
    double step = 1;
    for (int k = 0; k < 40 && std::abs(step) > 1e-14; ++k) {
      const double r2 = ru * ru;
      const double value = ru * (1 + settings.k1 * r2 + settings.k2 * r2 * r2) - rd;
      step = value / (1 + 3 * settings.k1 * r2 + 5 * settings.k2 * r2 * r2);
      ru -= step;
      if (!std::isfinite(ru)) throw std::runtime_error("the distortion folds the picture");
    }
    undistort_[i] = i == 0 ? 1 : ru / rd;
  }
}

Point_px Camera::project(Vec3 world) const {
  const Vec3 p = frame_.in(world);
  const double x = p.x / p.z, y = p.y / p.z, r2 = x * x + y * y;
  const double bend = 1 + settings_.k1 * r2 + settings_.k2 * r2 * r2;
  return {settings_.focal_px * x * bend + cx_, settings_.focal_px * y * bend + cy_};
}

Ray Camera::ray(double x_px, double y_px) const {
  const double x = (x_px - cx_) / settings_.focal_px, y = (y_px - cy_) / settings_.focal_px;
  const double place = std::sqrt(x * x + y * y) / r_step_;
  const auto i = std::min(static_cast<std::size_t>(place), undistort_.size() - 2);
  const double t = place - static_cast<double>(i);
  const double s = undistort_[i] + t * (undistort_[i + 1] - undistort_[i]);
  return {frame_.origin, unit(frame_.direction_out({x * s, y * s, 1}))};
}

}  // namespace scantling::drawn
