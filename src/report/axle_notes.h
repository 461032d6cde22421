#pragma once

#include <span>
#include <string>
#include <vector>

#include "report/part_summary.h"

namespace scantling {

/// What the parts of an axle say together (see `judge_axle`).
struct AxleTogether {
  std::optional<VerdictState> state;  ///< of the axle; none where no part has a verdict
  /// What each part's verdict becomes in its set, in the order given.
  std::vector<std::optional<VerdictState>> part_states;
  /// In sentences: that parts are changed as a set, what to settle first, which parts are missing,
  /// and uneven wear beyond what the measurements explain, with its usual causes. A difference of
  /// pads that common practice leaves alone is told for information, without causes.
  std::vector<std::string> notes;
};
AxleTogether axle_together(std::span<const PartSummary> parts, Axle axle);

}  // namespace scantling
