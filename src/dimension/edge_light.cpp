#include "dimension/edge_light.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "dimension/segment_frame.h"
#include "edges/lane_profiles.h"
#include "edges/line_candidates.h"

namespace scantling {
namespace {

constexpr double kShortest_mm = 2;
constexpr double kReach_px = 16;   ///< shown to each side
constexpr double kBeyond_px = 10;  ///< sampled beyond that, for the lines next to it
constexpr int kLeastSamples = 9;   ///< with light, of those shown

}  // namespace

std::optional<EdgeLight> edge_light(const PlaneScene& scene, const PartFrame& part,
                                    const EdgeSegment& proposed) {
  EdgeSegment run = proposed;
  SegmentFrame segment = segment_frame(scene, part, run);
  // Distances grow as the part's own do, whichever way the segment was drawn.
  if (segment.frame.across_x * part.across_x + segment.frame.across_y * part.across_y < 0) {
    std::swap(run.a, run.b);
    segment = segment_frame(scene, part, run);
  }
  if (!(segment.length_mm > kShortest_mm)) return std::nullopt;
  const PartFrame& frame = segment.frame;
  Point_mm a = frame.seen(scene.pose, run.a), b = frame.seen(scene.pose, run.b);
  if (a.x > b.x) std::swap(a, b);
  LineCandidate line;
  line.slope = (b.y - a.y) / segment.length_mm;
  line.across_mm = a.y - line.slope * segment.first_mm;
  line.along_first_mm = segment.first_mm;
  line.along_last_mm = segment.last_mm();
  const double middle = segment.middle_mm();
  const auto on_photo = [&](double across_mm) {
    return scene.pose.project(frame.place(middle, line.at(middle) + across_mm));
  };
  const double mm_per_px = 1 / std::max(0.5, distance_px(on_photo(-0.5), on_photo(0.5)));
  const double lean_mm = std::abs(b.y - a.y) / 2;
  const double reach_mm = lean_mm + (kReach_px + kBeyond_px) * mm_per_px;
  LaneRequest request;
  request.along_first_mm = segment.first_mm;
  request.along_last_mm = segment.last_mm();
  request.across_first_mm = line.at(middle) - reach_mm;
  request.across_last_mm = line.at(middle) + reach_mm;
  request.lane_width_mm = std::min(0.4, segment.length_mm / 12);
  const LaneProfiles lanes = sample_lanes(scene.photo.luma, scene.pose, frame, request);
  if (lanes.light.empty()) return std::nullopt;
  CandidateOptions options;
  options.steepest = std::abs(line.slope) + 0.05;
  options.kernel_px = std::max(1.2, scene.card_blur_px);
  EdgeLight light;
  light.profile = profile_across(lanes, line, find_line_candidates(lanes, options), kReach_px,
                                 std::max(0.6, scene.card_blur_px));
  const auto& values = light.profile.light;
  if (std::count_if(values.begin(), values.end(), [](double v) { return std::isfinite(v); }) <
      kLeastSamples)
    return std::nullopt;
  light.mm_per_px = lanes.across_step_mm;
  light.first = on_photo(-kReach_px * lanes.across_step_mm);
  light.last = on_photo(kReach_px * lanes.across_step_mm);
  return light;
}

}  // namespace scantling
