#pragma once

#include <vector>

#include "dimension/plane_scene.h"
#include "edges/lane_profiles.h"
#include "edges/line_candidates.h"
#include "edges/part_frame.h"
#include "edges/surface_rows.h"

namespace scantling {

/// One way a disc's rim may stand in the notch: unrolled along its cylinder, so that the edges of
/// its faces run straight.
struct RimView {
  PartFrame frame;
  bool upright = false;  ///< the disc stands, else it lies
  LaneProfiles lanes;
  SurfaceRows rows;
  std::vector<LineCandidate> lines;  ///< ascending in across
  double middle_mm = 0;              ///< along
  double camera_across_mm = 0;       ///< the camera's centre, measured across the rim
  double camera_distance_mm = 1;     ///< and in front of its surface
  double prior = 0;                  ///< log-odds of this way of standing

  double at(int line) const { return lines[static_cast<std::size_t>(line)].at(middle_mm); }
  /// Tangent of the angle at which the camera sees the face plane at `across`: positive where it
  /// looks down on it from greater across.
  double elevation(double across_mm) const {
    return (camera_across_mm - across_mm) / camera_distance_mm;
  }
};

/// Where the disc's diameter is not given: common practice for cars is 240 to 360 mm.
inline constexpr double kUsualRimRadius_mm = 145, kUsualRimRadius_u_mm = 28;

/// Where the diameter is not given these are tried: from above or below, a wrong one bends the
/// rim's edges and shifts them beyond the card.
inline constexpr double kTriedRimRadii_mm[] = {120, 145, 172};
inline constexpr double kTriedRimRadius_u_mm = 10;  ///< of the one that fits

/// The disc lying (faces level) and the disc upright (faces vertical), for each such radius.
std::vector<RimView> unroll_rim(const PlaneScene& scene, const MeasureOptions& options);

}  // namespace scantling
