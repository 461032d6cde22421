#pragma once

#include <optional>
#include <string>

#include "app/edge_drag.h"
#include "app/view_transform.h"

namespace scantling {

class App;

/// The photo with the card, the edges and their handles: zoom, pan and drag.
class Canvas {
 public:
  void draw(App& app, const ScreenRect& area);

  void zoom_by(double factor);  ///< about the middle of the canvas
  void show_whole() { wanted_ = Framing::whole; }
  void show_edges() { wanted_ = Framing::edges; }  ///< the part, with a margin
  void show_actual();                              ///< one photo pixel on one screen pixel
  void cancel_drag(App& app);
  bool dragging() const { return drag_.has_value(); }
  bool snapped() const { return drag_ && drag_->snapped; }

 private:
  enum class Framing { none, whole, edges };
  struct Grip {
    std::string edge;
    EdgeHandle handle = EdgeHandle::middle;
  };
  struct Drag {
    Grip grip;
    EdgeSegment start;
    Point_px grabbed;
    EdgeSegment now;
    bool snapped = false;
    bool moved = false;
  };

  void follow_photo(App& app);
  void frame(const Measurement* measurement);
  void draw_overlay(App& app);
  void draw_edges(App& app, const Measurement& measurement);
  void draw_controls(App& app);
  void draw_magnifier(App& app);

  // canvas_pointer.cpp
  void follow_pointer(App& app, bool hovered);
  void find_grip(const Measurement& measurement);
  void press(App& app);
  void continue_drag(App& app);
  void finish_drag(App& app);
  double smallest_zoom() const;

  ViewTransform view_;
  ScreenRect area_;
  std::int64_t photo_id_ = 0;
  int width_px_ = 0;
  int height_px_ = 0;
  Framing wanted_ = Framing::none;
  bool edges_framed_ = false;
  bool panning_ = false;
  std::optional<Drag> drag_;
  std::optional<Grip> grip_;  ///< under the pointer
  std::string hovered_edge_;
  int hovered_rival_ = -1;  ///< of the selected edge
};

}  // namespace scantling
