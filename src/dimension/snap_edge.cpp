#include "dimension/snap_edge.h"

#include <algorithm>
#include <cmath>

#include "edges/edge_fit.h"
#include "edges/lane_profiles.h"
#include "edges/line_candidates.h"

namespace scantling {
namespace {

constexpr double kShortest_mm = 4;

/// A frame that runs with the segment: along from its first end to its second.
struct SegmentFrame {
  PartFrame frame;
  double length_mm = 0;
};

SegmentFrame frame_of(const PlaneScene& scene, double depth_mm, const EdgeSegment& segment) {
  const Point_mm a = scene.pose.on_plane(segment.a, depth_mm);
  const Point_mm b = scene.pose.on_plane(segment.b, depth_mm);
  SegmentFrame result;
  result.length_mm = std::hypot(b.x - a.x, b.y - a.y);
  PartFrame& f = result.frame;
  f.depth_mm = depth_mm;
  f.origin = a;
  if (result.length_mm > 0) {
    f.along_x = (b.x - a.x) / result.length_mm;
    f.along_y = (b.y - a.y) / result.length_mm;
  }
  f.across_x = f.along_y;
  f.across_y = -f.along_x;
  return result;
}

struct Snap {
  EdgeSegment segment;
  EdgeFit fit;
  double distance_mm = 0;
};

std::optional<Snap> nearest_edge(const PlaneScene& scene, double depth_mm,
                                 const EdgeSegment& proposed, double reach_px) {
  const SegmentFrame segment = frame_of(scene, depth_mm, proposed);
  if (!(segment.length_mm > kShortest_mm)) return std::nullopt;
  const double mm_per_px = segment.length_mm / std::max(1.0, distance_px(proposed.a, proposed.b));
  const double reach_mm = std::max(3.0, reach_px) * mm_per_px;
  LaneRequest request;
  request.along_last_mm = segment.length_mm;
  request.across_first_mm = -reach_mm - 10 * mm_per_px;
  request.across_last_mm = reach_mm + 10 * mm_per_px;
  request.lane_width_mm = std::min(0.4, segment.length_mm / 12);
  const LaneProfiles lanes = sample_lanes(scene.photo.luma, scene.pose, segment.frame, request);
  CandidateOptions options;
  options.steepest = std::min(0.25, 2 * reach_mm / segment.length_mm);
  options.kernel_px = std::max(1.2, scene.card_blur_px);
  const auto candidates = find_line_candidates(lanes, options);
  const double middle = segment.length_mm / 2;
  const LineCandidate* best = nullptr;
  double best_score = 0;
  for (const LineCandidate& candidate : candidates) {
    const double distance = std::abs(candidate.at(middle));
    const double tilt = std::abs(candidate.slope) * middle;
    if (distance > reach_mm || tilt > 1.5 * reach_mm) continue;
    // Strong lines draw from farther away than weak ones.
    const double score = std::sqrt(std::abs(candidate.step)) *
                         std::exp(-0.5 * std::pow((distance + 0.5 * tilt) / (0.5 * reach_mm), 2));
    if (score > best_score) {
      best_score = score;
      best = &candidate;
    }
  }
  if (!best) return std::nullopt;
  EdgeFitOptions fit_options;
  fit_options.blur_start_px = std::max(0.6, scene.card_blur_px);
  fit_options.block_mm = std::max(3 * lanes.lane_width_mm, segment.length_mm / 24);
  EdgeFit fit = fit_edge(lanes, *best, candidates, fit_options);
  if (!fit.valid || std::abs(fit.at(middle)) > reach_mm * 1.2) return std::nullopt;
  Snap snap;
  snap.segment = {
      scene.pose.project(segment.frame.place(0, fit.at(0))),
      scene.pose.project(segment.frame.place(segment.length_mm, fit.at(segment.length_mm)))};
  snap.distance_mm = fit.at(middle);
  snap.fit = std::move(fit);
  return snap;
}

}  // namespace

std::optional<EdgeSegment> snap_edge(const PlaneScene& scene, double offset_mm,
                                     const EdgeSegment& proposed, double reach_px) {
  const auto snap = nearest_edge(scene, offset_mm, proposed, reach_px);
  if (!snap) return std::nullopt;
  return snap->segment;
}

void place_by_hand(const PlaneScene& scene, const PartFrame& frame, const EdgeSegment& segment,
                   PlacedEdge& edge) {
  Point_mm a = frame.seen(scene.pose, segment.a);
  Point_mm b = frame.seen(scene.pose, segment.b);
  if (a.x > b.x) std::swap(a, b);
  const double found_mm = edge.at((a.x + b.x) / 2);
  const bool was_sure = edge.origin == EdgeOrigin::found && edge.confidence >= kConfirmBelow;
  const double usual_mm = 0.15 + 2 * std::hypot(edge.definition_u_mm, edge.placing_u_mm);
  edge.origin = EdgeOrigin::moved;
  edge.confidence = std::max(edge.confidence, 0.9);
  const double length = b.x - a.x;
  edge.slope = length > 0.5 ? (b.y - a.y) / length : 0;
  edge.middle_mm = (a.x + b.x) / 2;
  edge.across_mm = (a.y + b.y) / 2;
  edge.along_first_mm = a.x;
  edge.along_last_mm = b.x;
  // A careful hand places each end to about a pixel.
  const double mm_per_px = 1 / scene.sighting.px_per_mm;
  edge.placing_u_mm = 0.7 * mm_per_px;
  edge.slope_u = length > 0.5 ? 2 * 0.7 * mm_per_px / length : 0.1;
  edge.placing_dof = 20;
  edge.residual_px = 0;
  edge.blur_px = 0;
  const auto snap = nearest_edge(scene, frame.depth_mm, segment, 4);
  if (snap && std::abs(snap->distance_mm) < 0.4 * mm_per_px) {
    edge.placing_u_mm = std::max(0.05 * mm_per_px, snap->fit.line.height_u);
    edge.slope_u = std::max(1e-5, snap->fit.line.slope_u);
    edge.residual_px = snap->fit.residual_px;
    edge.blur_px = snap->fit.blur_px;
  }
  // A hand that contradicts a sure reading by far may have met the pad's far side or a shadow:
  // until they agree, the edge may lie anywhere between the two.
  const double shift_mm = std::abs(edge.across_mm - found_mm);
  if (was_sure && shift_mm > usual_mm) {
    edge.contradicted_mm = shift_mm;
    edge.definition_u_mm = std::hypot(edge.definition_u_mm, shift_mm / std::sqrt(3.0));
  }
}

}  // namespace scantling
