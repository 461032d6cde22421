#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/view_transform.h"
#include "dimension/analysis.h"

namespace scantling {

/// What of an edge the user holds.
enum class EdgeHandle { first_end, middle, second_end };

/// An edge as it is drawn: straight, or the arc of a lip.
using EdgeCurve = std::vector<Point_px>;

Point_px handle_place(const EdgeSegment& segment, EdgeHandle handle);
/// The middle handle lies on the curve, not on its chord.
Point_px handle_place(const EdgeCurve& curve, EdgeHandle handle);
/// A place on the curve, `share` of its points from the first one (0) to the last (1).
Point_px place_on(const EdgeCurve& curve, double share);

/// The segment as dragged: an end moves alone, the middle carries the whole edge along.
EdgeSegment dragged(const EdgeSegment& start, EdgeHandle handle, double dx_px, double dy_px);

/// The whole edge shifted by `step_px` across its own direction, towards the side where
/// (`towards_x`, `towards_y`) points: an arrow key nudges down whatever way the edge was drawn.
/// Unchanged where that direction runs along the edge.
EdgeSegment nudged(const EdgeSegment& segment, double towards_x, double towards_y, double step_px);

/// The handle under the pointer, within `reach` screen pixels; the nearest one where two are.
std::optional<EdgeHandle> handle_at(const EdgeSegment& segment, const ViewTransform& view,
                                    ScreenPoint pointer, double reach);
std::optional<EdgeHandle> handle_at(const EdgeCurve& curve, const ViewTransform& view,
                                    ScreenPoint pointer, double reach);

/// Distance in screen pixels from the pointer to the segment.
double screen_distance(const EdgeSegment& segment, const ViewTransform& view, ScreenPoint pointer);
double screen_distance(const EdgeCurve& curve, const ViewTransform& view, ScreenPoint pointer);

/// The segment between a measured edge's two outermost points.
EdgeSegment segment_of(const MeasuredEdge& edge);
EdgeSegment segment_of(const EdgeRival& rival);

/// `moved` with one edge put at `segment`, replacing an earlier place of the same edge.
std::vector<MovedEdge> with_moved(std::vector<MovedEdge> moved, const std::string& edge,
                                  const EdgeSegment& segment);

}  // namespace scantling
