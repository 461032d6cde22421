#include "edges/edge_fit.h"

#include <algorithm>
#include <cmath>

#include "edges/step_fit.h"
#include "edges/step_group.h"

namespace scantling {
namespace {

double median(std::vector<double> v) {
  if (v.empty()) return 0;
  const auto middle = v.begin() + static_cast<long>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

EdgeFit fit_group(const LaneProfiles& lanes, const LineCandidate& wanted, StepGroup group,
                  const EdgeFitOptions& options) {
  const int count = lanes.light.rows;
  const int block =
      std::max(1, static_cast<int>(std::lround(options.block_mm / lanes.lane_width_mm)));
  const double step = lanes.across_step_mm;

  EdgeFit fit;
  LineCandidate line = wanted;
  for (int round = 0; round < 2; ++round) {
    // All lanes together: texture averages out, so blur and neighbouring steps come out clean.
    StepFitOptions whole;
    whole.blur_start = options.blur_start_px;
    whole.blur_least = options.least_blur_px;
    // Close neighbours account for a rounded edge's width; a lone edge may be blurred itself.
    whole.blur_most = group.starts.size() > 1 ? 1.4 * options.blur_start_px : options.most_blur_px;
    whole.place_prior_u = 1.0;
    const StepFit mean =
        fit_steps(block_profile(lanes, line, 0, count, group.low, group.high), group.starts, whole);
    if (!mean.converged || mean.height[group.own] * wanted.step <= 0) return fit;

    StepFitOptions piece = whole;
    piece.free_blur = false;
    piece.blur_start = mean.blur;
    piece.place_prior_u = 0.5;
    piece.tolerance = 2e-3;
    fit = EdgeFit{};
    std::vector<double> weight, contrast, light;
    for (int first = 0; first + block / 2 < count; first += block) {
      const int last = std::min(count, first + block);
      const double along = (lanes.along_mm[static_cast<std::size_t>(first)] +
                            lanes.along_mm[static_cast<std::size_t>(last - 1)]) /
                           2;
      if (along < wanted.along_first_mm - options.block_mm ||
          along > wanted.along_last_mm + options.block_mm)
        continue;
      const auto profile = block_profile(lanes, line, first, last, group.low, group.high);
      // First the block as a whole, then its own edge within half a sample of that.
      const double shift = fit_shift(profile, mean, 4);
      if (!std::isfinite(shift)) continue;
      std::vector<double> starts = mean.place;
      for (double& place : starts) place += shift;
      const StepFit steps = fit_steps(profile, starts, piece);
      if (!steps.converged || steps.height[group.own] * wanted.step <= 0) continue;
      fit.along_mm.push_back(along);
      fit.across_mm.push_back(line.at(along) + (steps.place[group.own] + group.low) * step);
      weight.push_back(1 / (std::pow(std::max(0.02, steps.place_u[group.own]), 2) + 0.02));
      contrast.push_back(std::abs(steps.height[group.own]) / std::max(1e-5, steps.noise));
      light.push_back(steps.height[group.own]);
    }
    if (fit.along_mm.size() < 5) return fit;
    fit.line = fit_robust_line(fit.along_mm, fit.across_mm, weight, 0.02 * step);
    if (!fit.line.valid) return fit;
    fit.blur_px = mean.blur;
    fit.contrast = median(contrast);
    fit.step_light = median(light);
    fit.residual_px = fit.line.spread / step;
    // The next round's own line lies where this one was found; its neighbours move along.
    for (std::size_t j = 0; j < group.starts.size(); ++j)
      group.starts[j] = mean.place[j] - mean.place[group.own] - group.low;
    const double half = (wanted.along_last_mm - wanted.along_first_mm) / 2;
    const bool settled = std::abs(fit.line.slope - line.slope) * half < 0.4 * step;
    line.slope = fit.line.slope;
    line.across_mm = fit.line.at(0);
    if (settled) break;  // the lanes were averaged along the right line
  }
  // A fit that left the candidate has found something else.
  const double middle = (wanted.along_first_mm + wanted.along_last_mm) / 2;
  fit.valid = std::abs(fit.at(middle) - wanted.at(middle)) < 3 * step;
  return fit;
}

}  // namespace

EdgeFit fit_edge(const LaneProfiles& lanes, const LineCandidate& wanted,
                 std::span<const LineCandidate> neighbours, const EdgeFitOptions& options) {
  const StepGroup together = step_group(lanes, wanted, neighbours, options.reach_px, false);
  EdgeFit fit = fit_group(lanes, wanted, together, options);
  // A weak neighbour's place may run away with the whole model, at a hundredth of a pixel's change.
  if (fit.valid || together.starts.size() == 1) return fit;
  EdgeFit lone = fit_group(lanes, wanted,
                           step_group(lanes, wanted, neighbours, options.reach_px, true), options);
  lone.alone = true;
  return lone.valid ? lone : fit;
}

namespace {

/// Holds the light constant beyond the line's own rise or fall, so that a neighbour's flank does
/// not count as part of it.
void flatten_beyond(std::vector<float>& profile, int centre, double sign) {
  const int size = static_cast<int>(profile.size());
  for (const int way : {-1, +1}) {
    for (int i = centre + way; i + way >= 0 && i + way < size; i += way) {
      const double rise = sign * way *
                          (double{profile[static_cast<std::size_t>(i + way)]} -
                           profile[static_cast<std::size_t>(i)]);
      if (rise >= 0) continue;
      for (int k = i + way; k >= 0 && k < size; k += way)
        profile[static_cast<std::size_t>(k)] = profile[static_cast<std::size_t>(i)];
      break;
    }
  }
}

}  // namespace

SplitEdge split_edge(const LaneProfiles& lanes, const LineCandidate& fitted,
                     std::span<const LineCandidate> neighbours, double lens_blur, double widest) {
  const double middle = (lanes.along_mm.front() + lanes.along_mm.back()) / 2;
  double below = 7, above = 7;
  for (const LineCandidate& other : neighbours) {
    const double d = (other.at(middle) - fitted.at(middle)) / lanes.across_step_mm;
    if (std::abs(d) < 0.8) continue;
    double& side = d < 0 ? below : above;
    side = std::min(side, std::max(2.0, std::abs(d)));
  }
  const int low = -static_cast<int>(std::lround(below)),
            high = static_cast<int>(std::lround(above));
  std::vector<float> profile = block_profile(lanes, fitted, 0, lanes.light.rows, low, high);
  const double sign = fitted.step > 0 ? 1 : -1;
  flatten_beyond(profile, -low, sign);
  SplitEdge result;
  StepFitOptions options;
  options.blur_start = lens_blur;
  options.free_blur = false;
  options.free_slope = false;
  const double one[] = {static_cast<double>(-low)};
  const StepFit single = fit_steps(profile, one, options);
  const double two[] = {-low - 1.0, -low + 1.0};
  options.place_prior_u = 2.5;
  const StepFit pair = fit_steps(profile, two, options);
  if (!pair.converged || !single.converged) return result;
  const double share = pair.height[0] / (pair.height[0] + pair.height[1]);
  if (pair.height[0] * sign <= 0 || pair.height[1] * sign <= 0) return result;
  if (share < 0.2 || share > 0.8 || pair.noise > 0.5 * single.noise) return result;
  const double gap = pair.place[1] - pair.place[0];
  if (gap < lens_blur || gap > widest) return result;
  result.split = true;
  result.low = pair.place[0] + low;
  result.high = pair.place[1] + low;
  return result;
}

double turn_beyond(const LaneProfiles& lanes, const LineCandidate& fitted, int side, int reach) {
  const std::vector<float> profile = block_profile(lanes, fitted, 0, lanes.light.rows,
                                                   side > 0 ? 0 : -reach, side > 0 ? reach : 0);
  const auto at = [&](int i) {
    return double{profile[static_cast<std::size_t>(side > 0 ? i : reach - i)]};
  };
  const double sign = (fitted.step > 0 ? 1 : -1) * side;  // of the change, going outwards
  for (int i = 1; i + 2 <= reach; ++i) {
    const double before = sign * (at(i) - at(i - 1)), after = sign * (at(i + 1) - at(i));
    if (!std::isfinite(before) || !std::isfinite(after)) return 0;
    if (after >= 0 || sign * (at(i + 2) - at(i)) >= 0) continue;
    // A parabola through the three values about the turn.
    return i + std::clamp((before + after) / (2 * (before - after) + 1e-12), -0.5, 0.5);
  }
  return 0;
}

double slope_beyond(const LaneProfiles& lanes, const LineCandidate& fitted, double lens_blur,
                    int reach) {
  constexpr int kBefore = 3;
  const std::vector<float> profile =
      block_profile(lanes, fitted, 0, lanes.light.rows, -kBefore, reach);
  const double sign = fitted.step > 0 ? 1 : -1;
  std::vector<double> rise;  // between value i and i + 1
  for (std::size_t i = 0; i + 1 < profile.size(); ++i)
    rise.push_back(sign * (double{profile[i + 1]} - double{profile[i]}));
  double steepest = 0;
  for (std::size_t i = 0; i < 2 * kBefore && i < rise.size(); ++i)
    if (std::isfinite(rise[i])) steepest = std::max(steepest, rise[i]);
  if (steepest <= 0) return 0;
  // A Gaussian's flank falls to a fifth at 1.8 sigma.
  constexpr double kShare = 0.2, kSigmas = 1.8;
  for (std::size_t i = kBefore; i < rise.size(); ++i) {
    if (!(rise[i] < kShare * steepest)) continue;
    const double before = rise[i - 1], here = rise[i];
    const double part = std::clamp((before - kShare * steepest) / (before - here), 0.0, 1.0);
    const double end = static_cast<double>(i) - 1 + part + 0.5 - kBefore;
    return std::max(0.0, end - kSigmas * std::hypot(lens_blur, 0.3));
  }
  return 0;
}

}  // namespace scantling
