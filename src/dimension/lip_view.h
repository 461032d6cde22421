#pragma once

#include <optional>
#include <vector>

#include "dimension/plane_scene.h"
#include "edges/lane_profiles.h"
#include "edges/line_candidates.h"
#include "edges/part_frame.h"
#include "edges/surface_rows.h"

namespace scantling {

/// The track beside the card and the lip behind it, unrolled round the disc's axis: in `frame` the
/// wall's foot and top, the lip's outer edge and the rim run nearly straight.
struct LipView {
  PartFrame frame;  ///< ring frame on the track's plane, `across` outwards
  LaneProfiles lanes;
  SurfaceRows rows;
  std::vector<LineCandidate> lines;  ///< ascending in across
  double clarity = 0;                ///< of the arcs found, see ArcFamily
  double elevation = 0.5;            ///< tangent of the camera's elevation over the track
};

/// The track lies under the card, by the card's own thickness.
double track_depth_mm(const PlaneScene& scene);

/// Finds the arcs beyond the card, away from the camera. Nothing where there are none.
std::optional<LipView> unroll_lip(const PlaneScene& scene, const MeasureOptions& options);

}  // namespace scantling
