#pragma once

#include "dimension/part_reading.h"

namespace scantling {

/// The thickness over the lips, from the rim's two faces, with its itemised budget.
std::vector<Dimension> rim_sizes(const PlaneScene& scene, const PartReading& reading,
                                 const MeasureOptions& options);

}  // namespace scantling
