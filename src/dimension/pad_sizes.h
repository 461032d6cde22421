#pragma once

#include "dimension/measurement.h"
#include "dimension/part_reading.h"

namespace scantling {

/// The pad's sizes from its placed edges, each with its itemised budget (JCGM 100). Every seen line
/// is intersected with the plane in which it lies, so that the camera's height above or below the
/// pad and a ledge or chamfer do not shift the size.
std::vector<Dimension> pad_sizes(const PlaneScene& scene, const PartReading& reading,
                                 const MeasureOptions& options);

}  // namespace scantling
