#include "planes/sheet_shape.h"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <map>

namespace scantling {

double sheet_range_mm(const PlaneBundle& bundle, const PlaneBundleState& state) {
  const double half_x = bundle.half_x_mm(PlanePiece::ground);
  const double half_y = bundle.half_y_mm(PlanePiece::ground);
  constexpr int kSide = 9;
  Eigen::Matrix<double, kSide * kSide, 3> plane;
  Eigen::Matrix<double, kSide * kSide, 1> depth;
  for (int i = 0; i < kSide; ++i)
    for (int j = 0; j < kSide; ++j) {
      // The outermost squares have no corners on their outer sides.
      const double u = 0.9 * (2.0 * i / (kSide - 1) - 1), v = 0.9 * (2.0 * j / (kSide - 1) - 1);
      plane.row(i * kSide + j) << 1, u, v;
      depth[i * kSide + j] = surface_mm(bundle, state, u * half_x, v * half_y);
    }
  const Eigen::Vector3d fitted =
      (plane.transpose() * plane).ldlt().solve(plane.transpose() * depth);
  const Eigen::VectorXd left = depth - plane * fitted;
  return left.maxCoeff() - left.minCoeff();
}

SheetUnevenness sheet_unevenness(const PlaneBundle& bundle, const PlaneBundleSolution& solution) {
  struct Evidence {
    double weight = 0, pull = 0, square = 0;
    int photos = 0;
  };
  std::map<int, Evidence> corners;
  // The surface's first coefficient lifts a corner by u^2: its slope gives the slope by depth.
  PlaneBundleState lifted = solution.state;
  constexpr double kStep_mm = 0.01;
  for (std::size_t i = 0; i < bundle.sightings.size(); ++i) {
    const PlaneBundleSighting& s = bundle.sightings[i];
    if (s.piece != PlanePiece::ground) continue;
    for (std::size_t k = 0; k < s.corners.size(); ++k) {
      const PlaneBundleCorner& c = s.corners[k];
      const double u = c.x_mm / bundle.half_x_mm(PlanePiece::ground);
      if (!c.used || std::abs(u) < 1e-6) continue;
      lifted.surface = solution.state.surface;
      lifted.surface[0] += kStep_mm / (u * u);
      const Point_px flat = project_corner(bundle, solution.state, s, c);
      const Point_px up = project_corner(bundle, lifted, s, c);
      const double jx = (up.x - flat.x) / kStep_mm, jy = (up.y - flat.y) / kStep_mm;
      const double w = 1 / (s.noise_px * s.noise_px);
      const Residual_px& r = solution.residuals[i][k];
      Evidence& e = corners[c.id];
      e.weight += w * (jx * jx + jy * jy);
      e.pull += w * (jx * r.x + jy * r.y);
      e.square += w * (r.x * r.x + r.y * r.y);
      ++e.photos;
    }
  }
  // The noise as estimated holds the unevenness too: what is left when every corner has its own
  // depth is noise alone.
  double left = 0, dof = 0;
  for (const auto& [id, e] : corners) {
    if (e.photos < 2 || !(e.weight > 0)) continue;
    left += e.square - e.pull * e.pull / e.weight;
    dof += 2.0 * e.photos - 1;
  }
  const double share = dof > 0 ? left / dof : 1;
  SheetUnevenness uneven;
  double square = 0, noise = 0;
  for (const auto& [id, e] : corners) {
    if (e.photos < 2 || !(e.weight > 100 * share)) continue;  // surer than 0.1 mm
    const double depth = e.pull / e.weight;
    square += depth * depth;
    noise += share / e.weight;
    uneven.largest_mm = std::max(uneven.largest_mm, std::abs(depth));
    ++uneven.corners;
  }
  if (uneven.corners > 0) {
    const double n = uneven.corners;
    uneven.rms_mm = std::sqrt(std::max(0.0, (square - noise) / n));
  }
  return uneven;
}

}  // namespace scantling
