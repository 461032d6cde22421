#pragma once

#include <vector>

#include "dimension/pad_hypothesis.h"
#include "dimension/plane_scene.h"

namespace scantling {

/// One way the pad may lie in the notch: its frame, its sampled light and the candidate lines.
struct PadPose {
  PartFrame frame;
  LaneProfiles lanes;
  SurfaceRows rows;
  PadSearch search;  ///< points into `lanes` and `rows`: valid while this object lives unmoved
  const char* words = "";
};

/// The four ways: plate down, plate up, and standing with the plate to either side.
/// Filled in place because PadSearch refers to its owner.
void sample_pad_poses(const PlaneScene& scene, double offset_mm, std::vector<PadPose>& poses);

}  // namespace scantling
