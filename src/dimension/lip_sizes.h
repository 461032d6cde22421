#pragma once

#include <span>

#include "dimension/measurement.h"
#include "dimension/part_reading.h"

namespace scantling {

/// A wall's usual run from foot to top where nothing else is known: 0 to 0.4 mm, evenly spread, but
/// a low lip's wall runs less.
inline constexpr double kUsualRun_u_mm = 0.4 / 3.4641016;
double usual_run_mm(double height_mm);

/// What one photo says of a lip, so that several can be solved together.
LipFacts lip_facts(const PlaneScene& scene, const PartReading& reading,
                   const MeasureOptions& options);

/// The lip's height from one photo: the wall's run is assumed, and is a line of the budget.
std::vector<Dimension> lip_sizes(const PlaneScene& scene, const PartReading& reading,
                                 const MeasureOptions& options);

/// Height and run of one lip by least squares over all photos of it that have `lip` facts
/// (h + run tan(elevation) = the height each photo gives for a wall without run). With photos of
/// one elevation the run stays as assumed. The photos' own measurements come first in `checks`.
Measurement solve_lip_together(std::span<const Measurement> photos);

}  // namespace scantling
