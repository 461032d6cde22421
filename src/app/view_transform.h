#pragma once

#include "geometry/points.h"

namespace scantling {

/// A place in the window, in window pixels, y down.
struct ScreenPoint {
  double x = 0;
  double y = 0;
};

/// An upright rectangle in the window.
struct ScreenRect {
  double x = 0;
  double y = 0;
  double width = 0;
  double height = 0;

  bool contains(ScreenPoint p) const {
    return p.x >= x && p.y >= y && p.x < x + width && p.y < y + height;
  }
  ScreenPoint middle() const { return {x + width / 2, y + height / 2}; }
};

/// How the photo lies in the window: a scale, a shift and quarter turns, exact both ways.
/// Photo pixel centres are whole numbers, so the photo covers -0.5 to width - 0.5.
class ViewTransform {
 public:
  static constexpr double kLargestZoom = 40;  ///< screen pixels for one photo pixel

  /// The whole photo, as large as fits, in the middle of `canvas`.
  static ViewTransform fitted(int width_px, int height_px, const ScreenRect& canvas,
                              int quarter_turns = 0);
  /// One photo pixel at `zoom` screen pixels, `centre_px` at `at`.
  static ViewTransform centred(Point_px centre_px, ScreenPoint at, double zoom,
                               int quarter_turns = 0);

  double zoom() const { return zoom_; }         ///< screen pixels for one photo pixel
  int quarter_turns() const { return turns_; }  ///< clockwise, 0 to 3
  ScreenPoint to_screen(Point_px p) const;
  Point_px to_photo(ScreenPoint p) const;
  /// Where a direction in the window points on the photo; its length stays.
  ScreenPoint direction_on_photo(ScreenPoint on_screen) const;

  /// Scales by `factor` and keeps what lies under `anchor` where it is.
  void zoom_about(ScreenPoint anchor, double factor, double smallest_zoom);
  /// Turns the photo clockwise and keeps what lies under `anchor` where it is.
  void turn_about(ScreenPoint anchor, int quarter_turns);
  void pan_by(double dx, double dy);
  /// Shifts so far that at least a third of the canvas, or the whole photo, stays in sight.
  void keep_in_sight(int width_px, int height_px, const ScreenRect& canvas);

 private:
  double zoom_ = 1;
  double shift_x_ = 0;
  double shift_y_ = 0;
  int turns_ = 0;
};

}  // namespace scantling
