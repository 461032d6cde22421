#pragma once

#include "dimension/part_reading.h"

namespace scantling {

/// Finds the two faces of a disc's rim in the notch, through vents, chamfers and rust.
PartReadingResult read_rim(const PlaneScene& scene, const MeasureOptions& options);

}  // namespace scantling
