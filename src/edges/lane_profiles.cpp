#include "edges/lane_profiles.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "edges/linear_light.h"

namespace scantling {
namespace {

/// Positions along one column, straight between knots 2 mm apart (sagitta under 0.01 px).
class ColumnPath {
 public:
  ColumnPath(const CardPose& pose, const PartFrame& frame, double along_mm, double first_mm,
             double step_mm, int samples) {
    const double length_mm = step_mm * (samples - 1);
    const int spans = std::max(1, static_cast<int>(std::ceil(std::abs(length_mm) / 2.0)));
    per_span_ = static_cast<float>(samples - 1) / static_cast<float>(spans);
    for (int i = 0; i <= spans; ++i) {
      const Point_px p = pose.project(frame.place(along_mm, first_mm + length_mm * i / spans));
      knots_.push_back({static_cast<float>(p.x), static_cast<float>(p.y)});
    }
  }
  cv::Point2f at(int sample) const {
    const float position = static_cast<float>(sample) / per_span_;
    const auto span = std::min(static_cast<std::size_t>(position), knots_.size() - 2);
    const float f = position - static_cast<float>(span);
    return knots_[span] + f * (knots_[span + 1] - knots_[span]);
  }

 private:
  std::vector<cv::Point2f> knots_;
  float per_span_ = 1;
};

float bilinear_light(const cv::Mat& luma, const std::array<float, 256>& light, cv::Point2f p) {
  const float fx = std::floor(p.x), fy = std::floor(p.y);
  const int x = static_cast<int>(fx), y = static_cast<int>(fy);
  if (x < 0 || y < 0 || x + 1 >= luma.cols || y + 1 >= luma.rows)
    return std::numeric_limits<float>::quiet_NaN();
  const float ax = p.x - fx, ay = p.y - fy;
  const uchar* upper = luma.ptr<uchar>(y) + x;
  const uchar* lower = luma.ptr<uchar>(y + 1) + x;
  const float top = light[upper[0]] + ax * (light[upper[1]] - light[upper[0]]);
  const float bottom = light[lower[0]] + ax * (light[lower[1]] - light[lower[0]]);
  return top + ay * (bottom - top);
}

}  // namespace

LaneProfiles sample_lanes(const cv::Mat& luma, const CardPose& pose, const PartFrame& frame,
                          const LaneRequest& request) {
  const double middle_along = (request.along_first_mm + request.along_last_mm) / 2;
  const double middle_across = (request.across_first_mm + request.across_last_mm) / 2;
  const Point_px here = pose.project(frame.place(middle_along, middle_across));
  const double px_across =
      distance_px(here, pose.project(frame.place(middle_along, middle_across + 1)));
  const double px_along =
      distance_px(here, pose.project(frame.place(middle_along + 1, middle_across)));

  LaneProfiles lanes;
  const double length = request.along_last_mm - request.along_first_mm;
  const int count = std::max(1, static_cast<int>(std::floor(length / request.lane_width_mm)));
  lanes.lane_width_mm = length / count;
  lanes.across_first_mm = request.across_first_mm;
  lanes.across_step_mm = request.px_per_sample / px_across;
  const int samples =
      1 + std::max(8, static_cast<int>((request.across_last_mm - request.across_first_mm) /
                                       lanes.across_step_mm));
  lanes.columns_per_lane =
      std::max(1, static_cast<int>(std::lround(lanes.lane_width_mm * px_along)));
  lanes.light.create(count, samples);
  lanes.texture.create(count, samples);
  const auto& table = linear_light_table();
  std::vector<float> sum(static_cast<std::size_t>(samples)), squares(sum.size());
  for (int lane = 0; lane < count; ++lane) {
    const double first = request.along_first_mm + lane * lanes.lane_width_mm;
    lanes.along_mm.push_back(first + lanes.lane_width_mm / 2);
    std::fill(sum.begin(), sum.end(), 0.f);
    std::fill(squares.begin(), squares.end(), 0.f);
    for (int column = 0; column < lanes.columns_per_lane; ++column) {
      const double along = first + (column + 0.5) / lanes.columns_per_lane * lanes.lane_width_mm;
      const ColumnPath path(pose, frame, along, request.across_first_mm, lanes.across_step_mm,
                            samples);
      for (int j = 0; j < samples; ++j) {
        const float value = bilinear_light(luma, table, path.at(j));
        sum[static_cast<std::size_t>(j)] += value;
        squares[static_cast<std::size_t>(j)] += value * value;
      }
    }
    const auto n = static_cast<float>(lanes.columns_per_lane);
    for (int j = 0; j < samples; ++j) {
      const float mean = sum[static_cast<std::size_t>(j)] / n;
      lanes.light(lane, j) = mean;
      lanes.texture(lane, j) =
          std::sqrt(std::max(0.f, squares[static_cast<std::size_t>(j)] / n - mean * mean));
    }
  }
  return lanes;
}

}  // namespace scantling
