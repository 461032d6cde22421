#pragma once

#include <optional>

#include "app/photo_texture.h"
#include "app/view_transform.h"
#include "camera/card_pose.h"

namespace scantling {

/// How a card's plane lies in a pane of the window: upright, at one scale for all photos that are
/// shown by it, so that the same millimetre is at the same place of every pane.
class CardView {
 public:
  static constexpr double kSmallest = 0.5, kLargest = 400;  ///< screen pixels for a millimetre

  double scale() const { return scale_; }  ///< screen pixels for a millimetre
  Point_mm centre() const { return centre_; }
  /// Shows the rectangle between two places whole, in a pane of this size.
  void show(Point_mm from, Point_mm to, const ScreenRect& pane);
  ScreenPoint to_screen(Point_mm place, const ScreenRect& pane) const;
  Point_mm to_card(ScreenPoint at, const ScreenRect& pane) const;
  /// Keeps what lies under `anchor` where it is.
  void zoom_about(ScreenPoint anchor, double factor, const ScreenRect& pane);
  void pan_by(double dx, double dy);  ///< screen pixels
  /// Keeps the pane's middle within this much of the card's.
  void keep_near(Point_mm card_middle, double most_mm);

 private:
  Point_mm centre_{64, 45};
  double scale_ = 4;
};

/// Through a card's pose: where a place of the photo lies in the pane, as if all of it lay in the
/// card's plane. Nothing beyond the plane's horizon, or too far from the card to mean anything.
std::optional<ScreenPoint> through_card(const CardPose& pose, const CardView& view,
                                        const ScreenRect& pane, Point_px photo);
/// What of the photo the pane may show.
PhotoPatch patch_in_sight(const CardPose& pose, const CardView& view, const ScreenRect& pane);
/// Screen pixels for one photo pixel at the pane's middle.
double photo_zoom(const CardPose& pose, const CardView& view);

}  // namespace scantling
