#pragma once

#include <vector>

#include "planes/bundle_information.h"
#include "planes/bundle_start.h"
#include "planes/planes_result.h"
#include "planes/planes_solution.h"

// From the adjustment's blocks to what a window or a file shows.

namespace scantling {

/// Fills `photos`; `solved` may be null.
void describe_photos(const std::vector<PlanePhoto>& photos, const MadeBundle& made,
                     const PlanesSolution* solved, PlanesResult& result);
/// Fills `pieces` and `sheet`.
void describe_pieces(const PlanesSolution& solved, const PlaneBundleInformation& information,
                     PlanesResult& result);
/// Fills `fit`.
void describe_fit(const PlanesSolution& solved, PlanesResult& result);

}  // namespace scantling
