#pragma once

#include <optional>
#include <vector>

#include "planes/bundle_information.h"
#include "planes/planes_result.h"
#include "planes/planes_solution.h"

namespace scantling {

/// Tries further photos from places round the cards, at the distance the others were taken from:
/// what each would add to the adjustment is known before it is taken. The one that shrinks the
/// size's standard uncertainty most.
std::optional<NextPhoto> next_photo(const PlanesSolution& solved,
                                    const PlaneBundleInformation& information, PlanesView view,
                                    const std::vector<std::string>& names);

}  // namespace scantling
