#include "edges/line_candidates.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "edges/linear_light.h"

namespace scantling {
namespace {

/// Code values show a dark step as clearly as a bright one; for finding, not for placing.
cv::Mat1f code_values(const cv::Mat1f& light) {
  cv::Mat1f code(light.size());
  for (int k = 0; k < light.rows; ++k)
    for (int j = 0; j < light.cols; ++j) {
      const float value = light(k, j);
      code(k, j) = std::isfinite(value) ? srgb_code_quick(value) : 0.f;
    }
  return code;
}

/// The step height that a derivative-of-Gaussian filter answers with at a step's place.
cv::Mat1f step_response(const cv::Mat1f& code, double sigma) {
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
  cv::filter2D(code, response, CV_32F, kernel, {-1, -1}, 0, cv::BORDER_REPLICATE);
  return response;
}

/// Beyond a limit answers count by their root, so that a single loud lane cannot make a line, while
/// a strong edge still peaks where it is.
float compressed(float answer, float limit) {
  const float size = std::abs(answer);
  return size <= limit ? answer : std::copysign(std::sqrt(limit * size), answer);
}

float expanded(float compressed_answer, float limit) {
  const float size = std::abs(compressed_answer);
  return size <= limit ? compressed_answer : std::copysign(size * size / limit, compressed_answer);
}

float median_of(std::vector<float>& v) {
  const auto middle = v.begin() + static_cast<long>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

/// Scatter of the lanes' answers at every place across, smoothed: texture's own level.
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

}  // namespace

std::vector<LineCandidate> find_line_candidates(const LaneProfiles& lanes,
                                                const CandidateOptions& options) {
  std::vector<LineCandidate> found;
  const int count = lanes.light.rows, samples = lanes.light.cols;
  if (count < 6 || samples < 16) return found;
  const cv::Mat1f response = step_response(code_values(lanes.light), options.kernel_px);
  const std::vector<float> scatter = lane_scatter(response);

  const double half_length = (lanes.along_mm.back() - lanes.along_mm.front()) / 2;
  const double middle = (lanes.along_mm.back() + lanes.along_mm.front()) / 2;
  // One step of slope moves the line's end by one sample.
  const double slope_step = lanes.across_step_mm / half_length;
  const int slopes = static_cast<int>(std::ceil(options.steepest / slope_step));
  const auto limit = [&](int j) { return 6 * scatter[static_cast<std::size_t>(j)] + 6; };
  cv::Mat1f bounded(response.size());
  for (int k = 0; k < count; ++k)
    for (int j = 0; j < samples; ++j) bounded(k, j) = compressed(response(k, j), limit(j));
  cv::Mat1f score(2 * slopes + 1, samples, 0.f);
  for (int m = -slopes; m <= slopes; ++m) {
    float* out = score.ptr<float>(m + slopes);
    for (int k = 0; k < count; ++k) {
      const double shift_mm =
          m * slope_step * (lanes.along_mm[static_cast<std::size_t>(k)] - middle);
      const int shift = static_cast<int>(std::lround(shift_mm / lanes.across_step_mm));
      const float* row = bounded.ptr<float>(k) + shift;
      const int a = std::max(0, -shift), b = std::min(samples, samples - shift);
      for (int j = a; j < b; ++j) out[j] += row[j];
    }
  }
  score /= count;

  // Peaks of |score| over slope and place.
  for (int j = 1; j + 1 < samples; ++j) {
    for (int m = 0; m < score.rows; ++m) {
      const float s = score(m, j);
      const float strength = std::abs(s);
      if (strength < options.least_step) continue;
      bool peak = true;
      for (int dm = -2; dm <= 2 && peak; ++dm)
        for (int dj = -1; dj <= 1 && peak; ++dj) {
          if ((dm == 0 && dj == 0) || m + dm < 0 || m + dm >= score.rows) continue;
          const float other = score(m + dm, j + dj);
          if (other * s > 0 && (std::abs(other) > strength ||
                                (std::abs(other) == strength && (dm < 0 || (dm == 0 && dj < 0)))))
            peak = false;
        }
      if (!peak) continue;
      LineCandidate line;
      line.slope = (m - slopes) * slope_step;
      line.across_mm = lanes.across_mm(j) - line.slope * middle;
      // Support lane by lane, within one sample of the line.
      int good = 0;
      double sum = 0, squares = 0;
      std::vector<char> lane_good(static_cast<std::size_t>(count), 0);
      for (int k = 0; k < count; ++k) {
        const int at = static_cast<int>(
            std::lround(lanes.column(line.at(lanes.along_mm[static_cast<std::size_t>(k)]))));
        if (at < 1 || at + 1 >= samples) continue;
        float best = 0;
        for (int d = -1; d <= 1; ++d)
          if (bounded(k, at + d) * s > best * s) best = bounded(k, at + d);
        sum += best;
        squares += static_cast<double>(best) * best;
        if (best * s > 0 && std::abs(best) > 0.35f * strength) {
          ++good;
          lane_good[static_cast<std::size_t>(k)] = 1;
        }
      }
      const double mean = sum / count;
      const double deviation = std::sqrt(std::max(1e-6, squares / count - mean * mean));
      line.step = expanded(s, limit(j));
      // Texture is correlated over two or three lanes.
      line.significance =
          strength /
          (std::max(deviation, static_cast<double>(scatter[static_cast<std::size_t>(j)])) /
           std::sqrt(count / 2.0));
      line.support = static_cast<double>(good) / count;
      if (line.significance < options.least_significance || line.support < 0.45) continue;
      const auto first = std::find(lane_good.begin(), lane_good.end(), 1);
      const auto last = std::find(lane_good.rbegin(), lane_good.rend(), 1);
      line.along_first_mm = lanes.along_mm[static_cast<std::size_t>(first - lane_good.begin())];
      line.along_last_mm =
          lanes.along_mm[static_cast<std::size_t>(count - 1 - (last - lane_good.rbegin()))];
      found.push_back(line);
    }
  }
  // Of crossing or touching lines of the same sign keep the stronger.
  std::sort(found.begin(), found.end(), [](const LineCandidate& a, const LineCandidate& b) {
    return std::abs(a.step) > std::abs(b.step);
  });
  std::vector<LineCandidate> kept;
  for (const LineCandidate& line : found) {
    bool covered = false;
    for (const LineCandidate& other : kept) {
      const double left = line.at(middle - half_length / 2) - other.at(middle - half_length / 2);
      const double right = line.at(middle + half_length / 2) - other.at(middle + half_length / 2);
      const double nearest = left * right < 0 ? 0 : std::min(std::abs(left), std::abs(right));
      if (line.step * other.step > 0 && nearest < 2.2 * lanes.across_step_mm) covered = true;
    }
    if (!covered) kept.push_back(line);
  }
  // Texture's faintest lines are of no use in numbers.
  std::sort(kept.begin(), kept.end(), [](const LineCandidate& a, const LineCandidate& b) {
    return a.significance * a.support > b.significance * b.support;
  });
  if (kept.size() > options.most) kept.resize(options.most);
  std::sort(kept.begin(), kept.end(), [middle](const LineCandidate& a, const LineCandidate& b) {
    return a.at(middle) < b.at(middle);
  });
  return kept;
}

}  // namespace scantling
