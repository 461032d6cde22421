#include "dimension/place_edge.h"

#include <algorithm>
#include <cmath>

namespace scantling {

EdgeFitOptions edge_fit_options(double card_blur_px) {
  EdgeFitOptions options;
  options.blur_start_px = std::max(0.6, card_blur_px);
  options.least_blur_px = std::max(0.35, 0.6 * card_blur_px);
  return options;
}

LineFits::LineFits(const LaneProfiles& lanes, std::span<const LineCandidate> lines,
                   double card_blur_px)
    : lanes_(&lanes),
      lines_(lines),
      card_blur_px_(card_blur_px),
      options_(edge_fit_options(card_blur_px)) {}

const EdgeFit& LineFits::of(int index) {
  const auto known = fits_.find(index);
  if (known != fits_.end()) return known->second;
  return fits_.emplace(index, fit_edge(*lanes_, line(index), lines_, options_)).first->second;
}

double LineFits::part_blur_px(std::span<const int> own) {
  double sharpest = 1.5 * card_blur_px_;
  for (const int i : own)
    if (const EdgeFit& fit = of(i); fit.valid) sharpest = std::min(sharpest, fit.blur_px);
  return std::max(options_.blur_start_px, sharpest);
}

PlacedEdge place_edge(const char* name, LineFits& fits, int index, const PlacingOptions& options) {
  PlacedEdge edge;
  edge.name = name;
  const LaneProfiles& lanes = fits.lanes();
  const LineCandidate& candidate = fits.line(index);
  const EdgeFit& fit = fits.of(index);
  edge.along_first_mm = candidate.along_first_mm;
  edge.along_last_mm = candidate.along_last_mm;
  edge.step = candidate.step;
  const double mm_per_px = lanes.across_step_mm;
  if (!fit.valid) {
    edge.middle_mm = (edge.along_first_mm + edge.along_last_mm) / 2;
    edge.across_mm = candidate.at(edge.middle_mm);
    edge.slope = candidate.slope;
    edge.placing_u_mm = 1.0 * mm_per_px;
    edge.slope_u = mm_per_px / 20;
    edge.placing_dof = 3;
    edge.confidence = 0.35;
    return edge;
  }
  edge.middle_mm = fit.line.middle;
  edge.across_mm = fit.line.height;
  edge.slope = fit.line.slope;
  // JPEG, tone curve and sharpening leave a few hundredths of a pixel that no averaging removes.
  edge.placing_u_mm = std::hypot(fit.line.height_u, 0.06 * mm_per_px);
  // A neighbour's flank may still reach into the window.
  if (fit.alone) edge.placing_u_mm = std::hypot(edge.placing_u_mm, 0.3 * mm_per_px);
  edge.slope_u = std::max(1e-5, fit.line.slope_u);
  edge.placing_dof = std::max(3.0, fit.line.effective_points - 2);
  edge.blur_px = fit.blur_px;
  edge.residual_px = fit.residual_px;
  if (options.outward != 0) {
    LineCandidate fitted = candidate;
    fitted.slope = fit.line.slope;
    fitted.across_mm = fit.line.at(0);
    const SplitEdge split =
        split_edge(lanes, fitted, fits.lines(), options.part_blur_px, options.widest_split_px);
    if (split.split) {
      edge.across_mm += mm_per_px * (options.outward > 0 ? split.high : split.low);
      edge.split_mm = mm_per_px * (split.high - split.low);
      edge.definition_u_mm = 0.2 * edge.split_mm;
    }
    const int reach = std::clamp(static_cast<int>(0.8 / mm_per_px), 4, 12);
    // Farther than the blur reaches it is only the corner's slow shade.
    edge.turn_mm = mm_per_px * std::min(turn_beyond(lanes, fitted, options.outward, reach),
                                        2.5 * fits.options().blur_start_px);
  }
  const double visible = std::min(1.0, std::abs(candidate.step) / 12);
  const double clean = std::min(1.0, candidate.significance / 15);
  edge.confidence =
      0.98 * (0.4 + 0.6 * visible) * (0.4 + 0.6 * clean) * (0.5 + 0.5 * fit.line.inlier_share);
  if (fit.alone) edge.confidence *= 0.85;
  return edge;
}

void prefer_sharp_line(const LaneProfiles& lanes, const LineCandidate& line, double blur_px,
                       PlacedEdge& edge) {
  if (edge.residual_px < 1.2 && edge.blur_px < 2 * std::max(0.8, blur_px)) return;
  const double middle = (edge.along_first_mm + edge.along_last_mm) / 2;
  const double apart_mm = std::abs(edge.at(middle) - line.at(middle));
  edge.middle_mm = middle;
  edge.across_mm = line.at(middle);
  edge.slope = line.slope;
  edge.placing_u_mm = std::hypot(0.4 * lanes.across_step_mm, 0.3 * apart_mm);
  edge.placing_dof = 8;
}

PlacedRival rival_of(const PlacedEdge& edge, const LineCandidate& line, std::string reading) {
  PlacedRival rival;
  rival.line.name = edge.name;
  rival.line.middle_mm = 0;
  rival.line.across_mm = line.across_mm;
  rival.line.slope = line.slope;
  rival.line.along_first_mm = line.along_first_mm;
  rival.line.along_last_mm = line.along_last_mm;
  rival.strength = std::min(1.0, std::abs(line.step) / std::max(1.0, std::abs(edge.step)));
  rival.reading = std::move(reading);
  return rival;
}

void keep_strongest_rivals(std::vector<PlacedRival>& rivals) {
  std::sort(rivals.begin(), rivals.end(),
            [](const PlacedRival& a, const PlacedRival& b) { return a.strength > b.strength; });
  if (rivals.size() > 5) rivals.resize(5);
}

}  // namespace scantling
