#pragma once

#include <span>
#include <string>
#include <vector>

#include "report/part_summary.h"

namespace scantling {

/// What the parts of an axle say together, in sentences: that parts are changed as a set, and
/// uneven wear beyond what the measurements explain, with its usual causes (see `judge_axle`). Pads
/// that differ by less than common practice looks at are left out.
std::vector<std::string> axle_notes(std::span<const PartSummary> parts, Axle axle);

}  // namespace scantling
