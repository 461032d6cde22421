#include "app/canvas.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "report/wording.h"

namespace scantling {

namespace {

ImVec2 top_left(const ScreenRect& r) {
  return vec({r.x, r.y});
}
ImVec2 bottom_right(const ScreenRect& r) {
  return vec({r.x + r.width, r.y + r.height});
}

// A rim's and a lip's sizes are only parts of the worn thickness: the words say so.
std::string size_label(const Session& session, const Measurement& measurement) {
  if (const GoverningSize* size = session.photo_size()) return size_with_95(size->quantity);
  const PhotoFinding* photo = session.photo();
  if (!photo || !unconfirmed_edges(measurement, photo->confirmations).empty())
    return "not confirmed";
  if (const Dimension* rim = measurement.dimension("rim_thickness"))
    return size_with_95(rim->quantity) + " over the lips";
  if (const Dimension* lip = measurement.dimension("lip_height"))
    return "lip " + size_with_95(lip->quantity);
  return "not confirmed";
}

// Where an edge's label goes: its right end, or where it leaves the picture on the right.
ScreenPoint rightmost_in_sight(const EdgeCurve& curve, const ViewTransform& view,
                               const ScreenRect& area) {
  constexpr int kSteps = 64;
  std::optional<ScreenPoint> best;
  for (int i = 0; i <= kSteps; ++i) {
    const ScreenPoint p = view.to_screen(place_on(curve, 1.0 * i / kSteps));
    const bool inside =
        p.x > area.x && p.x < area.x + area.width && p.y > area.y && p.y < area.y + area.height;
    if (inside && (!best || p.x > best->x)) best = p;
  }
  if (best) return *best;
  const ScreenPoint a = view.to_screen(curve.front()), b = view.to_screen(curve.back());
  return a.x > b.x ? a : b;
}

// A lip's foot and top lie so close that they can be told apart and grasped only from near.
constexpr float kLeastGap = 30;  ///< style pixels between neighbouring edges

double zoom_to_tell_apart(const Measurement& measurement) {
  double least_px = INFINITY;
  for (std::size_t i = 1; i < measurement.edges.size(); ++i)
    least_px = std::min(
        least_px, distance_px(handle_place(measurement.edges[i - 1].points_px, EdgeHandle::middle),
                              handle_place(measurement.edges[i].points_px, EdgeHandle::middle)));
  return scaled(kLeastGap) / std::max(least_px, 4.0);
}

}  // namespace

double Canvas::smallest_zoom() const {
  return ViewTransform::fitted(width_px_, height_px_, area_).zoom() * 0.5;
}

void Canvas::zoom_by(double factor) {
  view_.zoom_about(area_.middle(), factor, smallest_zoom());
  view_.keep_in_sight(width_px_, height_px_, area_);
}

void Canvas::show_actual() {
  view_ = ViewTransform::centred(view_.to_photo(area_.middle()), area_.middle(), 1);
}

void Canvas::cancel_drag(App& app) {
  drag_.reset();
  app.session().drop_preview();
}

// The whole photo first and, once the edges are known, the part: at the whole photo's scale two
// edges of a worn pad would lie too close together to be grasped.
void Canvas::follow_photo(App& app) {
  if (photo_id_ != app.texture().photo_id()) {
    photo_id_ = app.texture().photo_id();
    width_px_ = app.texture().width_px();
    height_px_ = app.texture().height_px();
    wanted_ = Framing::whole;
    edges_framed_ = false;
    drag_.reset();
  }
  const Measurement* measurement = app.session().measurement();
  if (measurement && !measurement->edges.empty() && !edges_framed_) {
    wanted_ = Framing::edges;
    edges_framed_ = true;
  }
  if (wanted_ != Framing::none) frame(measurement);
}

void Canvas::frame(const Measurement* measurement) {
  const bool edges = wanted_ == Framing::edges && measurement && !measurement->edges.empty();
  wanted_ = Framing::none;
  view_ = ViewTransform::fitted(width_px_, height_px_, area_);
  if (!edges) return;
  Point_px least{1e9, 1e9}, most{-1e9, -1e9};
  for (const MeasuredEdge& edge : measurement->edges)
    for (const Point_px& p : edge.points_px) {
      least = {std::min(least.x, p.x), std::min(least.y, p.y)};
      most = {std::max(most.x, p.x), std::max(most.y, p.y)};
    }
  const double width = std::max(40.0, most.x - least.x);
  const double height = std::max(40.0, most.y - least.y);
  double zoom = std::min(area_.width / (1.7 * width), area_.height / (2.2 * height));
  Point_px middle{(least.x + most.x) / 2, (least.y + most.y) / 2};
  if (measurement->view == View::lip) {
    zoom = std::max(zoom, std::min(zoom_to_tell_apart(*measurement), 3.0));
    middle = handle_place(measurement->edges.front().points_px, EdgeHandle::middle);
  }
  view_ = ViewTransform::centred(middle, area_.middle(), std::clamp(zoom, view_.zoom(), 6.0));
}

void Canvas::draw(App& app, const ScreenRect& area) {
  area_ = area;
  ImDrawList* draw = ImGui::GetWindowDrawList();
  draw->AddRectFilled(top_left(area), bottom_right(area), theme().canvas);
  ImGui::SetCursorScreenPos(top_left(area));
  ImGui::InvisibleButton("canvas", vec({area.width, area.height}),
                         ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonMiddle);
  ImGui::SetItemAllowOverlap();
  const bool hovered = ImGui::IsItemHovered();
  app.probe().place("canvas", area);

  const bool shown = app.texture().ready() && app.session().photo() &&
                     app.texture().photo_id() == app.session().photo()->photo.id;
  if (!shown) {
    const std::string text = !app.photo_fault().empty() ? app.photo_fault()
                             : app.session().photo()    ? "Opening the photo"
                             : app.session().slot().kind == PartKind::disc
                                 ? "Drop a photo of this disc here."
                                 : "Drop a photo of this pad here.";
    centred_text(draw, area, text, IM_COL32(235, 235, 232, 255));
    if (!app.session().photo()) {
      ImGui::SetCursorScreenPos(vec({area.middle().x - scaled(75), area.middle().y + scaled(22)}));
      if (wide_button(app, "Open photos…", "open_photos", scaled(150), true)) app.ask_for_photos();
    }
    return;
  }
  follow_photo(app);
  follow_pointer(app, hovered);
  draw->PushClipRect(top_left(area), bottom_right(area), true);
  if (app.texture().draw(draw, view_, area)) app.window().keep_drawing();
  draw_overlay(app);
  draw->PopClipRect();
  if (drag_) draw_magnifier(app);
  draw_controls(app);
}

void Canvas::draw_overlay(App& app) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  if (const Analysis* analysis = app.session().analysis())
    draw_card_corners(draw, analysis->corners(), view_);
  const Measurement* measurement = app.session().measurement();
  if (!measurement) return;
  if (app.rivals_shown())
    if (const MeasuredEdge* edge = measurement->edge(app.session().edge())) {
      draw_rivals(draw, *edge, view_, hovered_rival_);
      for (std::size_t i = 0; i < edge->rivals.size(); ++i) {
        const ScreenPoint at =
            view_.to_screen(handle_place(edge->rivals[i].points_px, EdgeHandle::middle));
        app.probe().place("rival:" + std::to_string(i + 1), {at.x - 3, at.y - 3, 6, 6});
      }
    }
  draw_edges(app, *measurement);
  if (!measurement->edges.empty())
    draw_size_arrow(draw, *measurement, view_, size_label(app.session(), *measurement));
}

