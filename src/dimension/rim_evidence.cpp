#include "dimension/rim_evidence.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "edges/edge_bend.h"

namespace scantling {
namespace {

std::vector<double> bends_in_u(const RimView& view, const MeasureOptions& options, LineFits& fits) {
  // Fit and pose leave a little more than the blocks' scatter tells.
  constexpr double kLeast_u = 1.2e-4;
  const double radius = view.frame.rim_radius_mm;
  const double radius_u = options.disc_diameter_mm ? 0.02 * radius : kTriedRimRadius_u_mm;
  std::vector<double> bent;
  for (int i = 0; i < static_cast<int>(view.lines.size()); ++i) {
    const std::optional<EdgeBend> bend = edge_bend(fits.of(i));
    // Another radius bends what is seen from above or below: the sagitta x^2 / 2R lies behind the
    // card and shows as elevation times that.
    const double elevation = std::abs(view.elevation(view.at(i)));
    const double of_radius = elevation * radius_u / (2 * radius * radius);
    bent.push_back(
        bend ? bend->bend_per_mm / std::hypot(bend->standard_uncertainty, of_radius, kLeast_u) : 0);
  }
  return bent;
}

/// How far from the notch's middle the card ends, along the rim, towards `side`.
double card_ends_mm(const PlaneScene& scene, const PartFrame& frame, int side) {
  const Rectangle_mm& sheet = scene.sighting.card->sheet;
  const double sx = scene.pose.scale_x(), sy = scene.pose.scale_y();
  double last = -1e9;
  for (const double x : {sheet.x_min * sx, sheet.x_max * sx})
    for (const double y : {sheet.y_min * sy, sheet.y_max * sy})
      last = std::max(last, side * ((x - frame.origin.x) * frame.along_x +
                                    (y - frame.origin.y) * frame.along_y));
  return last;
}

/// Where the rim, which lies farther and farther behind the card, comes out from behind it.
std::optional<double> comes_out_mm(const PlaneScene& scene, const RimView& view, int side) {
  constexpr double kClear_mm = 2.5, kFarthest_mm = 40;
  const PartFrame& frame = view.frame;
  const double ends = card_ends_mm(scene, frame, side);
  const double across = view.lanes.across_mm(view.lanes.light.cols / 2.0);
  for (double start = ends; start < ends + kFarthest_mm; start += 1) {
    const Point_mm on_card =
        scene.pose.on_plane(scene.pose.project(frame.place(side * start, across)), 0);
    const double along =
        (on_card.x - frame.origin.x) * frame.along_x + (on_card.y - frame.origin.y) * frame.along_y;
    if (side * along > ends + kClear_mm) return start;
  }
  return std::nullopt;
}

}  // namespace

RimEvidence rim_evidence(const PlaneScene& scene, const RimView& view,
                         const MeasureOptions& options, LineFits& fits) {
  constexpr double kLongest_mm = 26, kShortest_mm = 12, kSpare_mm = 6;
  constexpr double kMostlySeen = 0.6;
  RimEvidence evidence;
  evidence.bent = bends_in_u(view, options, fits);
  for (const int side : {-1, 1}) {
    const std::optional<double> start = comes_out_mm(scene, view, side);
    if (!start) continue;
    // Farther round, the rim turns away.
    const double length = std::min(kLongest_mm, 0.95 * view.frame.rim_radius_mm - *start);
    if (length < kShortest_mm) continue;
    LaneRequest request;
    request.along_first_mm = side > 0 ? *start : -*start - length;
    request.along_last_mm = request.along_first_mm + length;
    request.across_first_mm = view.lanes.across_mm(0) - kSpare_mm;
    request.across_last_mm = view.lanes.across_mm(view.lanes.light.cols - 1) + kSpare_mm;
    request.lane_width_mm = 0.8;
    const LaneProfiles lanes = sample_lanes(scene.photo.luma, scene.pose, view.frame, request);
    const auto seen = std::count_if(lanes.light.begin(), lanes.light.end(),
                                    [](float light) { return std::isfinite(light); });
    if (static_cast<double>(seen) < kMostlySeen * static_cast<double>(lanes.light.total()))
      continue;
    CandidateOptions wanted;
    wanted.kernel_px = std::clamp(scene.card_blur_px, 1.0, 3.0);
    wanted.steepest = 0.2;  // the disc may stand a little aside, and be larger or smaller
    evidence.beyond_card.push_back({find_line_candidates(lanes, wanted),
                                    (request.along_first_mm + request.along_last_mm) / 2});
  }
  return evidence;
}

}  // namespace scantling
