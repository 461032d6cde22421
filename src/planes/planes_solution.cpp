#include "planes/planes_solution.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "planes/sheet_shape.h"

namespace scantling {
namespace {

constexpr double kNoiseFloor_px = 0.02;
/// The sheet counts as curved when its coefficients gain this much each, in variances, ...
constexpr double kCurvedGain = 6;
/// ... and it rises or dips by this much.
constexpr double kCurvedRange_mm = 0.08;

/// Corners beyond 4.5 standard deviations of their own sighting are left out; at least eight stay.
int leave_out(PlaneBundle& bundle, const PlaneBundleSolution& solution) {
  int count = 0;
  for (std::size_t i = 0; i < bundle.sightings.size(); ++i) {
    PlaneBundleSighting& s = bundle.sightings[i];
    std::vector<double> off;
    for (const Residual_px& r : solution.residuals[i]) off.push_back(std::hypot(r.x, r.y));
    std::vector<double> sorted = off;
    const auto middle = sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2);
    std::nth_element(sorted.begin(), middle, sorted.end());
    // The median distance of a two-axis normal error is 1.1774 sigma.
    const double limit = 4.5 * std::max(kNoiseFloor_px, *middle / 1.1774);
    std::size_t used = 0;
    for (std::size_t k = 0; k < off.size(); ++k) used += off[k] <= limit;
    if (used < 8) continue;
    for (std::size_t k = 0; k < off.size(); ++k) s.corners[k].used = off[k] <= limit;
    count += static_cast<int>(off.size() - used);
  }
  return count;
}

/// Each sighting's own noise, drawn towards the mean of its kind: a few corners tell it poorly.
double estimate_noise(PlaneBundle& bundle, const PlaneBundleSolution& solution) {
  constexpr double kDrawn = 20;  // in degrees of freedom
  struct Part {
    double square = 0, dof = 0;
  };
  std::vector<Part> parts;
  std::array<Part, 2> kind;
  for (std::size_t i = 0; i < bundle.sightings.size(); ++i) {
    const PlaneBundleSighting& s = bundle.sightings[i];
    Part part;
    for (std::size_t k = 0; k < s.corners.size(); ++k) {
      if (!s.corners[k].used) continue;
      const Residual_px& r = solution.residuals[i][k];
      part.square += r.x * r.x + r.y * r.y;
      part.dof += 2;
    }
    // A pose of its own takes six; the lens and the sheet's shape take a share.
    part.dof = std::max(1.0, part.dof - (s.piece == PlanePiece::ground ? 8 : 7));
    Part& of_kind = kind[s.piece == PlanePiece::ground ? 0 : 1];
    of_kind.square += part.square;
    of_kind.dof += part.dof;
    parts.push_back(part);
  }
  double square = 0, dof = 0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    PlaneBundleSighting& s = bundle.sightings[i];
    const Part& of_kind = kind[s.piece == PlanePiece::ground ? 0 : 1];
    const double mean = of_kind.square / of_kind.dof;
    s.noise_px = std::max(kNoiseFloor_px,
                          std::sqrt((parts[i].square + kDrawn * mean) / (parts[i].dof + kDrawn)));
    square += parts[i].square;
    dof += parts[i].dof;
  }
  return std::sqrt(square / dof);
}

void copy_findings(const PlaneBundle& from, PlaneBundle& to) {
  for (std::size_t i = 0; i < from.sightings.size(); ++i) {
    to.sightings[i].noise_px = from.sightings[i].noise_px;
    to.sightings[i].corners = from.sightings[i].corners;
  }
}

double cost_of(const PlaneBundleSolution& s) {
  return s.chi_square + s.prior_square;
}

}  // namespace

double PlanesSolution::misfit() const {
  if (moved_unknowns == 0) return 1;
  const double significant = 1 + 2.5 * std::sqrt(2.0 / moved_unknowns);
  return moved_chi_square > significant ? moved_chi_square : 1;
}

std::optional<PlanesSolution> solve_planes(const PlaneBundle& bundle) {
  PlanesSolution made;
  made.loose = loosened(bundle);
  made.bundle = bundle;
  for (PlaneBundleSighting& s : made.loose.sightings) s.noise_px = 0.15;

  // With every freedom first, so that what is measured of the noise is noise.
  made.loose_solution = solve_bundle(made.loose, start_state(made.loose),
                                     {.robust = true, .surface = true, .iterations = 80});
  if (!made.loose_solution.converged) return std::nullopt;
  for (int round = 0; round < 2; ++round) {
    made.left_out = leave_out(made.loose, made.loose_solution);
    made.noise_px = estimate_noise(made.loose, made.loose_solution);
    made.loose_solution = solve_bundle(made.loose, made.loose_solution.state, {.surface = true});
    if (!made.loose_solution.converged) return std::nullopt;
  }
  copy_findings(made.loose, made.bundle);

  const PlaneBundleState start = shared_start(made.bundle, made.loose, made.loose_solution.state);
  // The noise is known now, so far-off corners can only mean that something moved.
  PlaneBundleSolution first = solve_bundle(made.bundle, start, {.robust = true, .surface = true});
  const PlaneBundleSolution bent = solve_bundle(made.bundle, first.state, {.surface = true});
  const PlaneBundleSolution flat = solve_bundle(made.bundle, first.state, {.surface = false});
  made.moved_unknowns = PlaneBundleState::kPiece *
                        static_cast<int>(made.loose.blocks.size() - made.bundle.blocks.size());
  if (!bent.converged || !flat.converged) {
    made.moved_chi_square = std::numeric_limits<double>::max();
    return made;
  }
  made.held_together = true;

  const double bent_dof = std::max(1, bent.rows - bent.parameters);
  const double scatter = std::max(1.0, cost_of(bent) / bent_dof);
  made.sheet_gain = (cost_of(flat) - cost_of(bent)) / (PlaneBundleState::kSurface * scatter);
  made.curved =
      made.sheet_gain > kCurvedGain && sheet_range_mm(made.bundle, bent.state) > kCurvedRange_mm;
  made.solution = made.curved ? bent : flat;
  if (made.moved_unknowns > 0)
    made.moved_chi_square =
        std::max(0.0, (cost_of(bent) - cost_of(made.loose_solution)) / made.moved_unknowns);
  return made;
}

}  // namespace scantling
