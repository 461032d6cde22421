#include "edges/line_candidates.h"

#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>

#include "edges/step_response.h"

namespace scantling {

std::vector<LineCandidate> find_line_candidates(const LaneProfiles& lanes,
                                                const CandidateOptions& options) {
  std::vector<LineCandidate> found;
  const int count = lanes.light.rows, samples = lanes.light.cols;
  if (count < 6 || samples < 16) return found;
  const LaneCodes codes(lanes);
  const cv::Mat1f response = step_response(codes, options.kernel_px);
  const cv::Mat1f broad = step_response(codes, 2 * options.kernel_px);
  const std::vector<float> scatter = lane_scatter(response);

  const double half_length = (lanes.along_mm.back() - lanes.along_mm.front()) / 2;
  const double middle = (lanes.along_mm.back() + lanes.along_mm.front()) / 2;
  // One step of slope moves the line's end by one sample.
  const double slope_step = lanes.across_step_mm / half_length;
  const int slopes = static_cast<int>(std::ceil(options.steepest / slope_step));
  const auto limit = [&](int j) { return answer_limit(scatter[static_cast<std::size_t>(j)]); };
  cv::Mat1f bounded(response.size());
  for (int k = 0; k < count; ++k)
    for (int j = 0; j < samples; ++j) bounded(k, j) = compressed_answer(response(k, j), limit(j));
  // Lanes that show nothing at a place (a card lies there) don't speak against a line.
  bool gaps = false;
  cv::Mat1f shown(response.size(), 1.f);
  for (int k = 0; k < count; ++k)
    for (int j = 0; j < samples; ++j)
      if (!std::isfinite(lanes.light(k, j))) {
        gaps = true;
        shown(k, j) = 0;
      }
  cv::Mat1f score(2 * slopes + 1, samples, 0.f);
  cv::Mat1f lanes_shown(score.size(), static_cast<float>(count));
  if (gaps) lanes_shown.setTo(0.f);
  for (int m = -slopes; m <= slopes; ++m) {
    float* out = score.ptr<float>(m + slopes);
    for (int k = 0; k < count; ++k) {
      const double shift_mm =
          m * slope_step * (lanes.along_mm[static_cast<std::size_t>(k)] - middle);
      const int shift = static_cast<int>(std::lround(shift_mm / lanes.across_step_mm));
      const float* row = bounded.ptr<float>(k) + shift;
      const int a = std::max(0, -shift), b = std::min(samples, samples - shift);
      for (int j = a; j < b; ++j) out[j] += row[j];
      if (!gaps) continue;
      const float* seen = shown.ptr<float>(k) + shift;
      float* sum = lanes_shown.ptr<float>(m + slopes);
      for (int j = a; j < b; ++j) sum[j] += seen[j];
    }
  }
  // A quarter of the lanes is the least that can carry a line.
  cv::Mat1f divisor;
  cv::max(lanes_shown, 0.25 * count, divisor);
  cv::divide(score, divisor, score);

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
      int good = 0, visible = 0;
      double sum = 0, squares = 0, narrow_sum = 0, broad_sum = 0;
      std::vector<char> lane_good(static_cast<std::size_t>(count), 0);
      for (int k = 0; k < count; ++k) {
        const int at = static_cast<int>(
            std::lround(lanes.column(line.at(lanes.along_mm[static_cast<std::size_t>(k)]))));
        if (at < 1 || at + 1 >= samples || shown(k, at) == 0) continue;
        ++visible;
        narrow_sum += compressed_answer(response(k, at), limit(at));
        broad_sum += compressed_answer(broad(k, at), limit(at));
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
      const int lanes_there = std::max(visible, count / 4);
      const double mean = sum / lanes_there;
      const double deviation = std::sqrt(std::max(1e-6, squares / lanes_there - mean * mean));
      line.step = expanded_answer(s, limit(j));
      // Texture is correlated over two or three lanes.
      line.significance =
          strength /
          (std::max(deviation, static_cast<double>(scatter[static_cast<std::size_t>(j)])) /
           std::sqrt(lanes_there / 2.0));
      // A slow change answers a filter of twice the width twice as much, a step about alike.
      const double ratio = narrow_sum * broad_sum > 0 ? narrow_sum / broad_sum : 1;
      line.sharpness = std::clamp((ratio - 0.52) / 0.2, 0.0, 1.0);
      line.support = static_cast<double>(good) / lanes_there;
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
