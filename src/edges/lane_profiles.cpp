#include "edges/lane_profiles.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "edges/linear_light.h"

namespace scantling {
namespace {

/// Where a lane's columns lie on the photo, straight between knots 2 mm apart (sagitta under 0.01
/// px). All columns have their knots at the same samples.
class LanePaths {
 public:
  LanePaths(double first_mm, double step_mm, int samples, int columns)
      : first_mm_(first_mm),
        length_mm_(step_mm * (samples - 1)),
        spans_(std::max(1, static_cast<int>(std::ceil(std::abs(length_mm_) / 2.0)))),
        columns_(columns),
        per_span_(static_cast<float>(samples - 1) / static_cast<float>(spans_)),
        knots_(static_cast<std::size_t>((spans_ + 1) * columns)) {}

  void lay(int column, const CardPose& pose, const PartFrame& frame, double along_mm) {
    for (int i = 0; i <= spans_; ++i) {
      const Point_px p = pose.project(frame.place(along_mm, first_mm_ + length_mm_ * i / spans_));
      knots_[static_cast<std::size_t>(i * columns_ + column)] = {static_cast<float>(p.x),
                                                                 static_cast<float>(p.y)};
    }
  }
  /// Calls `visit` with the place of each column at this sample: neighbours on the photo one after
  /// the other, so that they share what of it is at hand.
  template <class Visit>
  void each_column(int sample, Visit visit) const {
    const float position = static_cast<float>(sample) / per_span_;
    const int span = std::min(static_cast<int>(position), spans_ - 1);
    const float f = position - static_cast<float>(span);
    const cv::Point2f* from = &knots_[static_cast<std::size_t>(span * columns_)];
    const cv::Point2f* to = from + columns_;
    for (int column = 0; column < columns_; ++column)
      visit(from[column] + f * (to[column] - from[column]));
  }

 private:
  double first_mm_, length_mm_;
  int spans_, columns_;
  float per_span_;
  std::vector<cv::Point2f> knots_;  ///< span by span
};

float bilinear_light(const cv::Mat& luma, const std::array<float, 256>& light, cv::Point2f p) {
  if (!(p.x >= 0 && p.y >= 0 && p.x < static_cast<float>(luma.cols - 1) &&
        p.y < static_cast<float>(luma.rows - 1)))
    return std::numeric_limits<float>::quiet_NaN();
  const int x = static_cast<int>(p.x), y = static_cast<int>(p.y);
  const float ax = p.x - static_cast<float>(x), ay = p.y - static_cast<float>(y);
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
  LanePaths paths(request.across_first_mm, lanes.across_step_mm, samples, lanes.columns_per_lane);
  for (int lane = 0; lane < count; ++lane) {
    const double first = request.along_first_mm + lane * lanes.lane_width_mm;
    lanes.along_mm.push_back(first + lanes.lane_width_mm / 2);
    for (int column = 0; column < lanes.columns_per_lane; ++column)
      paths.lay(column, pose, frame,
                first + (column + 0.5) / lanes.columns_per_lane * lanes.lane_width_mm);
    const auto n = static_cast<float>(lanes.columns_per_lane);
    for (int j = 0; j < samples; ++j) {
      float sum = 0, squares = 0;
      paths.each_column(j, [&](cv::Point2f p) {
        const float value = bilinear_light(luma, table, p);
        sum += value;
        squares += value * value;
      });
      const float mean = sum / n;
      lanes.light(lane, j) = mean;
      lanes.texture(lane, j) = std::sqrt(std::max(0.f, squares / n - mean * mean));
    }
  }
  return lanes;
}

}  // namespace scantling
