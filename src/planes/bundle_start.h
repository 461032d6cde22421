#pragma once

#include <array>
#include <vector>

#include "planes/bundle.h"
#include "planes/plane_photo.h"
#include "planes/planes_result.h"

namespace scantling {

/// A bundle from photos, and which photos it could take in.
struct MadeBundle {
  PlaneBundle bundle;
  std::vector<std::size_t> source;    ///< of each bundle photo: its index among the given ones
  std::vector<std::size_t> left_out;  ///< photos without a ground sheet, and doubles
};

/// The print scales' standard uncertainties with these options, as PlaneBundlePriors::scales_u.
std::array<double, PlaneBundleState::kScales> scale_uncertainties(const PlanesOptions& options);

/// Photos that show the ground sheet. Every card has one pose for all photos.
MadeBundle make_bundle(const std::vector<PlanePhoto>& photos, const PlanesOptions& options);

/// The same with a pose of its own for each card in each photo: what a moved card would need.
PlaneBundle loosened(const PlaneBundle& bundle);

/// Where to start the adjustment: each photo by its sheet, each card by the photo pose that fits
/// all photos best, with the mirrored one of a plane's two poses told off by the other photos.
/// Works for a loosened bundle too.
PlaneBundleState start_state(const PlaneBundle& bundle);

/// One pose a card out of a loose solution's: the one that fits all photos best.
PlaneBundleState shared_start(const PlaneBundle& bundle, const PlaneBundle& loose,
                              const PlaneBundleState& solved);

}  // namespace scantling