void Canvas::draw_edges(App& app, const Measurement& measurement) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const Session& session = app.session();
  double last_label_y = -1e9;
  std::vector<const MeasuredEdge*> edges;
  for (const MeasuredEdge& edge : measurement.edges)
    if (edge.points_px.size() >= 2) edges.push_back(&edge);
  const auto right_end = [&](const MeasuredEdge* edge) {
    return rightmost_in_sight(edge->points_px, view_, area_);
  };
  std::sort(edges.begin(), edges.end(),
            [&](auto* a, auto* b) { return right_end(a).y < right_end(b).y; });
  for (const MeasuredEdge* edge : edges) {
    const EdgeLook look = look_of_edge(edge->name);
    const bool selected = edge->name == session.edge();
    const bool hovered = edge->name == hovered_edge_ || (grip_ && grip_->edge == edge->name);
    draw_edge_curve(draw, on_screen(edge->points_px, view_), look,
                    scaled(selected || hovered ? 2.5f : 1.8f));
    for (const EdgeHandle handle :
         {EdgeHandle::first_end, EdgeHandle::second_end, EdgeHandle::middle}) {
      const ScreenPoint at = view_.to_screen(handle_place(edge->points_px, handle));
      const bool middle = handle == EdgeHandle::middle;
      const bool held = grip_ && grip_->edge == edge->name && grip_->handle == handle;
      if (middle || selected || hovered)
        draw_handle(draw, vec(at), look.colour, selected || held, !middle);
      const char* suffix = middle ? "" : handle == EdgeHandle::first_end ? ":a" : ":b";
      app.probe().place("edge:" + edge->name + suffix, {at.x - 4, at.y - 4, 8, 8});
    }
    const PhotoFinding* photo = session.photo();
    std::string text = edge_title(edge->name);
    if (edge->origin == EdgeOrigin::moved)
      text += ", moved by hand";
    else if (photo && !confirmed_by(photo->confirmations, edge->name).empty())
      text += " ✓";
    ScreenPoint at = right_end(edge);
    const double width = label_size(text).x;
    at.x = std::min(at.x + scaled(14), area_.x + area_.width - width - scaled(4));
    at.y = std::max(at.y - scaled(9), last_label_y + scaled(20));
    last_label_y = at.y;
    draw_label(draw, vec(at), text);
  }
}

