#include "edges/step_response.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "edges/linear_light.h"

namespace scantling {
namespace {

/// No answer within `reach` of a place without light.
void silence_gaps(const cv::Mat1f& light, int reach, cv::Mat1f& response) {
  for (int k = 0; k < light.rows; ++k)
    for (int j = 0; j < light.cols; ++j) {
      if (std::isfinite(light(k, j))) continue;
      const int a = std::max(0, j - reach), b = std::min(light.cols, j + reach + 1);
      std::fill(response.ptr<float>(k) + a, response.ptr<float>(k) + b, 0.f);
    }
}

float median_of(std::vector<float>& v) {
  const auto middle = v.begin() + static_cast<long>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

}  // namespace

LaneCodes::LaneCodes(const LaneProfiles& lanes) : light_(lanes.light), code_(lanes.light.size()) {
  const QuickSrgbCode code_of;
  for (int k = 0; k < light_.rows; ++k) {
    const float* light = light_.ptr<float>(k);
    float* code = code_.ptr<float>(k);
    float last = -1;
    int pending = 0;
    for (int j = 0; j < light_.cols; ++j) {
      if (!std::isfinite(light[j])) {
        gaps_ = true;
        if (last >= 0)
          code[j] = last;
        else
          ++pending;
        continue;
      }
      last = code_of(light[j]);
      code[j] = last;
      for (; pending > 0; --pending) code[j - pending] = last;
    }
    for (; pending > 0; --pending) code[light_.cols - pending] = 0;
  }
}

cv::Mat1f step_response(const LaneCodes& lanes, double sigma) {
  const int reach = static_cast<int>(std::ceil(3.5 * sigma));
  cv::Mat1f kernel(1, 2 * reach + 1);
  for (int i = -reach; i <= reach; ++i) {
    kernel(0, i + reach) = static_cast<float>(i * std::exp(-0.5 * i * i / (sigma * sigma)));
  }
  // Unit answer to a unit step.
  double unit = 0;
  for (int i = 1; i <= reach; ++i) unit += kernel(0, i + reach);
  kernel /= unit;
  cv::Mat1f response;
  cv::filter2D(lanes.code(), response, CV_32F, kernel, {-1, -1}, 0, cv::BORDER_REPLICATE);
  if (lanes.gaps()) silence_gaps(lanes.light(), reach, response);
  return response;
}

float compressed_answer(float answer, float limit) {
  const float size = std::abs(answer);
  return size <= limit ? answer : std::copysign(std::sqrt(limit * size), answer);
}

float expanded_answer(float compressed, float limit) {
  const float size = std::abs(compressed);
  return size <= limit ? compressed : std::copysign(size * size / limit, compressed);
}

std::vector<float> lane_scatter(const cv::Mat1f& response) {
  std::vector<float> scatter(static_cast<std::size_t>(response.cols));
  std::vector<float> column(static_cast<std::size_t>(response.rows));
  for (int j = 0; j < response.cols; ++j) {
    for (int k = 0; k < response.rows; ++k) column[static_cast<std::size_t>(k)] = response(k, j);
    const float middle = median_of(column);
    for (float& value : column) value = std::abs(value - middle);
    scatter[static_cast<std::size_t>(j)] = 1.4826f * median_of(column);
  }
  std::vector<float> smooth(scatter.size());
  for (std::size_t j = 0; j < scatter.size(); ++j) {
    const std::size_t a = j < 4 ? 0 : j - 4, b = std::min(scatter.size(), j + 5);
    std::vector<float> window(scatter.begin() + static_cast<long>(a),
                              scatter.begin() + static_cast<long>(b));
    smooth[j] = std::max(0.5f, median_of(window));
  }
  return smooth;
}

}  // namespace scantling
