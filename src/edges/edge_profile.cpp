#include "edges/edge_profile.h"

#include <algorithm>
#include <cmath>

#include "edges/edge_fit.h"
#include "edges/lane_profiles.h"
#include "edges/line_candidates.h"
#include "edges/step_group.h"

namespace scantling {
namespace {

constexpr double kNearby_px = 6;  ///< a line farther off is another edge

void fill_scatter(const LaneProfiles& lanes, const LineCandidate& line, EdgeProfile& profile) {
  for (const double offset : profile.offset_px) {
    double sum = 0, square = 0;
    int count = 0;
    for (int k = 0; k < lanes.light.rows; ++k) {
      const double column =
          lanes.column(line.at(lanes.along_mm[static_cast<std::size_t>(k)])) + offset;
      const int j = static_cast<int>(std::floor(column));
      if (j < 0 || j + 1 >= lanes.light.cols) continue;
      const double part = column - j;
      const double value = (1 - part) * lanes.light(k, j) + part * lanes.light(k, j + 1);
      if (!std::isfinite(value)) continue;
      sum += value;
      square += value * value;
      ++count;
    }
    const double mean = count > 0 ? sum / count : 0;
    profile.scatter.push_back(
        count > 1 ? std::sqrt(std::max(0.0, square / count - mean * mean) * count / (count - 1))
                  : NAN);
  }
}

/// The candidate that the line lies on: near ones and strong ones first.
const LineCandidate* nearest(const LaneProfiles& lanes, const LineCandidate& line,
                             std::span<const LineCandidate> candidates) {
  const double middle = (lanes.along_mm.front() + lanes.along_mm.back()) / 2;
  const LineCandidate* best = nullptr;
  double best_score = 0;
  for (const LineCandidate& candidate : candidates) {
    const double away = (candidate.at(middle) - line.at(middle)) / lanes.across_step_mm;
    if (std::abs(away) > kNearby_px) continue;
    const double score =
        std::sqrt(std::abs(candidate.step)) * std::exp(-0.5 * std::pow(away / 2, 2));
    if (score > best_score) {
      best_score = score;
      best = &candidate;
    }
  }
  return best;
}

bool fit_group(const LaneProfiles& lanes, const LineCandidate& wanted, const StepGroup& group,
               double blur_start_px, double from_line_px, EdgeProfile& profile) {
  const EdgeFitOptions limits;
  StepFitOptions options;
  options.blur_start = blur_start_px;
  options.blur_least = limits.least_blur_px;
  options.blur_most = group.starts.size() > 1 ? 1.4 * blur_start_px : limits.most_blur_px;
  options.place_prior_u = 1.0;
  const auto values = block_profile(lanes, wanted, 0, lanes.light.rows, group.low, group.high);
  StepFit fit = fit_steps(values, group.starts, options);
  if (!fit.converged || fit.height[group.own] * wanted.step <= 0) return false;
  profile.fitted = true;
  profile.first_px = from_line_px + group.low;
  profile.last_px = from_line_px + group.high;
  profile.place_px = profile.first_px + fit.place[group.own];
  profile.place_u_px = fit.place_u[group.own];
  profile.blur_px = fit.blur;
  profile.step_light = fit.height[group.own];
  for (std::size_t j = 0; j < fit.place.size(); ++j)
    if (j != group.own) profile.neighbours_px.push_back(profile.first_px + fit.place[j]);
  profile.fit = std::move(fit);
  return true;
}

}  // namespace

double EdgeProfile::model(double offset) const {
  const double x = offset - first_px;
  double light_there = fit.level + fit.slope * x;
  for (std::size_t j = 0; j < fit.place.size(); ++j)
    light_there += fit.height[j] * 0.5 * std::erfc(-(x - fit.place[j]) / fit.blur * M_SQRT1_2);
  return light_there;
}

EdgeProfile profile_across(const LaneProfiles& lanes, const LineCandidate& line,
                           std::span<const LineCandidate> candidates, double reach_px,
                           double blur_start_px) {
  EdgeProfile profile;
  if (lanes.light.empty()) return profile;
  const int reach = static_cast<int>(std::lround(reach_px));
  for (int d = -reach; d <= reach; ++d) profile.offset_px.push_back(d);
  for (const float value : block_profile(lanes, line, 0, lanes.light.rows, -reach, reach))
    profile.light.push_back(value);
  fill_scatter(lanes, line, profile);

  const LineCandidate* found = nearest(lanes, line, candidates);
  if (!found) return profile;
  // Averaged along the line as it stands; only its place may differ from the candidate's.
  const double middle = (lanes.along_mm.front() + lanes.along_mm.back()) / 2;
  const double from_line_px = (found->at(middle) - line.at(middle)) / lanes.across_step_mm;
  LineCandidate wanted = line;
  wanted.across_mm += from_line_px * lanes.across_step_mm;
  wanted.step = found->step;
  const double fit_reach = EdgeFitOptions{}.reach_px;
  for (const bool alone : {false, true})
    if (fit_group(lanes, wanted, step_group(lanes, wanted, candidates, fit_reach, alone),
                  blur_start_px, from_line_px, profile))
      break;
  return profile;
}

}  // namespace scantling
