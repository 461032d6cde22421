#include "app/view_transform.h"

#include <algorithm>
#include <utility>

namespace scantling {

namespace {

// Clockwise, y down.
ScreenPoint turned(ScreenPoint p, int quarter_turns) {
  switch (quarter_turns & 3) {
    case 1:
      return {-p.y, p.x};
    case 2:
      return {-p.x, -p.y};
    case 3:
      return {p.y, -p.x};
    default:
      return p;
  }
}

}  // namespace

ViewTransform ViewTransform::fitted(int width_px, int height_px, const ScreenRect& canvas,
                                    int quarter_turns) {
  const double width = std::max(1, width_px);
  const double height = std::max(1, height_px);
  double across = width, down = height;
  if (quarter_turns & 1) std::swap(across, down);
  const double zoom = std::min(canvas.width / across, canvas.height / down);
  return centred({width / 2 - 0.5, height / 2 - 0.5}, canvas.middle(), std::max(zoom, 1e-4),
                 quarter_turns);
}

ViewTransform ViewTransform::centred(Point_px centre_px, ScreenPoint at, double zoom,
                                     int quarter_turns) {
  ViewTransform view;
  view.zoom_ = zoom;
  view.turns_ = quarter_turns & 3;
  const ScreenPoint centre = turned({centre_px.x + 0.5, centre_px.y + 0.5}, view.turns_);
  view.shift_x_ = at.x - zoom * centre.x;
  view.shift_y_ = at.y - zoom * centre.y;
  return view;
}

ScreenPoint ViewTransform::to_screen(Point_px p) const {
  const ScreenPoint t = turned({p.x + 0.5, p.y + 0.5}, turns_);
  return {shift_x_ + zoom_ * t.x, shift_y_ + zoom_ * t.y};
}

Point_px ViewTransform::to_photo(ScreenPoint p) const {
  const ScreenPoint t = turned({(p.x - shift_x_) / zoom_, (p.y - shift_y_) / zoom_}, 4 - turns_);
  return {t.x - 0.5, t.y - 0.5};
}

ScreenPoint ViewTransform::direction_on_photo(ScreenPoint on_screen) const {
  return turned(on_screen, 4 - turns_);
}

void ViewTransform::zoom_about(ScreenPoint anchor, double factor, double smallest_zoom) {
  const Point_px held = to_photo(anchor);
  const double zoom =
      std::clamp(zoom_ * factor, std::min(smallest_zoom, kLargestZoom), kLargestZoom);
  *this = centred(held, anchor, zoom, turns_);
}

void ViewTransform::turn_about(ScreenPoint anchor, int quarter_turns) {
  *this = centred(to_photo(anchor), anchor, zoom_, turns_ + quarter_turns);
}

void ViewTransform::pan_by(double dx, double dy) {
  shift_x_ += dx;
  shift_y_ += dy;
}

void ViewTransform::keep_in_sight(int width_px, int height_px, const ScreenRect& canvas) {
  const auto held = [](double shift, double size, double start, double extent) {
    const double least = std::min(size, extent / 3);
    return std::clamp(shift, start + least - size, start + extent - least);
  };
  const ScreenPoint a = to_screen({-0.5, -0.5});
  const ScreenPoint b = to_screen({width_px - 0.5, height_px - 0.5});
  const double left = std::min(a.x, b.x), top = std::min(a.y, b.y);
  pan_by(held(left, std::max(a.x, b.x) - left, canvas.x, canvas.width) - left,
         held(top, std::max(a.y, b.y) - top, canvas.y, canvas.height) - top);
}

}  // namespace scantling
