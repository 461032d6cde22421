#include "made_camera.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "made_placement.h"

namespace scantling::made {

namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kFullFrameDiagonal_mm = 43.2666;

Vec3 vector_of(const std::array<double, 3>& a) {
  return {a[0], a[1], a[2]};
}

}  // namespace

Camera::Camera(const Scene& scene) {
  const auto& photo = scene.photo;
  const auto& place = scene.camera;
  const double diagonal_px = std::hypot(photo.width_px, photo.height_px);
  focal_px_ = photo.f35_mm / kFullFrameDiagonal_mm * diagonal_px * photo.focal_factor;
  centre_px_ = {0.5 * (photo.width_px - 1) + photo.cx_offset_px,
                0.5 * (photo.height_px - 1) + photo.cy_offset_px};
  k1_ = photo.k1;
  k2_ = photo.k2;

  const double elevation = place.elevation_deg * kDegree;
  const double azimuth = place.azimuth_deg * kDegree;
  const Vec3 away(std::sin(azimuth) * std::cos(elevation), -std::sin(elevation),
                  -std::cos(azimuth) * std::cos(elevation));
  position_mm_ = vector_of(place.from_mm) + place.distance_mm * away;
  const Vec3 forward = (vector_of(place.look_mm) - position_mm_).normalized();
  const Vec3 right = Vec3(0, 1, 0).cross(forward).normalized();
  Eigen::Matrix3d upright;
  upright.row(0) = right;
  upright.row(1) = forward.cross(right);
  upright.row(2) = forward;
  rotation_ =
      Eigen::AngleAxisd(place.roll_deg * kDegree, Vec3::UnitZ()).toRotationMatrix() * upright;
}

Vec2 Camera::project(const Vec3& world_mm) const {
  const Vec3 p = rotation_ * (world_mm - position_mm_);
  const Vec2 u(p.x() / p.z(), p.y() / p.z());
  const double r2 = u.squaredNorm();
  return centre_px_ + focal_px_ * (1 + k1_ * r2 + k2_ * r2 * r2) * u;
}

Vec2 Camera::undistorted(const Vec2& photo_px) const {
  const Vec2 distorted = (photo_px - centre_px_) / focal_px_;
  const double rd = distorted.norm();
  if (rd < 1e-12) return distorted;
  double r = rd;
  for (int i = 0; i < 20; ++i) {  // Newton on r (1 + k1 r^2 + k2 r^4) = rd
    const double r2 = r * r;
    const double step =
        (r * (1 + k1_ * r2 + k2_ * r2 * r2) - rd) / (1 + 3 * k1_ * r2 + 5 * k2_ * r2 * r2);
    r -= step;
    if (std::abs(step) < 1e-13) break;
  }
  return distorted * (r / rd);
}

double Camera::depth_mm(const Vec3& world_mm) const {
  return (rotation_ * (world_mm - position_mm_)).z();
}

namespace {

void set_fine_part(RenderFrame& frame, const Scene& scene, const Camera& camera) {
  constexpr double kAround_mm = 8;
  double left = 1e9, right = -1e9, top = 1e9, bottom = -1e9;
  const auto hold = [&](const Vec3& world) {
    const Vec3 p = camera.camera_from_world() * (world - camera.position_mm());
    const Vec2 at = frame.from_undistorted({p.x() / p.z(), p.y() / p.z()});
    left = std::min(left, at.x()), right = std::max(right, at.x());
    top = std::min(top, at.y()), bottom = std::max(bottom, at.y());
  };
  for (const Vec3& point : points_of_interest(scene)) hold(point);
  const double sx = scene.card.scale_x, sy = scene.card.scale_y;
  for (const double x : {-6 * sx - kAround_mm, 134 * sx + kAround_mm}) {
    for (const double y : {-6 * sy - kAround_mm, 78 * sy + kAround_mm}) {
      for (const double z : {-3.0, 10.0}) {
        if (scene.view == "pad") hold({x, y, z});
      }
    }
  }
  const auto inside = [](double at, int size) {
    return static_cast<int>(std::clamp(at, 0.0, static_cast<double>(size - 1)));
  };
  frame.left_px = inside(left, frame.width_px);
  frame.right_px = inside(right, frame.width_px);
  frame.top_px = inside(top, frame.height_px);
  frame.bottom_px = inside(bottom, frame.height_px);
}

}  // namespace

RenderFrame render_frame(const Scene& scene, const Camera& camera) {
  double reach_x = 0, reach_y = 0;
  const int w = scene.photo.width_px, h = scene.photo.height_px;
  const auto extend = [&](double x, double y) {
    const Vec2 u = camera.undistorted({x, y});
    reach_x = std::max(reach_x, std::abs(u.x()));
    reach_y = std::max(reach_y, std::abs(u.y()));
  };
  for (int i = 0; i <= 64; ++i) {
    extend(w * i / 64.0, -0.5), extend(w * i / 64.0, h - 0.5);
    extend(-0.5, h * i / 64.0), extend(w - 0.5, h * i / 64.0);
  }
  RenderFrame frame;
  frame.focal_px = camera.focal_px() * scene.render_factor;
  constexpr int kMargin_px = 8;
  // Even, and a whole number of coarse pixels.
  constexpr int kStep = 2 * RenderFrame::kCoarse;
  const auto size_for = [&](double reach) {
    const double wanted = 2 * (reach * frame.focal_px + kMargin_px);
    return kStep * static_cast<int>(std::ceil(wanted / kStep));
  };
  frame.width_px = size_for(reach_x);
  frame.height_px = size_for(reach_y);
  set_fine_part(frame, scene, camera);
  return frame;
}

}  // namespace scantling::made
