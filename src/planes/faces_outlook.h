#pragma once

#include "planes/planes_result.h"

namespace scantling {

/// What a disc's worn thickness from planes would be worth before a photo is taken: the budget of
/// five photos (two of each face, and the first face again) from usual places at 330 mm, corners
/// scattering by 0.1 px, with these options. Solved like any other session; about a tenth of a
/// second. Nothing where it cannot be solved.
std::optional<Quantity> faces_outlook(double thickness_mm, const PlanesOptions& options);

}  // namespace scantling
