#pragma once

#include <functional>
#include <optional>

#include "planes/bundle_information.h"
#include "planes/planes_result.h"
#include "planes/planes_solution.h"

namespace scantling {

/// The lengths that the view is after, as functions of the adjustment's unknowns. Heights and
/// distances are those of the cards' printed faces, card thickness not yet taken off.
struct PlaneSize {
  double value_mm = 0;
  Eigen::VectorXd gradient;  ///< over all unknowns
};

/// Where the first block of a card lies in the state; nothing where it was not seen.
std::optional<std::size_t> block_of(const PlaneBundle& bundle, PlanePiece piece);

/// Distance of both card planes at the cards' middles along the common normal: with z_A and z_B the
/// directions into the cards, n = (z_A - z_B) / |z_A - z_B| and D = n . (m_B - m_A).
double faces_distance_mm(const PlaneBundleState& state, std::size_t a, std::size_t b);

/// Height of a card's middle over the sheet.
double height_mm(const PlaneBundle& bundle, const PlaneBundleState& state, std::size_t block);

/// Gradient of a function of the state by central differences.
PlaneSize size_of(const PlaneBundleInformation& information, const PlaneBundleState& state,
                  const std::function<double(const PlaneBundleState&)>& function);

/// A small angle between two planes with its covariance: two tilts about directions square to each
/// other.
struct PlaneAngle {
  double angle_deg = 0;
  double u_deg = 0;
  /// Squared distance from parallel in units of its covariance: chi-square with two degrees of
  /// freedom where the planes are parallel.
  double chi_square = 0;
};

PlaneAngle faces_angle(const PlaneBundleInformation& information, const PlaneBundleState& state,
                       std::size_t a, std::size_t b);
PlaneAngle tilt_to_sheet(const PlaneBundle& bundle, const PlaneBundleInformation& information,
                         const PlaneBundleState& state, std::size_t block);

/// What the sizes' budgets take in beside the adjustment.
struct PlaneEvidence {
  double unevenness_mm = 0;  ///< of the sheet
  double range_mm = 0;       ///< of the sheet's modelled surface
  bool seen_again = false;   ///< faces: the first side was seen again after the other
  PlaneAngle angle;
};

/// The view's dimensions with their budgets. Cards that were not seen leave theirs out.
std::vector<Dimension> plane_sizes(const PlanesSolution& solved,
                                   const PlaneBundleInformation& information,
                                   const PlaneBundleInformation& with_surface,
                                   const PlanesOptions& options, const PlaneEvidence& evidence);

/// Standard uncertainty of the view's size from corners, priors and lens alone: what the
/// adjustment's covariance says.
std::optional<PlaneSize> wanted_size(const PlaneBundle& bundle,
                                     const PlaneBundleInformation& information,
                                     const PlaneBundleState& state, PlanesView view);

}  // namespace scantling
