#pragma once

#include "dimension/part_reading.h"

namespace scantling {

/// The edges as polylines on the photo, rivals included.
std::vector<MeasuredEdge> edges_on_photo(const PlaneScene& scene, const PartReading& reading);

}  // namespace scantling
