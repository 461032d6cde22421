#include "app/card_view.h"

#include <algorithm>
#include <cmath>

namespace scantling {

namespace {
constexpr double kFarthest_mm = 700;
}

void CardView::show(Point_mm from, Point_mm to, const ScreenRect& pane) {
  centre_ = {(from.x + to.x) / 2, (from.y + to.y) / 2};
  const double width = std::max(1.0, std::abs(to.x - from.x));
  const double height = std::max(1.0, std::abs(to.y - from.y));
  scale_ = std::clamp(std::min(pane.width / width, pane.height / height), kSmallest, kLargest);
}

ScreenPoint CardView::to_screen(Point_mm place, const ScreenRect& pane) const {
  const ScreenPoint middle = pane.middle();
  return {middle.x + scale_ * (place.x - centre_.x), middle.y + scale_ * (place.y - centre_.y)};
}

Point_mm CardView::to_card(ScreenPoint at, const ScreenRect& pane) const {
  const ScreenPoint middle = pane.middle();
  return {centre_.x + (at.x - middle.x) / scale_, centre_.y + (at.y - middle.y) / scale_};
}

void CardView::zoom_about(ScreenPoint anchor, double factor, const ScreenRect& pane) {
  const Point_mm held = to_card(anchor, pane);
  scale_ = std::clamp(scale_ * factor, kSmallest, kLargest);
  const Point_mm now = to_card(anchor, pane);
  centre_ = {centre_.x + held.x - now.x, centre_.y + held.y - now.y};
}

void CardView::pan_by(double dx, double dy) {
  centre_ = {centre_.x - dx / scale_, centre_.y - dy / scale_};
}

void CardView::keep_near(Point_mm card_middle, double most_mm) {
  centre_ = {std::clamp(centre_.x, card_middle.x - most_mm, card_middle.x + most_mm),
             std::clamp(centre_.y, card_middle.y - most_mm, card_middle.y + most_mm)};
}

std::optional<ScreenPoint> through_card(const CardPose& pose, const CardView& view,
                                        const ScreenRect& pane, Point_px photo) {
  const Point_mm at = pose.on_plane(photo, 0);
  if (!(std::abs(at.x) < kFarthest_mm && std::abs(at.y) < kFarthest_mm)) return std::nullopt;
  if (pose.ahead_mm({at.x, at.y, 0}) <= 0) return std::nullopt;
  return view.to_screen(at, pane);
}

PhotoPatch patch_in_sight(const CardPose& pose, const CardView& view, const ScreenRect& pane) {
  PhotoPatch patch{{1e9, 1e9}, {-1e9, -1e9}};
  constexpr int kSteps = 8;
  for (int row = 0; row <= kSteps; ++row)
    for (int column = 0; column <= kSteps; ++column) {
      const Point_mm at = view.to_card(
          {pane.x + pane.width * column / kSteps, pane.y + pane.height * row / kSteps}, pane);
      if (pose.ahead_mm({at.x, at.y, 0}) <= 0) continue;
      const Point_px p = pose.project({at.x, at.y, 0});
      patch.from = {std::min(patch.from.x, p.x), std::min(patch.from.y, p.y)};
      patch.to = {std::max(patch.to.x, p.x), std::max(patch.to.y, p.y)};
    }
  return patch;
}

double photo_zoom(const CardPose& pose, const CardView& view) {
  const Point3_mm at{view.centre().x, view.centre().y, 0};
  return view.scale() / std::max(0.1, std::min(pose.px_per_mm_x(at), pose.px_per_mm_y(at)));
}

}  // namespace scantling
