#include "dimension/card_tone.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "edges/lane_profiles.h"
#include "edges/step_fit.h"

namespace scantling {
namespace {

double median(std::vector<double> v) {
  if (v.empty()) return 0;
  const auto middle = v.begin() + static_cast<long>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

}  // namespace

CardTone read_card_tone(const cv::Mat& luma, const CardPose& pose, const CardSighting& sighting) {
  const CardDefinition& card = *sighting.card;
  const double square_x = card.square_mm * pose.scale_x(),
               square_y = card.square_mm * pose.scale_y();
  const double gap_mm = (card.square_mm - card.marker_mm) / 2;
  std::vector<double> blur, white, black;
  // Every fifth corner: the horizontal edge that runs to its right, and the vertical one below.
  for (std::size_t i = 0; i < sighting.corners.size(); i += 5) {
    const SightedCorner& corner = sighting.corners[i];
    for (const bool horizontal : {true, false}) {
      PartFrame frame;
      frame.origin = {corner.card_mm.x * pose.scale_x() + (horizontal ? square_x / 2 : 0),
                      corner.card_mm.y * pose.scale_y() + (horizontal ? 0 : square_y / 2)};
      if (card.notch) {
        const Point_mm nominal{frame.origin.x / pose.scale_x(), frame.origin.y / pose.scale_y()};
        if (nominal.x > card.notch->x_min - 2 && nominal.x < card.notch->x_max + 2 &&
            nominal.y > card.notch->y_min - 2)
          continue;
      }
      if (!horizontal) {
        frame.along_x = 0;
        frame.along_y = 1;
        frame.across_x = 1;
        frame.across_y = 0;
      }
      LaneRequest request;
      request.along_first_mm = -0.2 * card.square_mm;
      request.along_last_mm = 0.2 * card.square_mm;
      // Not as far as the marker's border.
      request.across_first_mm = -0.95 * gap_mm;
      request.across_last_mm = 0.95 * gap_mm;
      request.lane_width_mm = 0.4 * card.square_mm;
      const LaneProfiles lane = sample_lanes(luma, pose, frame, request);
      const double middle = (lane.light.cols - 1) / 2.0;
      StepFitOptions options;
      options.blur_start = 1.0;
      const double start[] = {middle};
      const StepFit fit = fit_steps(
          {lane.light.ptr<float>(0), static_cast<std::size_t>(lane.light.cols)}, start, options);
      if (!fit.converged || std::abs(fit.place[0] - middle) > 3) continue;
      const double low = fit.level, high = fit.level + fit.height[0];
      blur.push_back(fit.blur);
      white.push_back(std::max(low, high));
      black.push_back(std::min(low, high));
    }
  }
  return {median(blur), median(white), median(black), static_cast<int>(blur.size())};
}

}  // namespace scantling
