#pragma once

#include <opencv2/core/mat.hpp>
#include <vector>

#include "edges/part_frame.h"

namespace scantling {

/// The light across the part, averaged over short lanes along its edges. Row k of `light` and
/// `texture` is lane k at along_mm[k]; column j lies at across_first_mm + j * across_step_mm.
struct LaneProfiles {
  std::vector<double> along_mm;
  double across_first_mm = 0;
  double across_step_mm = 0;  ///< about one photo pixel
  double lane_width_mm = 0;
  cv::Mat1f light;    ///< mean linear light 0..1; NaN outside the photo
  cv::Mat1f texture;  ///< standard deviation along the lane, linear light
  int columns_per_lane = 0;

  double across_mm(double column) const { return across_first_mm + column * across_step_mm; }
  double column(double across) const { return (across - across_first_mm) / across_step_mm; }
};

struct LaneRequest {
  double along_first_mm = 0;
  double along_last_mm = 0;
  double across_first_mm = 0;
  double across_last_mm = 0;
  double lane_width_mm = 1.2;
  double px_per_sample = 1.0;  ///< photo pixels between samples across the edge
};

/// Samples the photo bilinearly in linear light along lanes, straight through perspective and lens
/// distortion: no picture is resampled first. Place error below 0.01 px.
LaneProfiles sample_lanes(const cv::Mat& luma, const CardPose& pose, const PartFrame& frame,
                          const LaneRequest& request);

}  // namespace scantling
