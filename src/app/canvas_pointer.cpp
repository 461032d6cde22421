// The part of Canvas that follows the pointer: zoom, pan, pick, drag.
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "app/app.h"
#include "app/canvas.h"
#include "app/theme.h"

namespace scantling {

namespace {

constexpr float kHandleReach = 14;  ///< style pixels
constexpr float kLineReach = 7;
constexpr float kSnapReach = 14;     ///< style pixels on the screen, whatever the zoom,
constexpr double kMostSnap_px = 40;  ///< but never further on the photo
constexpr double kWheelStep = 1.2;

ScreenPoint pointer() {
  const ImVec2 at = ImGui::GetIO().MousePos;
  return {at.x, at.y};
}

bool same(const EdgeSegment& a, const EdgeSegment& b) {
  return a.a.x == b.a.x && a.a.y == b.a.y && a.b.x == b.b.x && a.b.y == b.b.y;
}

}  // namespace

void Canvas::find_grip(const Measurement& measurement) {
  double reach = scaled(kHandleReach);
  double line_reach = scaled(kLineReach);
  for (const MeasuredEdge& edge : measurement.edges) {
    if (edge.points_px.size() < 2) continue;
    const EdgeCurve& curve = edge.points_px;
    if (const auto handle = handle_at(curve, view_, pointer(), reach)) {
      grip_ = Grip{edge.name, *handle};
      const ScreenPoint at = view_.to_screen(handle_place(curve, *handle));
      reach = std::hypot(at.x - pointer().x, at.y - pointer().y);
    }
    if (const double away = screen_distance(curve, view_, pointer()); away <= line_reach) {
      hovered_edge_ = edge.name;
      line_reach = away;
    }
  }
}

void Canvas::follow_pointer(App& app, bool hovered) {
  const ImGuiIO& io = ImGui::GetIO();
  grip_.reset();
  hovered_edge_.clear();
  hovered_rival_ = -1;
  if (drag_) {
    continue_drag(app);
    return;
  }
  if (panning_) {
    if (ImGui::IsMouseDown(ImGuiMouseButton_Left) || ImGui::IsMouseDown(ImGuiMouseButton_Middle)) {
      view_.pan_by(io.MouseDelta.x, io.MouseDelta.y);
      view_.keep_in_sight(width_px_, height_px_, area_);
      ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeAll);
    } else {
      panning_ = false;
    }
    return;
  }
  if (ruler_.holding()) {
    if (ImGui::IsMouseDown(ImGuiMouseButton_Left))
      ruler_.drag_to(view_.to_photo(pointer()));
    else
      ruler_.let_go();
    return;
  }
  if (!hovered || light_.covers(pointer())) return;
  if (io.MouseWheel != 0) {
    view_.zoom_about(pointer(), std::pow(kWheelStep, io.MouseWheel), smallest_zoom());
    view_.keep_in_sight(width_px_, height_px_, area_);
  }
  const bool space = ImGui::IsKeyDown(ImGui::GetKeyIndex(ImGuiKey_Space));
  const Measurement* measurement = app.session().measurement();
  if (measurement && !space && !ruler_.on()) {
    if (const MeasuredEdge* edge = measurement->edge(app.session().edge());
        edge && app.rivals_shown())
      for (std::size_t i = 0; i < edge->rivals.size(); ++i)
        if (screen_distance(edge->rivals[i].points_px, view_, pointer()) <= scaled(kLineReach))
          hovered_rival_ = static_cast<int>(i);
    find_grip(*measurement);
    if (grip_ || hovered_rival_ >= 0) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
  }
  if (ImGui::IsMouseClicked(ImGuiMouseButton_Middle)) panning_ = true;
  if (!ImGui::IsMouseClicked(ImGuiMouseButton_Left)) return;
  if (ruler_.on() && !space)
    ruler_.press(view_, pointer(), scaled(kHandleReach));
  else
    press(app);
}

void Canvas::press(App& app) {
  Session& session = app.session();
  const Measurement* measurement = session.measurement();
  if (grip_ && measurement) {
    session.select_edge(grip_->edge);
    if (!session.analysis()) {
      app.say("The photo is still being read: drag its edges in a moment.");
      return;
    }
    const EdgeSegment start = segment_of(*measurement->edge(grip_->edge));
    drag_ = Drag{*grip_, start, view_.to_photo(pointer()), start};
    return;
  }
  if (hovered_rival_ >= 0 && measurement) {
    const MeasuredEdge* edge = measurement->edge(session.edge());
    const EdgeSegment line = segment_of(edge->rivals[static_cast<std::size_t>(hovered_rival_)]);
    const std::string name = edge->name;
    app.attempt([&] { session.move_edge(name, line, app.person()); });
    return;
  }
  if (!hovered_edge_.empty()) {
    session.select_edge(hovered_edge_);
    return;
  }
  panning_ = true;
}

void Canvas::continue_drag(App& app) {
  Session& session = app.session();
  if (!session.analysis()) return cancel_drag(app);
  grip_ = drag_->grip;
  const Point_px at = view_.to_photo(pointer());
  const EdgeSegment proposed =
      dragged(drag_->start, drag_->grip.handle, at.x - drag_->grabbed.x, at.y - drag_->grabbed.y);
  if (!same(proposed, drag_->start)) drag_->moved = true;
  if (drag_->moved) {
    EdgeSegment segment = proposed;
    drag_->snapped = false;
    if (!ImGui::GetIO().KeyCtrl) {
      const double reach_px = std::min(scaled(kSnapReach) / view_.zoom(), kMostSnap_px);
      if (const auto real = session.analysis()->snapped(proposed, reach_px)) {
        segment = *real;
        drag_->snapped = true;
      }
    }
    if (!same(segment, drag_->now)) {
      drag_->now = segment;
      session.preview_edge(drag_->grip.edge, segment);
    }
  }
  if (!ImGui::IsMouseDown(ImGuiMouseButton_Left)) finish_drag(app);
}

void Canvas::finish_drag(App& app) {
  const Drag drag = *drag_;
  cancel_drag(app);
  if (!drag.moved || same(drag.now, drag.start)) return;
  app.attempt([&] { app.session().move_edge(drag.grip.edge, drag.now, app.person()); });
}

}  // namespace scantling
