#include "app/view_transform.h"

#include <algorithm>

namespace scantling {

ViewTransform ViewTransform::fitted(int width_px, int height_px, const ScreenRect& canvas) {
  const double width = std::max(1, width_px);
  const double height = std::max(1, height_px);
  const double zoom = std::min(canvas.width / width, canvas.height / height);
  return centred({width / 2 - 0.5, height / 2 - 0.5}, canvas.middle(), std::max(zoom, 1e-4));
}

ViewTransform ViewTransform::centred(Point_px centre_px, ScreenPoint at, double zoom) {
  ViewTransform view;
  view.zoom_ = zoom;
  view.shift_x_ = at.x - zoom * (centre_px.x + 0.5);
  view.shift_y_ = at.y - zoom * (centre_px.y + 0.5);
  return view;
}

ScreenPoint ViewTransform::to_screen(Point_px p) const {
  return {shift_x_ + zoom_ * (p.x + 0.5), shift_y_ + zoom_ * (p.y + 0.5)};
}

Point_px ViewTransform::to_photo(ScreenPoint p) const {
  return {(p.x - shift_x_) / zoom_ - 0.5, (p.y - shift_y_) / zoom_ - 0.5};
}

void ViewTransform::zoom_about(ScreenPoint anchor, double factor, double smallest_zoom) {
  const Point_px held = to_photo(anchor);
  const double zoom =
      std::clamp(zoom_ * factor, std::min(smallest_zoom, kLargestZoom), kLargestZoom);
  *this = centred(held, anchor, zoom);
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
  shift_x_ = held(shift_x_, zoom_ * width_px, canvas.x, canvas.width);
  shift_y_ = held(shift_y_, zoom_ * height_px, canvas.y, canvas.height);
}

}  // namespace scantling
