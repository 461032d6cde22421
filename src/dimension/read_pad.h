#pragma once

#include "dimension/part_reading.h"

namespace scantling {

/// Finds the pad's edges in the notch: plate outer face, interface, friction outer face.
PartReadingResult read_pad(const PlaneScene& scene, const MeasureOptions& options);

}  // namespace scantling
