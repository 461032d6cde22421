#pragma once

#include <span>
#include <string>
#include <vector>

#include "report/part_summary.h"

namespace scantling {

/// What the parts of an axle say together, in sentences: that parts are changed as a set, and
/// uneven wear large enough to warn of, with its usual causes (see `judge_axle`).
std::vector<std::string> axle_notes(std::span<const PartSummary> parts, Axle axle);

}  // namespace scantling
