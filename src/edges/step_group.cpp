#include "edges/step_group.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace scantling {

std::vector<float> block_profile(const LaneProfiles& lanes, const LineCandidate& line, int first,
                                 int last, int low, int high) {
  std::vector<float> profile;
  std::vector<float> values;
  for (int d = low; d <= high; ++d) {
    values.clear();
    for (int k = first; k < last; ++k) {
      const double column = lanes.column(line.at(lanes.along_mm[static_cast<std::size_t>(k)])) + d;
      const int j = static_cast<int>(std::floor(column));
      if (j < 0 || j + 1 >= lanes.light.cols) continue;
      const auto f = static_cast<float>(column - j);
      const float value = lanes.light(k, j) + f * (lanes.light(k, j + 1) - lanes.light(k, j));
      if (std::isfinite(value)) values.push_back(value);
    }
    if (values.size() < 2) {
      profile.push_back(std::numeric_limits<float>::quiet_NaN());
      continue;
    }
    // A metal fleck or a pit in one lane must not move the block: leave out the extremes.
    std::sort(values.begin(), values.end());
    const std::size_t trim = values.size() >= 5 ? values.size() / 5 : 0;
    float sum = 0;
    for (std::size_t i = trim; i < values.size() - trim; ++i) sum += values[i];
    profile.push_back(sum / static_cast<float>(values.size() - 2 * trim));
  }
  return profile;
}

namespace {
constexpr std::size_t kMostSteps = 4;
}  // namespace

StepGroup step_group(const LaneProfiles& lanes, const LineCandidate& wanted,
                     std::span<const LineCandidate> neighbours, double reach_px, bool alone) {
  const double middle = (lanes.along_mm.front() + lanes.along_mm.back()) / 2;
  std::vector<double> below, above;  // distances, nearest first
  for (const LineCandidate& other : neighbours) {
    const double distance = (other.at(middle) - wanted.at(middle)) / lanes.across_step_mm;
    if (std::abs(distance) >= 0.8) (distance < 0 ? below : above).push_back(std::abs(distance));
  }
  std::sort(below.begin(), below.end());
  std::sort(above.begin(), above.end());
  // A neighbour is fitted along while it is within 7 samples; the window ends short of the next.
  std::size_t used_below = 0, used_above = 0;
  while (!alone && used_below < below.size() && below[used_below] < 7 && used_below < 2)
    ++used_below;
  while (!alone && used_above < above.size() && above[used_above] < 7 &&
         used_below + used_above + 1 < kMostSteps && used_above < 2)
    ++used_above;
  const auto end = [&](const std::vector<double>& side, std::size_t used) {
    const double inside = used > 0 ? side[used - 1] : 0;
    double r = std::max(reach_px, inside + 4);
    if (used < side.size()) r = std::min(r, std::max(inside + 1.5, side[used] - 2.5));
    return std::max(3.0, r);
  };
  StepGroup group;
  group.low = -static_cast<int>(std::lround(end(below, used_below)));
  group.high = static_cast<int>(std::lround(end(above, used_above)));
  for (std::size_t i = used_below; i-- > 0;) group.starts.push_back(-below[i] - group.low);
  group.own = group.starts.size();
  group.starts.push_back(-group.low);
  for (std::size_t i = 0; i < used_above; ++i) group.starts.push_back(above[i] - group.low);
  return group;
}

}  // namespace scantling
