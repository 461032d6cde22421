#include "dimension/snap_edge.h"

#include <algorithm>
#include <cmath>

#include "dimension/segment_frame.h"
#include "edges/edge_fit.h"
#include "edges/lane_profiles.h"
#include "edges/line_candidates.h"

namespace scantling {
namespace {

constexpr double kShortest_mm = 4;
constexpr double kSamePlace_px = 0.05;
constexpr double kSameLine_px = 0.5;  ///< two fits of one line do not differ by more

struct Snap {
  EdgeSegment segment;
  EdgeFit fit;
  double distance_mm = 0;
};

std::optional<Snap> nearest_edge(const PlaneScene& scene, const PartFrame& part,
                                 const EdgeSegment& proposed, double reach_px) {
  const SegmentFrame segment = segment_frame(scene, part, proposed);
  if (!(segment.length_mm > kShortest_mm)) return std::nullopt;
  const PartFrame& frame = segment.frame;
  const bool swapped = frame.seen(scene.pose, proposed.a).x > frame.seen(scene.pose, proposed.b).x;
  const Point_mm a = frame.seen(scene.pose, swapped ? proposed.b : proposed.a);
  const Point_mm b = frame.seen(scene.pose, swapped ? proposed.a : proposed.b);
  const double slope = (b.y - a.y) / segment.length_mm;
  const auto wanted = [&](double along) { return a.y + slope * (along - segment.first_mm); };
  const double middle = segment.middle_mm();
  const double mm_per_px =
      1 / std::max(0.5, distance_px(scene.pose.project(frame.place(middle, wanted(middle) - 0.5)),
                                    scene.pose.project(frame.place(middle, wanted(middle) + 0.5))));
  const double reach_mm = std::max(3.0, reach_px) * mm_per_px;
  const double lean_mm = std::abs(b.y - a.y) / 2;
  LaneRequest request;
  request.along_first_mm = segment.first_mm;
  request.along_last_mm = segment.last_mm();
  request.across_first_mm = wanted(middle) - lean_mm - reach_mm - 10 * mm_per_px;
  request.across_last_mm = wanted(middle) + lean_mm + reach_mm + 10 * mm_per_px;
  request.lane_width_mm = std::min(0.4, segment.length_mm / 12);
  const LaneProfiles lanes = sample_lanes(scene.photo.luma, scene.pose, frame, request);
  CandidateOptions options;
  options.steepest = std::abs(slope) + std::min(0.25, 2 * reach_mm / segment.length_mm);
  options.kernel_px = std::max(1.2, scene.card_blur_px);
  const auto candidates = find_line_candidates(lanes, options);
  const LineCandidate* best = nullptr;
  double best_score = 0;
  for (const LineCandidate& candidate : candidates) {
    const double distance = std::abs(candidate.at(middle) - wanted(middle));
    const double tilt = std::abs(candidate.slope - slope) * segment.length_mm / 2;
    if (distance > reach_mm || tilt > 1.5 * reach_mm) continue;
    // Strong lines draw from farther away than weak ones, but not past one that is aimed at.
    const double score = std::sqrt(std::abs(candidate.step)) *
                         std::exp(-0.5 * std::pow((distance + 0.5 * tilt) / (0.35 * reach_mm), 2));
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
  if (!fit.valid || std::abs(fit.at(middle) - wanted(middle)) > reach_mm * 1.2) return std::nullopt;
  const auto on_edge = [&](double along) {
    return scene.pose.project(frame.place(along, fit.at(along)));
  };
  Snap snap;
  snap.segment = {on_edge(swapped ? segment.last_mm() : segment.first_mm),
                  on_edge(swapped ? segment.first_mm : segment.last_mm())};
  snap.distance_mm = fit.at(middle) - wanted(middle);
  snap.fit = std::move(fit);
  return snap;
}

}  // namespace

std::optional<EdgeSegment> snap_edge(const PlaneScene& scene, const PartFrame& part,
                                     const EdgeSegment& proposed, double reach_px) {
  const auto snap = nearest_edge(scene, part, proposed, reach_px);
  if (!snap) return std::nullopt;
  return snap->segment;
}

namespace {

double middle_apart_px(const EdgeSegment& p, const EdgeSegment& q) {
  return std::hypot(p.a.x + p.b.x - q.a.x - q.b.x, p.a.y + p.b.y - q.a.y - q.b.y) / 2;
}

/// The part of a read edge that lies where the segment does.
EdgeSegment beside(const PlaneScene& scene, const PartFrame& frame, const PlacedEdge& edge,
                   const EdgeSegment& segment) {
  const auto on_edge = [&](Point_px end) {
    const double along = frame.seen(scene.pose, end).x;
    return scene.pose.project(frame.place(along, edge.at(along)));
  };
  return {on_edge(segment.a), on_edge(segment.b)};
}

}  // namespace

std::optional<EdgeSegment> prefer_read_edge(const PlaneScene& scene, const PartReading& reading,
                                            const EdgeSegment& proposed, double reach_px,
                                            std::optional<EdgeSegment> snapped) {
  double least = reach_px;
  if (snapped) least = std::min(least, middle_apart_px(proposed, *snapped) + kSameLine_px);
  for (const PlacedEdge& edge : reading.edges) {
    if (edge.origin != EdgeOrigin::found) continue;
    const EdgeSegment here = beside(scene, reading.frame, edge, proposed);
    const double away = middle_apart_px(proposed, here);
    const double turned =
        std::max(distance_px(proposed.a, here.a), distance_px(proposed.b, here.b));
    if (!(away < least) || !(turned < 1.5 * reach_px)) continue;
    least = away;
    snapped = here;
  }
  return snapped;
}

void place_by_hand(const PlaneScene& scene, const PartFrame& part, const EdgeSegment& segment,
                   PlacedEdge& edge) {
  Point_mm a = part.seen(scene.pose, segment.a);
  Point_mm b = part.seen(scene.pose, segment.b);
  if (a.x > b.x) std::swap(a, b);
  const double found_mm = edge.at((a.x + b.x) / 2);
  const EdgeSegment read = beside(scene, part, edge, segment);
  const bool as_read =
      std::max(distance_px(read.a, segment.a), distance_px(read.b, segment.b)) < kSamePlace_px;
  const bool was_sure = edge.origin == EdgeOrigin::found && edge.confidence >= kConfirmBelow;
  const double usual_mm = 0.15 + 2 * std::hypot(edge.definition_u_mm, edge.placing_u_mm);
  edge.origin = EdgeOrigin::moved;
  edge.confidence = std::max(edge.confidence, 0.9);
  edge.mistaken_u_mm = 0;
  if (as_read) return;  // somebody looked and found it right: line and budget stay the reading's
  const double length = b.x - a.x;
  edge.slope = length > 0.5 ? (b.y - a.y) / length : 0;
  edge.middle_mm = (a.x + b.x) / 2;
  edge.across_mm = (a.y + b.y) / 2;
  edge.along_first_mm = a.x;
  edge.along_last_mm = b.x;
  // A careful hand places each end to about a pixel.
  const double middle = edge.middle_mm;
  const double mm_per_px =
      1 / std::max(0.5, distance_px(scene.pose.project(part.place(middle, edge.across_mm - 0.5)),
                                    scene.pose.project(part.place(middle, edge.across_mm + 0.5))));
  edge.placing_u_mm = 0.7 * mm_per_px;
  edge.slope_u = length > 0.5 ? 2 * 0.7 * mm_per_px / length : 0.1;
  edge.placing_dof = 20;
  edge.residual_px = 0;
  edge.blur_px = 0;
  const auto snap = nearest_edge(scene, part, segment, 4);
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
