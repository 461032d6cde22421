#include "dimension/lip_view.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>

#include "dimension/place_edge.h"
#include "edges/arc_search.h"
#include "edges/edge_fit.h"

namespace scantling {
namespace {

constexpr double kHalfLength_mm = 48;  ///< along the lip, to either side of the card's middle
constexpr double kReach_mm = 46;       ///< outwards from the card's middle
constexpr double kMargin_mm = 0.6;     ///< kept clear round the card's outline

Point_mm card_middle(const PlaneScene& scene) {
  const Rectangle_mm& s = scene.sighting.card->sheet;
  return {(s.x_min + s.x_max) / 2 * scene.pose.scale_x(),
          (s.y_min + s.y_max) / 2 * scene.pose.scale_y()};
}

/// Looking outwards: away from the camera, across the card.
PartFrame looking_out(const PlaneScene& scene) {
  PartFrame frame;
  const Point3_mm camera = scene.pose.camera_centre();
  frame.origin = card_middle(scene);
  const double x = frame.origin.x - camera.x, y = frame.origin.y - camera.y;
  const double length = std::max(1e-6, std::hypot(x, y));
  frame.across_x = x / length;
  frame.across_y = y / length;
  // Seen along `across`, `along` grows to the right: the card's frame has y down.
  frame.along_x = -frame.across_y;
  frame.along_y = frame.across_x;
  frame.depth_mm = track_depth_mm(scene);
  return frame;
}

/// The card's paper, and what it hides by standing above the track, says nothing about the disc.
void blank_card(const PlaneScene& scene, const PartFrame& frame, double hidden_mm,
                LaneProfiles& lanes) {
  const Rectangle_mm& s = scene.sighting.card->sheet;
  const double sx = scene.pose.scale_x(), sy = scene.pose.scale_y();
  const double margin = kMargin_mm + hidden_mm;
  for (int k = 0; k < lanes.light.rows; ++k)
    for (int j = 0; j < lanes.light.cols; ++j) {
      const Point3_mm p =
          frame.place(lanes.along_mm[static_cast<std::size_t>(k)], lanes.across_mm(j));
      if (p.x > s.x_min * sx - margin && p.x < s.x_max * sx + margin &&
          p.y > s.y_min * sy - margin && p.y < s.y_max * sy + margin)
        lanes.light(k, j) = std::numeric_limits<float>::quiet_NaN();
    }
}

/// The stretch of `along` in which the photo shows the frame from `across_first` to `across_last`.
void clip_to_photo(const PlaneScene& scene, const PartFrame& frame, LaneRequest& request) {
  const auto inside = [&](double along) {
    for (const double across :
         {request.across_first_mm + 0.55 * (request.across_last_mm - request.across_first_mm)}) {
      const Point_px p = scene.pose.project(frame.place(along, across));
      if (!(p.x > 2 && p.y > 2 && p.x < scene.photo.width_px() - 3 &&
            p.y < scene.photo.height_px() - 3))
        return false;
    }
    return true;
  };
  while (request.along_first_mm < -4 && !inside(request.along_first_mm)) request.along_first_mm++;
  while (request.along_last_mm > 4 && !inside(request.along_last_mm)) request.along_last_mm--;
}

/// Bends the ring frame so that its clearest line runs straight; false where it does already, or
/// where no line is clear enough to tell.
bool straighten(const PlaneScene& scene, LipView& view) {
  const auto clear = [](const LineCandidate& line) {
    return line.significance * line.support * std::min(1.0, std::abs(line.step) / 25);
  };
  const LineCandidate* clearest = nullptr;
  for (const LineCandidate& line : view.lines)
    if (!clearest || clear(line) > clear(*clearest)) clearest = &line;
  if (!clearest || clearest->significance < 10) return false;
  EdgeFitOptions options = edge_fit_options(scene.card_blur_px);
  options.block_mm = 3;
  const EdgeFit fit = fit_edge(view.lanes, *clearest, view.lines, options);
  if (!fit.valid || fit.along_mm.size() < 9) return false;
  // A parabola through the blocks, the worst left out.
  const std::vector<double>& x = fit.along_mm;
  const std::vector<double>& y = fit.across_mm;
  std::vector<char> use(x.size(), 1);
  Eigen::Vector3d c = Eigen::Vector3d::Zero();
  for (int round = 0; round < 4; ++round) {
    Eigen::Matrix3d a = Eigen::Matrix3d::Zero();
    Eigen::Vector3d b = Eigen::Vector3d::Zero();
    std::vector<double> off;
    for (std::size_t i = 0; i < x.size(); ++i) {
      const Eigen::Vector3d row(1, x[i], x[i] * x[i]);
      off.push_back(std::abs(y[i] - row.dot(c)));
      if (!use[i]) continue;
      a += row * row.transpose();
      b += row * y[i];
    }
    if (round > 0) {
      std::vector<double> sorted = off;
      std::nth_element(sorted.begin(), sorted.begin() + static_cast<long>(sorted.size() / 2),
                       sorted.end());
      const double limit = 3.5 * sorted[sorted.size() / 2] + 0.01;
      int left = 0;
      for (std::size_t i = 0; i < x.size(); ++i) left += use[i] = off[i] < limit;
      if (left < 7) return false;
      a.setZero();
      b.setZero();
      for (std::size_t i = 0; i < x.size(); ++i) {
        if (!use[i]) continue;
        const Eigen::Vector3d row(1, x[i], x[i] * x[i]);
        a += row * row.transpose();
        b += row * y[i];
      }
    }
    c = a.ldlt().solve(b);
  }
  PartFrame& ring = view.frame;
  const double half = (view.lanes.along_mm.back() - view.lanes.along_mm.front()) / 2;
  if (std::abs(c[1]) * half < 0.02 && std::abs(c[2]) * half * half < 0.02) return false;
  // In the frame, across = c0 + c1 x + c2 x^2 is an arc of curvature 1/R - 2 c2 whose normal leans
  // by c1 against the frame's own.
  const double curvature = 1 / (ring.ring_radius_mm + c[0]) - 2 * c[2];
  if (!(curvature > 1 / 300.0 && curvature < 1 / 50.0)) return false;
  const Point3_mm origin = ring.place(0, c[0]);
  const double bow = std::hypot(1.0, c[1]);
  const double ax = ring.across_x, ay = ring.across_y;
  ring.origin = {origin.x, origin.y};
  ring.across_x = (ax - c[1] * ring.along_x) / bow;
  ring.across_y = (ay - c[1] * ring.along_y) / bow;
  ring.along_x = -ring.across_y;
  ring.along_y = ring.across_x;
  ring.ring_radius_mm = 1 / curvature;
  return true;
}

}  // namespace

double track_depth_mm(const PlaneScene& scene) {
  return scene.sighting.card->thickness_mm;
}

std::optional<LipView> unroll_lip(const PlaneScene& scene, const MeasureOptions& options) {
  const PartFrame flat = looking_out(scene);
  const Point3_mm camera = scene.pose.camera_centre();
  const double out_mm = std::hypot(flat.origin.x - camera.x, flat.origin.y - camera.y);
  const double elevation = (flat.depth_mm - camera.z) / std::max(1.0, out_mm);
  const double hidden_mm = flat.depth_mm / std::max(0.1, elevation);

  LaneRequest request;
  request.along_first_mm = -kHalfLength_mm;
  request.along_last_mm = kHalfLength_mm;
  request.across_first_mm = -6;
  request.across_last_mm = kReach_mm;
  request.lane_width_mm = 0.8;
  clip_to_photo(scene, flat, request);
  LaneProfiles straight = sample_lanes(scene.photo.luma, scene.pose, flat, request);
  blank_card(scene, flat, hidden_mm, straight);
  ArcSearchOptions search;
  search.kernel_px = std::clamp(scene.card_blur_px, 1.2, 3.0);
  if (options.disc_diameter_mm) {
    // The lip lies within a few millimetres of the rim.
    search.least_radius_mm = std::max(60.0, *options.disc_diameter_mm / 2 - 14);
    search.most_radius_mm = *options.disc_diameter_mm / 2 + 2;
  }
  const ArcFamily arcs = find_arc_family(straight, search);
  if (!arcs.found) return std::nullopt;

  LipView view;
  view.clarity = arcs.clarity;
  view.elevation = elevation;
  // The ring frame's origin lies on the family's middle arc, `across` along its radius.
  const double bow = std::hypot(1.0, arcs.slope);
  PartFrame& ring = view.frame;
  ring = flat;
  const Point3_mm origin = flat.place(arcs.middle_mm, arcs.across_mm);
  ring.origin = {origin.x, origin.y};
  ring.across_x = (flat.across_x - arcs.slope * flat.along_x) / bow;
  ring.across_y = (flat.across_y - arcs.slope * flat.along_y) / bow;
  ring.along_x = -ring.across_y;
  ring.along_y = ring.across_x;
  ring.ring_radius_mm = arcs.radius_mm * bow * bow * bow;

  LaneRequest unrolled = request;
  unrolled.lane_width_mm = 0.4;
  unrolled.across_first_mm = -12;
  unrolled.across_last_mm = 24;
  clip_to_photo(scene, ring, unrolled);
  CandidateOptions candidates;
  candidates.kernel_px = std::clamp(scene.card_blur_px, 1.0, 3.0);
  constexpr int kRounds = 4;
  for (int round = 0; round <= kRounds; ++round) {
    // Once straightened, what does not run with the ring is no edge of it.
    candidates.most = 72;  // turning marks are lines too
    candidates.steepest = round == 0 ? 0.04 : round == 1 ? 0.02 : 0.012;
    view.lanes = sample_lanes(scene.photo.luma, scene.pose, ring, unrolled);
    blank_card(scene, ring, hidden_mm, view.lanes);
    view.lines = find_line_candidates(view.lanes, candidates);
    if (round == kRounds || !straighten(scene, view)) break;
  }
  view.rows = read_surface_rows(view.lanes);
  return view;
}

}  // namespace scantling
