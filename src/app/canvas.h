#pragma once

#include <map>
#include <optional>
#include <string>

#include "app/edge_drag.h"
#include "app/keys.h"
#include "app/light_inset.h"
#include "app/photo_look.h"
#include "app/ruler.h"
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
  /// How the photo on the canvas is shown, kept for each photo.
  PhotoLook look() const { return look_of(photo_id_); }
  PhotoLook look_of(std::int64_t photo_id) const;
  void brighten(int steps) { brighten(photo_id_, steps); }  ///< negative: darken
  void brighten(std::int64_t photo_id, int steps);
  void turn(int quarter_turns);
  void show_as_taken();
  /// Where an arrow key's direction points on the photo as it is turned.
  ScreenPoint direction_on_photo(ScreenPoint on_screen) const {
    return view_.direction_on_photo(on_screen);
  }
  /// The plot of the light across the selected edge; with none selected, it takes the first one.
  void toggle_light(App& app);
  void toggle_ruler(App& app);
  const LightInset& light() const { return light_; }
  const Ruler& ruler() const { return ruler_; }
  /// Keys that the tools on the canvas take before anything else; true where one did.
  bool obey(const KeyCommand& command);
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

  // canvas_controls.cpp
  void draw_tools(App& app);
  void draw_controls(App& app);
  void draw_magnifier(App& app, Point_px looked_at, const std::string& caption);

  // canvas_pointer.cpp
  void follow_pointer(App& app, bool hovered);
  void find_grip(const Measurement& measurement);
  void press(App& app);
  void continue_drag(App& app);
  void finish_drag(App& app);
  ViewTransform whole() const;
  double smallest_zoom() const;

  ViewTransform view_;
  ScreenRect area_;
  std::int64_t photo_id_ = 0;
  int width_px_ = 0;
  int height_px_ = 0;
  std::map<std::int64_t, PhotoLook> looks_;  ///< by photo
  Framing wanted_ = Framing::none;
  bool edges_framed_ = false;
  bool panning_ = false;
  LightInset light_;
  Ruler ruler_;
  float controls_height_ = 0;
  std::optional<Drag> drag_;
  std::optional<Grip> grip_;  ///< under the pointer
  std::string hovered_edge_;
  int hovered_rival_ = -1;  ///< of the selected edge
};

}  // namespace scantling
