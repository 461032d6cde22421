#include "camera/card_pose.h"

#include <ceres/rotation.h>

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <algorithm>
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

double aspect_uncertainty(double scale_u) {
  return std::sqrt(2.0) * std::max(1e-5, scale_u);
}

namespace {

/// What a prior adds to the normal equations.
CardPose::Matrix information_of(const CameraPrior& prior, double aspect_u) {
  const auto inverse_square = [](double u) { return 1 / std::max(1e-24, u * u); };
  CardPose::Matrix m = CardPose::Matrix::Zero();
  m(6, 6) = inverse_square(prior.focal_relative_u * prior.model.focal_px);
  m(7, 7) = m(8, 8) = inverse_square(prior.centre_u_px);
  const double rho = prior.k1_k2_correlation, rest = 1 / (1 - rho * rho);
  m(9, 9) = rest * inverse_square(prior.k1_u);
  m(10, 10) = rest * inverse_square(prior.k2_u);
  m(9, 10) = m(10, 9) = -rest * rho / (prior.k1_u * prior.k2_u);
  m(CardPose::kAspect, CardPose::kAspect) = inverse_square(aspect_u);
  return m;
}

}  // namespace

CardPose::Matrix CardPose::covariance_with(const CameraPrior& used, const CameraPrior& instead,
                                           double used_aspect_u, double instead_aspect_u) const {
  const Matrix added =
      information_of(instead, instead_aspect_u) - information_of(used, used_aspect_u);
  // Parameters differ by many orders of magnitude: scaled to correlations before the inverse.
  const Vector scale = (covariance_.diagonal() / widening_).cwiseMax(0).cwiseSqrt();
  const Vector inverse = scale.unaryExpr([](double s) { return s > 0 ? 1 / s : 0.0; });
  const Matrix correlations =
      inverse.asDiagonal() * (covariance_ / widening_) * inverse.asDiagonal();
  const Matrix added_scaled = scale.asDiagonal() * added * scale.asDiagonal();
  const Matrix kept = (Matrix::Identity() + added_scaled * correlations).inverse();
  return widening_ * (scale.asDiagonal() * correlations * kept * scale.asDiagonal()).eval();
}

double CardPose::px_per_mm_x(Point3_mm p) const {
  return distance_px(project({p.x - 0.5, p.y, p.z}), project({p.x + 0.5, p.y, p.z}));
}

double CardPose::px_per_mm_y(Point3_mm p) const {
  return distance_px(project({p.x, p.y - 0.5, p.z}), project({p.x, p.y + 0.5, p.z}));
}

}  // namespace scantling
