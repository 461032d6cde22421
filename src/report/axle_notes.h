#pragma once

#include <span>
#include <string>
#include <vector>

#include "report/part_summary.h"

namespace scantling {

/// Pads of a pair farther apart than this are told as uneven wear. Trade texts ask for a pair
/// within 2 to 3 mm; no common figure exists for left against right or for a taper, so the same one
/// serves.
inline constexpr double kUneven_mm = 2.0;

/// What the parts of an axle say together: that parts are changed as a set, and uneven wear with
/// its usual causes. A difference within the 95 % uncertainty of both sizes is never told.
std::vector<std::string> axle_notes(std::span<const PartSummary> parts, Axle axle);

}  // namespace scantling
