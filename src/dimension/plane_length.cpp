#include "dimension/plane_length.h"

#include <cmath>

#include "dimension/pose_inputs.h"
#include "dimension/size_budget.h"

namespace scantling {
namespace {

constexpr double kPlacing_px = 0.7;
constexpr double kFarthest_mm = 1000;  ///< beyond, a pixel covers centimetres

std::optional<Point_mm> on_card(const CardPose& pose, Point_px p) {
  const Point_mm at = pose.on_plane(p, 0);
  const bool near = std::abs(at.x) < kFarthest_mm && std::abs(at.y) < kFarthest_mm;
  if (!near || pose.ahead_mm({at.x, at.y, 0}) <= 0) return std::nullopt;
  return at;
}

double length_mm(const CardPose& pose, Point_px a, Point_px b) {
  const Point_mm from = pose.on_plane(a, 0), to = pose.on_plane(b, 0);
  return std::hypot(to.x - from.x, to.y - from.y);
}

double placing_u_mm(const CardPose& pose, Point_px a, Point_px b) {
  constexpr double kStep_px = 0.25;
  double square = 0;
  for (int end = 0; end < 2; ++end)
    for (int axis = 0; axis < 2; ++axis) {
      const auto at = [&](double d) {
        Point_px p = a, q = b;
        Point_px& moved = end == 0 ? p : q;
        (axis == 0 ? moved.x : moved.y) += d;
        return length_mm(pose, p, q);
      };
      square += std::pow(kPlacing_px * (at(kStep_px) - at(-kStep_px)) / (2 * kStep_px), 2);
    }
  return std::sqrt(square);
}

}  // namespace

std::optional<PlaneLength> length_in_card_plane(const PlaneScene& scene, const SheetScale& scale,
                                                Point_px a, Point_px b) {
  const CardPose& pose = scene.pose;
  const auto from = on_card(pose, a), to = on_card(pose, b);
  if (!from || !to) return std::nullopt;
  const double value = length_mm(pose, a, b);
  const PoseShares shares =
      pose_shares(pose, scene.camera, scale.standard_uncertainty,
                  [&](const CardPose& other) { return length_mm(other, a, b); });
  std::vector<BudgetLine> lines{
      print_scale_line(scale, value, shares.now.aspect_mm, shares.scale_checked.aspect_mm),
      pose_line(scene, shares, "Show more of the card, sharp, and hold the phone square to it."),
      {"placing the two ends", placing_u_mm(pose, a, b), 20, "Zoom in and place them anew."},
      {"card flatness", 0.5 * pose.noise_px() / scene.sighting.px_per_mm, 12,
       "Glue the card flat on stiff board."}};
  PlaneLength result;
  result.length = combine_independent(value, std::move(lines));
  const Point_mm middle{(from->x + to->x) / 2, (from->y + to->y) / 2};
  result.short_per_mm_behind = 1 / pose.distance_mm(middle);
  return result;
}

}  // namespace scantling
