#pragma once

#include <vector>

#include "planes/planes_result.h"
#include "planes/planes_solution.h"
#include "planes/sheet_shape.h"

namespace scantling {

/// Before anything is solved: pieces missing, too few photos of a side, several cameras, what was
/// not said about print and card.
std::vector<Check> checks_before(const std::vector<PlanePhoto>& photos,
                                 const PlanesOptions& options);

/// What the solution itself shows: directions too alike, cards on one side, bent, not parallel, a
/// curled sheet. `result` holds pieces, fit, sheet and angle already.
std::vector<Check> checks_after(const PlanesResult& result, const PlanesSolution& solved,
                                const PlanesOptions& options, const SheetUnevenness& uneven,
                                double angle_chi_square);

/// Whether the photos, in order of time, come back to the first side after the other one: only then
/// would a disc that moved in between have shown.
bool first_side_seen_again(const PlanesSolution& solved, const std::vector<std::size_t>& order);

}  // namespace scantling
