#pragma once

#include <vector>

#include "edges/lane_profiles.h"

namespace scantling {

/// What the surface looks like at each place across the part: how light, and how rough.
struct SurfaceRows {
  std::vector<double> level;      ///< median grey code value over the lanes
  std::vector<double> roughness;  ///< median change between neighbouring lanes, grey code values

  /// Medians over the columns [first, last].
  double level_between(double first, double last) const;
  double roughness_between(double first, double last) const;
};

SurfaceRows read_surface_rows(const LaneProfiles& lanes);

}  // namespace scantling
