#pragma once

#include <vector>

#include "edges/lane_profiles.h"

namespace scantling {

/// A long, nearly straight line of equal change of light across many lanes: perhaps an edge.
struct LineCandidate {
  double across_mm = 0;       ///< at along = 0
  double slope = 0;           ///< d across / d along
  double step = 0;            ///< change of grey code value (0..255 scale), signed with `across`
  double significance = 0;    ///< step over its standard error from the lanes' scatter
  double support = 0;         ///< share of lanes that show the step with the same sign
  double sharpness = 1;       ///< 1 for a step as sharp as the lens allows, 0 for a slow change
  double along_first_mm = 0;  ///< where the support begins and ends
  double along_last_mm = 0;

  double at(double along_mm) const { return across_mm + slope * along_mm; }
};

struct CandidateOptions {
  double steepest = 0.09;  ///< largest |slope| searched
  double least_significance = 5;
  double least_step = 1.5;  ///< grey code values
  std::size_t most = 32;    ///< the strongest are kept
  double kernel_px = 1.2;   ///< sigma of the derivative filter, samples
};

/// All candidates, ascending in across_mm. Averages along the edge before deciding, so that a step
/// weaker than the texture on either side is found when it runs straight.
std::vector<LineCandidate> find_line_candidates(const LaneProfiles& lanes,
                                                const CandidateOptions& options = {});

}  // namespace scantling
