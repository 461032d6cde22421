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

/// The edge of the reading nearest to a proposed segment, where it lies nearer than `snapped` and
/// within `reach_px`; else `snapped`. What was read stands in for the bare line beside it: reading
/// an edge may mean to correct its line, for a highlight's fall or a chamfer narrower than the
/// blur.
std::optional<EdgeSegment> prefer_read_edge(const PlaneScene& scene, const PartReading& reading,
                                            const EdgeSegment& proposed, double reach_px,
                                            std::optional<EdgeSegment> snapped);

/// Puts `edge` where the user dragged it: line, extent, and the uncertainty of a hand's placing
/// (that of the fit where the segment lies on a real edge).
void place_by_hand(const PlaneScene& scene, const PartFrame& part, const EdgeSegment& segment,
                   PlacedEdge& edge);

}  // namespace scantling
