#include "planes/plane_sizes.h"

#include <ceres/rotation.h>

#include <Eigen/Cholesky>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <functional>

#include "planes/bundle_residuals.h"

namespace scantling {
namespace {

using Eigen::Vector3d;

Eigen::Matrix3d axes_of(const PlaneBundleState& state, std::size_t block) {
  double r[9];
  ceres::AngleAxisToRotationMatrix(state.pieces[block].data(), r);
  return Eigen::Map<const Eigen::Matrix3d>(r);
}

Vector3d middle_of(const PlaneBundleState& state, std::size_t block) {
  return Eigen::Map<const Vector3d>(state.pieces[block].data() + 3);
}

/// The sheet's normal, into it, under a place.
Vector3d sheet_normal(const PlaneBundle& bundle, const PlaneBundleState& state, double x,
                      double y) {
  constexpr double kStep_mm = 0.5;
  const double slope_x =
      (surface_mm(bundle, state, x + kStep_mm, y) - surface_mm(bundle, state, x - kStep_mm, y)) /
      (2 * kStep_mm);
  const double slope_y =
      (surface_mm(bundle, state, x, y + kStep_mm) - surface_mm(bundle, state, x, y - kStep_mm)) /
      (2 * kStep_mm);
  return Vector3d(-slope_x, -slope_y, 1).normalized();
}

PlaneAngle angle_from(const PlaneSize& p, const PlaneSize& q, const PlaneBundleInformation& info) {
  const Eigen::Vector2d tilt(p.value_mm, q.value_mm);
  Eigen::Matrix2d covariance;
  const Eigen::VectorXd lever_p = info.covariance() * p.gradient;
  const Eigen::VectorXd lever_q = info.covariance() * q.gradient;
  covariance << p.gradient.dot(lever_p), p.gradient.dot(lever_q), q.gradient.dot(lever_p),
      q.gradient.dot(lever_q);
  PlaneAngle angle;
  angle.angle_deg = std::asin(std::min(1.0, tilt.norm())) * 180 / M_PI;
  angle.u_deg = std::sqrt(covariance.trace() / 2) * 180 / M_PI;
  angle.chi_square = tilt.dot(covariance.ldlt().solve(tilt));
  return angle;
}

}  // namespace

std::optional<std::size_t> block_of(const PlaneBundle& bundle, PlanePiece piece) {
  const auto found = std::find(bundle.blocks.begin(), bundle.blocks.end(), piece);
  if (found == bundle.blocks.end()) return std::nullopt;
  return static_cast<std::size_t>(found - bundle.blocks.begin());
}

double faces_distance_mm(const PlaneBundleState& state, std::size_t a, std::size_t b) {
  const Vector3d into_a = axes_of(state, a).col(2), into_b = axes_of(state, b).col(2);
  return (into_a - into_b).normalized().dot(middle_of(state, b) - middle_of(state, a));
}

double height_mm(const PlaneBundle& bundle, const PlaneBundleState& state, std::size_t block) {
  const Vector3d m = middle_of(state, block);
  const double gap = surface_mm(bundle, state, m.x(), m.y()) - m.z();
  return gap * sheet_normal(bundle, state, m.x(), m.y()).z();
}

PlaneSize size_of(const PlaneBundleInformation& information, const PlaneBundleState& state,
                  const std::function<double(const PlaneBundleState&)>& function) {
  PlaneSize size;
  size.value_mm = function(state);
  size.gradient = Eigen::VectorXd::Zero(information.size());
  PlaneBundleState moved = state;
  const auto slope = [&](double& unknown, Eigen::Index column) {
    // Steps of the unknown's own standard uncertainty are neither too fine nor too coarse.
    const double step = std::max(1e-7, 0.1 * std::sqrt(information.covariance()(column, column)));
    const double kept = unknown;
    unknown = kept + step;
    const double high = function(moved);
    unknown = kept - step;
    const double low = function(moved);
    unknown = kept;
    size.gradient[column] = (high - low) / (2 * step);
  };
  for (std::size_t i = 0; i < state.pieces.size(); ++i)
    for (std::size_t k = 0; k < PlaneBundleState::kPiece; ++k)
      slope(moved.pieces[i][k], information.piece(i) + static_cast<Eigen::Index>(k));
  if (information.surface() >= 0)
    for (std::size_t k = 0; k < PlaneBundleState::kSurface; ++k)
      slope(moved.surface[k], information.surface() + static_cast<Eigen::Index>(k));
  return size;
}

PlaneAngle faces_angle(const PlaneBundleInformation& information, const PlaneBundleState& state,
                       std::size_t a, std::size_t b) {
  // Tilts of B's plane against A's two long directions.
  const auto tilt = [&](int axis) {
    return size_of(information, state, [=](const PlaneBundleState& s) {
      return axes_of(s, a).col(axis).dot(axes_of(s, b).col(2));
    });
  };
  return angle_from(tilt(0), tilt(1), information);
}

PlaneAngle tilt_to_sheet(const PlaneBundle& bundle, const PlaneBundleInformation& information,
                         const PlaneBundleState& state, std::size_t block) {
  const auto tilt = [&](int axis) {
    return size_of(information, state, [&bundle, block, axis](const PlaneBundleState& s) {
      const Vector3d m = middle_of(s, block);
      return axes_of(s, block).col(axis).dot(sheet_normal(bundle, s, m.x(), m.y()));
    });
  };
  return angle_from(tilt(0), tilt(1), information);
}

std::optional<PlaneSize> wanted_size(const PlaneBundle& bundle,
                                     const PlaneBundleInformation& information,
                                     const PlaneBundleState& state, PlanesView view) {
  const auto a = block_of(bundle, PlanePiece::card_a), b = block_of(bundle, PlanePiece::card_b);
  if (view == PlanesView::faces) {
    if (!a || !b) return std::nullopt;
    return size_of(information, state,
                   [&](const PlaneBundleState& s) { return faces_distance_mm(s, *a, *b); });
  }
  if (!a && !b) return std::nullopt;
  return size_of(information, state, [&](const PlaneBundleState& s) {
    if (a && b) return (height_mm(bundle, s, *a) + height_mm(bundle, s, *b)) / 2;
    return height_mm(bundle, s, a ? *a : *b);
  });
}

}  // namespace scantling
