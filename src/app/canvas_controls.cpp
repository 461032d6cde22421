// What lies over the photo: the tools, the magnified inset, the small buttons.
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

#include "app/app.h"
#include "app/canvas.h"
#include "app/edge_overlay.h"
#include "app/theme.h"
#include "app/widgets.h"

namespace scantling {

namespace {

constexpr float kIconWidth = 30;

// A button whose sign `paint` draws about its middle, `r` being half the sign's size.
template <typename Paint>
bool sign_button(App& app, const std::string& name, const char* tip, const Paint& paint) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const ImVec2 size(scaled(kIconWidth), ImGui::GetFrameHeight());
  ImGui::PushID(name.c_str());
  const bool pressed = ImGui::Button("##sign", size);
  ImGui::PopID();
  place_last_item(app, "button:" + name);
  paint(ImGui::GetWindowDrawList(), ImVec2(at.x + size.x / 2, at.y + size.y / 2), scaled(7));
  tip_for_last_item(tip);
  return pressed;
}

// A sun: its disc filled where it makes the photo brighter.
void draw_sun(ImDrawList* draw, ImVec2 middle, float r, bool bright) {
  const ImU32 ink = theme().text;
  if (bright)
    draw->AddCircleFilled(middle, r * 0.5f, ink, 20);
  else
    draw->AddCircle(middle, r * 0.42f, ink, 20, scaled(1.4f));
  const float from = 0.72f * r, to = (bright ? 1.05f : 0.86f) * r;
  for (int i = 0; i < 8; ++i) {
    const float angle = static_cast<float>(M_PI) * static_cast<float>(i) / 4;
    const ImVec2 way(std::cos(angle), std::sin(angle));
    draw->AddLine({middle.x + from * way.x, middle.y + from * way.y},
                  {middle.x + to * way.x, middle.y + to * way.y}, ink, scaled(1.4f));
  }
}

// Three quarters of a turn with its arrow head.
void draw_turn(ImDrawList* draw, ImVec2 middle, float r, bool right) {
  const ImU32 ink = theme().text;
  const float way = right ? 1.0f : -1.0f;
  constexpr int kSteps = 24;
  const float first = -0.6f * static_cast<float>(M_PI), run = 1.5f * static_cast<float>(M_PI);
  const auto on = [&](float angle, float radius) {
    return ImVec2(middle.x + way * radius * std::cos(angle), middle.y + radius * std::sin(angle));
  };
  draw->PathClear();
  for (int i = 0; i <= kSteps; ++i)
    draw->PathLineTo(on(first - run + run * static_cast<float>(i) / kSteps, r * 0.8f));
  draw->PathStroke(ink, 0, scaled(1.5f));
  const ImVec2 tip = on(first + 0.55f, r * 0.86f);
  draw->AddTriangleFilled(tip, on(first - 0.08f, r * 1.28f), on(first - 0.08f, r * 0.34f), ink);
}

// A button that stays down while its tool is there.
bool tool_button(App& app, const char* label, const std::string& name, const char* tip, bool on) {
  if (on) {
    ImGui::PushStyleColor(ImGuiCol_Button, theme().accent);
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, with_alpha(theme().accent, 0.85f));
    ImGui::PushStyleColor(ImGuiCol_Text, theme().on_accent);
  }
  const bool pressed = ImGui::Button(label);
  if (on) ImGui::PopStyleColor(3);
  place_last_item(app, "button:" + name);
  tip_for_last_item(tip);
  return pressed;
}

struct Control {
  float width = 0;
  std::function<void()> draw;
};
using ControlGroup = std::vector<Control>;

float text_width(const char* label) {
  return ImGui::CalcTextSize(label).x + 2 * ImGui::GetStyle().FramePadding.x;
}

// Groups side by side as far as they fit, in rows that end at the area's lower side; their height.
float draw_groups(const std::vector<ControlGroup>& groups, const ScreenRect& area) {
  const float between = scaled(2), apart = scaled(10), margin = scaled(10);
  const float room = static_cast<float>(area.width) - 2 * margin;
  const auto width_of = [&](const ControlGroup& group) {
    float width = -between;
    for (const Control& control : group) width += control.width + between;
    return width;
  };
  std::vector<std::vector<const ControlGroup*>> rows;
  float used = room;
  for (const ControlGroup& group : groups) {
    const float width = width_of(group);
    if (used + apart + width > room) rows.emplace_back(), used = -apart;
    rows.back().push_back(&group);
    used += apart + width;
  }
  const float row_height = ImGui::GetFrameHeight() + scaled(4);
  const float height = row_height * static_cast<float>(rows.size());
  float y = static_cast<float>(area.y + area.height) - margin + scaled(4) - height;
  for (const auto& row : rows) {
    float x = static_cast<float>(area.x) + margin;
    for (const ControlGroup* group : row) {
      for (const Control& control : *group) {
        ImGui::SetCursorScreenPos({x, y});
        control.draw();
        x += control.width + between;
      }
      x += apart - between;
    }
    y += row_height;
  }
  return height + margin;
}

}  // namespace

