#pragma once

#include <optional>

#include "dimension/analysis.h"
#include "dimension/part_reading.h"
#include "dimension/plane_scene.h"

namespace scantling {

/// The light across an edge that lies between the segment's ends on the surface of `part`, sampled
/// and fitted as the edges of a photo are found. Nothing where the segment is too short, or lies
/// outside the photo.
std::optional<EdgeLight> edge_light(const PlaneScene& scene, const PartFrame& part,
                                    const EdgeSegment& segment);

}  // namespace scantling
