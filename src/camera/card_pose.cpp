#include "camera/card_pose.h"

#include <ceres/rotation.h>

#include <Eigen/Geometry>
#include <cmath>

namespace scantling {

CardPose::CardPose(const Vector& parameters) : parameters_(parameters) {
  double r[9];
  ceres::AngleAxisToRotationMatrix(parameters.data(), r);  // column-major
  rotation_ = Eigen::Map<const Eigen::Matrix3d>(r);
  translation_ = parameters.segment<3>(3);
  camera_ = {parameters[6], parameters[7], parameters[8], parameters[9], parameters[10]};
}

Point_px CardPose::project(Point3_mm place) const {
  const Eigen::Vector3d c = rotation_ * Eigen::Vector3d(place.x, place.y, place.z) + translation_;
  Point_px p;
  camera_.project_direction(c.x() / c.z(), c.y() / c.z(), p.x, p.y);
  return p;
}

Point_mm CardPose::on_plane(Point_px photo, double z_mm) const {
  double u = 0, v = 0;
  camera_.direction(photo, u, v);
  const Eigen::Vector3d ray = rotation_.transpose() * Eigen::Vector3d(u, v, 1);
  const Eigen::Vector3d centre = -rotation_.transpose() * translation_;
  const double k = (z_mm - centre.z()) / ray.z();
  return {centre.x() + k * ray.x(), centre.y() + k * ray.y()};
}

double CardPose::ahead_mm(Point3_mm place) const {
  return rotation_.row(2) * Eigen::Vector3d(place.x, place.y, place.z) + translation_.z();
}

Point3_mm CardPose::camera_centre() const {
  const Eigen::Vector3d c = -rotation_.transpose() * translation_;
  return {c.x(), c.y(), c.z()};
}

double CardPose::tilt_deg() const {
  return std::acos(std::min(1.0, std::abs(rotation_(2, 2)))) * 180 / M_PI;
}

double CardPose::distance_mm(Point_mm place) const {
  const Point3_mm c = camera_centre();
  return std::hypot(c.x - place.x, c.y - place.y, c.z);
}

double CardPose::px_per_mm_x(Point3_mm p) const {
  return distance_px(project({p.x - 0.5, p.y, p.z}), project({p.x + 0.5, p.y, p.z}));
}

double CardPose::px_per_mm_y(Point3_mm p) const {
  return distance_px(project({p.x, p.y - 0.5, p.z}), project({p.x, p.y + 0.5, p.z}));
}

}  // namespace scantling