void Canvas::draw_controls(App& app) {
  const float x = static_cast<float>(area_.x) + scaled(10);
  const float y = static_cast<float>(area_.y + area_.height) - scaled(40);
  ImGui::SetCursorScreenPos({x, y});
  ImGui::BeginGroup();
  if (small_button(app, "−", "zoom_out", "Zoom out (−)")) zoom_by(1 / 1.5);
  ImGui::SameLine(0, scaled(2));
  if (small_button(app, "+", "zoom_in", "Zoom in (+)")) zoom_by(1.5);
  ImGui::SameLine(0, scaled(2));
  if (small_button(app, "Whole photo", "zoom_whole", "Show the whole photo (0)")) show_whole();
  ImGui::SameLine(0, scaled(2));
  if (small_button(app, "Part", "zoom_part", "Show the part and its edges (2)")) show_edges();
  ImGui::SameLine(0, scaled(2));
  if (small_button(app, "1:1", "zoom_actual", "One photo pixel on one screen pixel (1)"))
    show_actual();
  ImGui::EndGroup();
}

void Canvas::draw_magnifier(App& app) {
  const double side = std::min(scaled(240.0f), static_cast<float>(area_.width) / 2.5f);
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  const bool left = mouse.x > area_.middle().x;
  const ScreenRect inset{left ? area_.x + scaled(12) : area_.x + area_.width - side - scaled(12),
                         area_.y + scaled(12), side, side};
  const double zoom = std::clamp(view_.zoom() * 4, 6.0, ViewTransform::kLargestZoom);
  const Measurement* shown = app.session().measurement();
  const MeasuredEdge* held = shown ? shown->edge(drag_->grip.edge) : nullptr;
  const Point_px looked_at = held ? handle_place(held->points_px, drag_->grip.handle)
                                  : handle_place(drag_->now, drag_->grip.handle);
  const ViewTransform view = ViewTransform::centred(looked_at, inset.middle(), zoom);
  ImDrawList* draw = ImGui::GetWindowDrawList();
  draw->AddRectFilled(top_left(inset), bottom_right(inset), theme().canvas);
  draw->PushClipRect(top_left(inset), bottom_right(inset), true);
  if (app.texture().draw(draw, view, inset)) app.window().keep_drawing();
  if (const Measurement* measurement = app.session().measurement())
    for (const MeasuredEdge& edge : measurement->edges) {
      const std::vector<ImVec2> line = on_screen(edge.points_px, view);
      draw->AddPolyline(line.data(), static_cast<int>(line.size()), look_of_edge(edge.name).colour,
                        0, scaled(1.5f));
    }
  draw->PopClipRect();
  draw->AddRect(top_left(inset), bottom_right(inset), IM_COL32(0, 0, 0, 255), 0, 0, scaled(4));
  draw->AddRect(top_left(inset), bottom_right(inset), IM_COL32(240, 240, 238, 255), 0, 0,
                scaled(1.5f));
  draw_label(draw, vec({inset.x + scaled(6), inset.y + inset.height - scaled(26)}),
             drag_->snapped ? "on a real edge" : "placed freely");
  app.probe().place("magnifier", inset);
}

}  // namespace scantling
