#include "app/canvas.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/shown_size.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "report/wording.h"

namespace scantling {

namespace {

std::string size_label(const Session& session, const Measurement& measurement) {
  const PhotoFinding* photo = session.photo();
  const auto size =
      photo ? shown_size(session.photo_size(), measurement, photo->confirmations) : std::nullopt;
  return size ? size->words : "not confirmed";
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

ViewTransform Canvas::whole() const {
  return ViewTransform::fitted(width_px_, height_px_, area_, look().quarter_turns);
}

double Canvas::smallest_zoom() const {
  return whole().zoom() * 0.5;
}

void Canvas::zoom_by(double factor) {
  view_.zoom_about(area_.middle(), factor, smallest_zoom());
  view_.keep_in_sight(width_px_, height_px_, area_);
}

void Canvas::show_actual() {
  view_ = ViewTransform::centred(view_.to_photo(area_.middle()), area_.middle(), 1,
                                 look().quarter_turns);
}

PhotoLook Canvas::look_of(std::int64_t photo_id) const {
  const auto known = looks_.find(photo_id);
  return known == looks_.end() ? PhotoLook{} : known->second;
}

void Canvas::brighten(std::int64_t photo_id, int steps) {
  if (photo_id != 0) looks_[photo_id].brighten(steps);
}

void Canvas::turn(int quarter_turns) {
  if (photo_id_ == 0 || drag_) return;
  const bool all_in_sight = view_.zoom() <= whole().zoom() * 1.001;
  looks_[photo_id_].turn(quarter_turns);
  view_.turn_about(area_.middle(), quarter_turns);
  view_.keep_in_sight(width_px_, height_px_, area_);
  if (all_in_sight) show_whole();
}

void Canvas::show_as_taken() {
  turn(-look().quarter_turns);
  if (!drag_) looks_.erase(photo_id_);
}

void Canvas::toggle_light(App& app) {
  Session& session = app.session();
  const Measurement* measurement = session.measurement();
  if (!measurement || measurement->edges.empty())
    return app.say("This photo has no edge yet to look across.");
  const bool in_sight = light_.on() && !session.edge().empty();
  light_.set(!in_sight);
  if (!in_sight && session.edge().empty()) session.select_next_edge(1);
}

void Canvas::toggle_ruler(App& app) {
  if (ruler_.on()) return ruler_.end();
  if (photo_id_ == 0 || !app.session().photo())
    return app.say("Open a photo first: the ruler lies on it.");
  cancel_drag(app);
  ruler_.lay(view_, area_);
}

bool Canvas::obey(const KeyCommand& command) {
  if (!ruler_.on()) return false;
  switch (command.action) {
    case KeyAction::nudge: {
      const ScreenPoint towards = direction_on_photo({command.towards_x, command.towards_y});
      ruler_.move_chosen(towards.x * command.step_px, towards.y * command.step_px);
      return true;
    }
    case KeyAction::next_edge:
    case KeyAction::previous_edge:
      ruler_.choose_other();
      return true;
    case KeyAction::escape:
      ruler_.end();
      return true;
    default:
      return false;
  }
}

void Canvas::cancel_drag(App& app) {
  drag_.reset();
  app.session().drop_preview();
}

// The whole photo first and, once the edges are known, the part: at the whole photo's scale two
// edges of a worn pad would lie too close together to be grasped.
void Canvas::follow_photo(App& app) {
  const bool another = photo_id_ != app.texture().photo_id();
  if (another) {
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
  if (another && ruler_.on()) ruler_.lay(view_, area_);
}

void Canvas::frame(const Measurement* measurement) {
  const bool edges = wanted_ == Framing::edges && measurement && !measurement->edges.empty();
  wanted_ = Framing::none;
  view_ = whole();
  if (!edges) return;
  Point_px least{1e9, 1e9}, most{-1e9, -1e9};
  for (const MeasuredEdge& edge : measurement->edges)
    for (const Point_px& p : edge.points_px) {
      least = {std::min(least.x, p.x), std::min(least.y, p.y)};
      most = {std::max(most.x, p.x), std::max(most.y, p.y)};
    }
  double width = std::max(40.0, most.x - least.x);
  double height = std::max(40.0, most.y - least.y);
  if (look().quarter_turns & 1) std::swap(width, height);
  double zoom = std::min(area_.width / (1.7 * width), area_.height / (2.2 * height));
  Point_px middle{(least.x + most.x) / 2, (least.y + most.y) / 2};
  if (measurement->view == View::lip) {
    zoom = std::max(zoom, std::min(zoom_to_tell_apart(*measurement), 3.0));
    middle = handle_place(measurement->edges.front().points_px, EdgeHandle::middle);
  }
  view_ = ViewTransform::centred(middle, area_.middle(), std::clamp(zoom, view_.zoom(), 6.0),
                                 look().quarter_turns);
}

void Canvas::draw(App& app, const ScreenRect& area) {
  area_ = area;
  ImDrawList* draw = ImGui::GetWindowDrawList();
  ImGui::SetCursorScreenPos(top_left(area));
  ImGui::InvisibleButton("canvas", vec({area.width, area.height}),
                         ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonMiddle);
  ImGui::SetItemAllowOverlap();
  const bool hovered = ImGui::IsItemHovered();
  app.probe().place("canvas", area);

  light_.follow(app);
  const bool shown = app.texture().ready() && app.session().photo() &&
                     app.texture().photo_id() == app.session().photo()->photo.id;
  if (!shown) {
    const std::string text = app.photo_fault().empty() ? "Opening the photo" : app.photo_fault();
    centred_text(draw, area, text, IM_COL32(235, 235, 232, 255));
    return;
  }
  follow_photo(app);
  app.texture().set_brightness(look().brightness);
  follow_pointer(app, hovered);
  draw->PushClipRect(top_left(area), bottom_right(area), true);
  if (app.texture().draw(draw, view_, area)) app.window().keep_drawing();
  draw_overlay(app);
  draw->PopClipRect();
  draw_tools(app);
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
  light_.draw_strip(draw, view_);
  draw_edges(app, *measurement);
  if (!measurement->edges.empty() && !ruler_.on())  // one length at a time
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

}  // namespace scantling