void Canvas::draw_tools(App& app) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  light_.draw(app, area_, controls_height_ + scaled(6));
  if (ruler_.on()) {
    const Analysis* analysis = app.session().analysis();
    const std::string words =
        analysis ? ruler_words(*analysis, ruler_.places()) : "the photo is being read";
    const std::string note =
        (analysis ? ruler_note(*analysis, ruler_.places()) + " " : std::string()) +
        "Drag from place to place, or move the ringed end with the arrow keys; Tab takes the other "
        "end, Esc ends.";
    draw->PushClipRect(top_left(area_), bottom_right(area_), true);
    ruler_.draw(draw, view_, words);
    draw->PopClipRect();
    app.probe().tell("ruler", words);
    app.probe().tell("ruler_note", note);
    const auto tell_end = [&](const char* name, Point_px place) {
      const ScreenPoint at = view_.to_screen(place);
      app.probe().place(name, {at.x - 4, at.y - 4, 8, 8});
    };
    tell_end("ruler:a", ruler_.places().a);
    tell_end("ruler:b", ruler_.places().b);
    if (ruler_.holding())
      draw_magnifier(app, ruler_.chosen_place(), words);
    else
      draw_note(draw, vec({area_.x + scaled(10), area_.y + scaled(10)}),
                static_cast<float>(area_.width) - scaled(20), note);
  }
  if (!drag_) return;
  const Measurement* shown = app.session().measurement();
  const MeasuredEdge* held = shown ? shown->edge(drag_->grip.edge) : nullptr;
  draw_magnifier(app,
                 held ? handle_place(held->points_px, drag_->grip.handle)
                      : handle_place(drag_->now, drag_->grip.handle),
                 drag_->snapped ? "on a real edge" : "placed freely");
}

void Canvas::draw_controls(App& app) {
  const auto text = [&](const char* label, const char* name, const char* tip, auto act) {
    return Control{text_width(label), [=, &app] {
                     if (small_button(app, label, name, tip)) act();
                   }};
  };
  const auto sign = [&](const char* name, const char* tip, auto paint, auto act) {
    return Control{scaled(kIconWidth), [=, &app] {
                     if (sign_button(app, name, tip, paint)) act();
                   }};
  };
  const auto tool = [&](const char* label, const char* name, const char* tip, bool on, auto act) {
    return Control{text_width(label), [=, &app] {
                     if (tool_button(app, label, name, tip, on)) act();
                   }};
  };
  const ControlGroup zooms = {
      text("−", "zoom_out", "Zoom out (−)", [this] { zoom_by(1 / 1.5); }),
      text("+", "zoom_in", "Zoom in (+)", [this] { zoom_by(1.5); }),
      text("Whole photo", "zoom_whole", "Show the whole photo (0)", [this] { show_whole(); }),
      text("Part", "zoom_part", "Show the part and its edges (2)", [this] { show_edges(); }),
      text("1:1", "zoom_actual", "One photo pixel on one screen pixel (1)",
           [this] { show_actual(); })};
  const ControlGroup looks = {
      sign(
          "darker", "Show the photo darker (Shift+B). What is measured stays.",
          [](auto... to) { draw_sun(to..., false); }, [this] { brighten(-1); }),
      sign(
          "brighter", "Show the photo brighter (B). What is measured stays.",
          [](auto... to) { draw_sun(to..., true); }, [this] { brighten(1); }),
      sign(
          "turn_left", "Turn the photo left (Shift+T)", [](auto... to) { draw_turn(to..., false); },
          [this] { turn(-1); }),
      sign(
          "turn_right", "Turn the photo right (T)", [](auto... to) { draw_turn(to..., true); },
          [this] { turn(1); })};
  const ControlGroup tools = {
      tool("Light", "light", "The light across the selected edge, and the step fitted to it (L)",
           light_.on() && !app.session().edge().empty(), [this, &app] { toggle_light(app); }),
      tool("Ruler", "ruler", "Measure between two places in the card's plane (D)", ruler_.on(),
           [this, &app] { toggle_ruler(app); }),
      tool("Compare", "compare", "Another photo beside this one, or the same part then and now (C)",
           false, [&app] { app.show_compare(true); }),
      tool("Guide", "guide", "How to take the photos (G)", false, [&app] { app.show_guide(); })};
  controls_height_ = draw_groups({zooms, looks, tools}, area_);
}

void Canvas::draw_magnifier(App& app, Point_px looked_at, const std::string& caption) {
  const double side = std::min(scaled(240.0f), static_cast<float>(area_.width) / 2.5f);
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  const bool left = mouse.x > area_.middle().x;
  const ScreenRect inset{left ? area_.x + scaled(12) : area_.x + area_.width - side - scaled(12),
                         area_.y + scaled(12), side, side};
  const double zoom = std::clamp(view_.zoom() * 4, 6.0, ViewTransform::kLargestZoom);
  const ViewTransform view =
      ViewTransform::centred(looked_at, inset.middle(), zoom, look().quarter_turns);
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
  if (ruler_.holding()) ruler_.draw(draw, view, {});
  draw->PopClipRect();
  draw->AddRect(top_left(inset), bottom_right(inset), IM_COL32(0, 0, 0, 255), 0, 0, scaled(4));
  draw->AddRect(top_left(inset), bottom_right(inset), IM_COL32(240, 240, 238, 255), 0, 0,
                scaled(1.5f));
  draw_label(draw, vec({inset.x + scaled(6), inset.y + inset.height - scaled(26)}), caption);
  app.probe().place("magnifier", inset);
}

}  // namespace scantling
