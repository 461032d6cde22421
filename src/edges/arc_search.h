#pragma once

#include "edges/lane_profiles.h"

namespace scantling {

/// How a family of concentric arcs crosses straight lanes:
/// across(x) = a + slope (x - middle) - (x - middle)^2 / (2 radius), each arc with its own a.
struct ArcFamily {
  bool found = false;
  double middle_mm = 0;  ///< along the lanes
  double slope = 0;
  double radius_mm = 0;
  double across_mm = 0;  ///< where most of the family's light changes
  double clarity = 0;    ///< energy of the family over that of the typical one; 1 = nothing there
};

struct ArcSearchOptions {
  double steepest = 0.6;  ///< largest |slope|
  double least_radius_mm = 80;
  double most_radius_mm = 230;
  double kernel_px = 1.5;
};

/// The arcs' common direction and curvature: where the lanes' changes of light, summed along arcs,
/// have the most energy. Averages over all arcs at once, so that no single one need be strong.
ArcFamily find_arc_family(const LaneProfiles& lanes, const ArcSearchOptions& options = {});

}  // namespace scantling
