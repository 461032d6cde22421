#pragma once

#include <optional>

#include "dimension/analysis.h"
#include "dimension/part_reading.h"
#include "dimension/plane_scene.h"

namespace scantling {

/// The real edge nearest to a proposed segment, within `reach_px` along its normal; on the surface
/// of `part`, so that curved edges are followed along their curve.
std::optional<EdgeSegment> snap_edge(const PlaneScene& scene, const PartFrame& part,
                                     const EdgeSegment& proposed, double reach_px);

/// Puts `edge` where the user dragged it: line, extent, and the uncertainty of a hand's placing
/// (that of the fit where the segment lies on a real edge).
void place_by_hand(const PlaneScene& scene, const PartFrame& part, const EdgeSegment& segment,
                   PlacedEdge& edge);

}  // namespace scantling
