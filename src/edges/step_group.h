#pragma once

#include <span>
#include <vector>

#include "edges/lane_profiles.h"
#include "edges/line_candidates.h"

namespace scantling {

/// Mean light of the lanes `first` to `last` (not included) against the distance from the line, one
/// sample apart from `low` to `high`; NaN where fewer than two lanes have light there.
std::vector<float> block_profile(const LaneProfiles& lanes, const LineCandidate& line, int first,
                                 int last, int low, int high);

/// The steps about the wanted line that are fitted as one model, and the window they share.
struct StepGroup {
  int low = 0, high = 0;       ///< samples from the wanted line
  std::vector<double> starts;  ///< samples from `low`, ascending
  std::size_t own = 0;         ///< which of them is the wanted line's
};

/// The wanted line with the neighbours that lie within its reach; `alone`: in a window that ends
/// before them.
StepGroup step_group(const LaneProfiles& lanes, const LineCandidate& wanted,
                     std::span<const LineCandidate> neighbours, double reach_px, bool alone);

}  // namespace scantling
