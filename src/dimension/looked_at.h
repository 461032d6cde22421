#pragma once

#include <span>
#include <string>

#include "dimension/measurement.h"

namespace scantling {

/// The same measurement once somebody has looked at these edges and found them right: the lines
/// stay where they are, and no budget allows for another line any more (`mistaken_source`). An edge
/// that was dragged has been looked at anyway.
Measurement looked_at(Measurement measurement, std::span<const std::string> edges);

}  // namespace scantling
