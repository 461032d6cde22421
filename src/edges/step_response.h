#pragma once

#include "edges/lane_profiles.h"

namespace scantling {

/// The lanes' light as grey code values, made once for several filters. They show a dark step as
/// clearly as a bright one; for finding, not for placing. Places without light take the nearest
/// value, so that no step arises there.
class LaneCodes {
 public:
  explicit LaneCodes(const LaneProfiles& lanes);
  const cv::Mat1f& code() const { return code_; }
  const cv::Mat1f& light() const { return light_; }
  bool gaps() const { return gaps_; }

 private:
  cv::Mat1f light_, code_;
  bool gaps_ = false;
};

/// The change of grey code value at each place of each lane: a derivative-of-Gaussian filter that
/// answers a step with its height. Zero near places without light.
cv::Mat1f step_response(const LaneCodes& lanes, double sigma_px);

/// The answers' scatter over the lanes at each place across, smoothed: texture's own level.
std::vector<float> lane_scatter(const cv::Mat1f& response);

/// Beyond a limit answers count by their root, so that a single loud lane cannot make a line, while
/// a strong edge still peaks where it is.
float compressed_answer(float answer, float limit);
float expanded_answer(float compressed, float limit);

/// The limit for a place with this scatter.
inline float answer_limit(float scatter) {
  return 6 * scatter + 6;
}

}  // namespace scantling
