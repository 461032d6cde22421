#include "app/edge_overlay.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "app/edge_drag.h"
#include "app/fonts.h"
#include "app/words.h"

namespace scantling {

namespace {

constexpr ImU32 kCasing = IM_COL32(0, 0, 0, 190);
constexpr ImU32 kPlate = IM_COL32(16, 17, 19, 215);

ImVec2 between(ImVec2 a, ImVec2 b, float t) {
  return {a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t};
}

// The point of a line nearest to `p`.
ImVec2 nearest_on(const std::vector<ImVec2>& line, ImVec2 p) {
  ImVec2 best = line.front();
  float least = INFINITY;
  for (std::size_t i = 1; i < line.size(); ++i) {
    const ImVec2 a = line[i - 1], b = line[i];
    const float run = (b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y);
    const float share =
        run > 0
            ? std::clamp(((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / run, 0.0f, 1.0f)
            : 0.0f;
    const ImVec2 q = between(a, b, share);
    const float away = std::hypot(q.x - p.x, q.y - p.y);
    if (away < least) {
      least = away;
      best = q;
    }
  }
  return best;
}

// Square to the inner line, at the first place in sight that is clear of the handles.
std::optional<std::pair<ImVec2, ImVec2>> arrow_between(const std::vector<ImVec2>& inner,
                                                       const EdgeCurve& outer,
                                                       const ViewTransform& view, ImVec2 least,
                                                       ImVec2 most) {
  const auto in_sight = [&](ImVec2 p) {
    const float margin = scaled(20);
    return p.x > least.x + margin && p.x < most.x - margin && p.y > least.y && p.y < most.y;
  };
  for (const double share : {0.22, 0.3, 0.36, 0.41, 0.45}) {
    const ImVec2 to = vec(view.to_screen(place_on(outer, share)));
    const ImVec2 from = nearest_on(inner, to);
    if (in_sight(from) && in_sight(to)) return std::pair{from, to};
  }
  return std::nullopt;
}

}  // namespace

void draw_edge_line(ImDrawList* draw, ImVec2 a, ImVec2 b, EdgeLook look, float width) {
  draw_edge_curve(draw, {a, b}, look, width);
}

void draw_edge_curve(ImDrawList* draw, const std::vector<ImVec2>& line, EdgeLook look,
                     float width) {
  const int count = static_cast<int>(line.size());
  if (count < 2) return;
  const ImU32 casing = with_alpha(kCasing, look.dash > 0 ? 0.45f : 0.7f);
  draw->AddPolyline(line.data(), count, casing, 0, width + scaled(2));
  if (look.dash <= 0) {
    draw->AddPolyline(line.data(), count, look.colour, 0, width);
    return;
  }
  const float dash = scaled(look.dash), step = scaled(look.dash + look.gap);
  float at = 0;  // within dash and gap
  for (std::size_t i = 1; i < line.size(); ++i) {
    const ImVec2 a = line[i - 1], b = line[i];
    const float length = std::hypot(b.x - a.x, b.y - a.y);
    // A very long line on a zoomed-in photo: dashes too many to be seen are not drawn.
    if (length > 4000 * step) continue;
    for (float from = 0; from < length;) {
      const float to = std::min(length, from + std::max(0.01f, (at < dash ? dash : step) - at));
      if (at < dash)
        draw->AddLine(between(a, b, from / length), between(a, b, to / length), look.colour, width);
      at += to - from;
      if (at >= step - 0.005f) at = 0;
      from = to;
    }
  }
}

std::vector<ImVec2> on_screen(const std::vector<Point_px>& curve, const ViewTransform& view) {
  std::vector<ImVec2> line;
  for (const Point_px& p : curve) line.push_back(vec(view.to_screen(p)));
  return line;
}

void draw_card_corners(ImDrawList* draw, const std::vector<SightedCorner>& corners,
                       const ViewTransform& view) {
  const float arm = scaled(4);
  for (const SightedCorner& corner : corners) {
    const ImVec2 at = vec(view.to_screen(corner.photo_px));
    for (const auto& [colour, width] :
         {std::pair{kCasing, 3.0f}, {IM_COL32(255, 255, 255, 230), 1.0f}}) {
      draw->AddLine({at.x - arm, at.y}, {at.x + arm, at.y}, colour, scaled(width));
      draw->AddLine({at.x, at.y - arm}, {at.x, at.y + arm}, colour, scaled(width));
    }
  }
}

void draw_handle(ImDrawList* draw, ImVec2 at, ImU32 colour, bool large, bool square) {
  const float r = scaled(large ? 8.0f : 6.0f);
  if (square) {
    const float s = r * 0.9f;
    draw->AddRectFilled({at.x - s, at.y - s}, {at.x + s, at.y + s}, IM_COL32(16, 17, 19, 235), 2);
    draw->AddRect({at.x - s, at.y - s}, {at.x + s, at.y + s}, colour, 2, 0, scaled(2));
    return;
  }
  draw->AddCircleFilled(at, r, IM_COL32(16, 17, 19, 235));
  draw->AddCircle(at, r, colour, 0, scaled(2));
  draw->AddCircleFilled(at, scaled(1.5f), colour);
}

ImVec2 label_size(const std::string& text) {
  const ImFont* font = fonts().small;
  const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6f, 0, text.c_str());
  return {size.x + scaled(10), size.y + scaled(4)};
}

void draw_label(ImDrawList* draw, ImVec2 at, const std::string& text) {
  const ImVec2 size = label_size(text);
  draw->AddRectFilled(at, {at.x + size.x, at.y + size.y}, kPlate, scaled(3));
  draw->AddText(fonts().small, fonts().small->FontSize, {at.x + scaled(5), at.y + scaled(2)},
                IM_COL32_WHITE, text.c_str());
}

float draw_note(ImDrawList* draw, ImVec2 at, float width, const std::string& text) {
  ImFont* font = fonts().small;
  const float pad = scaled(8);
  const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6f, width - 2 * pad, text.c_str());
  draw->AddRectFilled(at, {at.x + size.x + 2 * pad, at.y + size.y + pad * 1.4f}, kPlate, scaled(3));
  draw->AddText(font, font->FontSize, {at.x + pad, at.y + pad * 0.7f}, IM_COL32_WHITE, text.c_str(),
                nullptr, width - 2 * pad);
  return size.y + pad * 1.4f;
}

void draw_rivals(ImDrawList* draw, const MeasuredEdge& edge, const ViewTransform& view,
                 int hovered) {
  const EdgeLook own = look_of_edge(edge.name);
  struct Number {
    ImVec2 at;
    std::size_t which;
  };
  std::vector<Number> numbers;
  for (std::size_t i = 0; i < edge.rivals.size(); ++i) {
    const std::vector<ImVec2> line = on_screen(edge.rivals[i].points_px, view);
    if (line.size() < 2) continue;
    const ImVec2 a = line.front(), b = line.back();
    const bool strong = static_cast<int>(i) == hovered;
    draw_edge_curve(draw, line, {strong ? own.colour : with_alpha(own.colour, 0.75f), 2, 4},
                    scaled(strong ? 2.5f : 1.5f));
    numbers.push_back({a.x < b.x ? a : b, i + 1});
  }
  // Lines may lie a pixel apart; their numbers keep clear of each other.
  std::sort(numbers.begin(), numbers.end(),
            [](const Number& a, const Number& b) { return a.at.y < b.at.y; });
  float lowest = -1e9f;
  for (const Number& number : numbers) {
    const float y = std::max(number.at.y - scaled(9), lowest + scaled(18));
    draw_label(draw, {number.at.x - scaled(34), y}, std::to_string(number.which));
    lowest = y;
  }
}

void draw_size_arrow(ImDrawList* draw, const Measurement& measurement, const ViewTransform& view,
                     const std::string& words) {
  const auto [inner_name, outer_name] =
      measurement.view == View::pad   ? std::pair{"plate_friction", "friction_outer"}
      : measurement.view == View::rim ? std::pair{"face_a", "face_b"}
                                      : std::pair{"wall_foot", "wall_top"};
  const MeasuredEdge* inner = measurement.edge(inner_name);
  const MeasuredEdge* outer = measurement.edge(outer_name);
  if (!inner || !outer || inner->points_px.size() < 2 || outer->points_px.size() < 2) return;
  const auto arrow = arrow_between(on_screen(inner->points_px, view), outer->points_px, view,
                                   draw->GetClipRectMin(), draw->GetClipRectMax());
  if (!arrow) return;
  const auto [from, to] = *arrow;
  const float length = std::hypot(to.x - from.x, to.y - from.y);
  if (length < scaled(8)) return;
  const ImVec2 along((to.x - from.x) / length, (to.y - from.y) / length);
  const ImVec2 across(-along.y, along.x);
  const float head = std::min(scaled(7), length / 3);
  for (const auto& [colour, width] : {std::pair{kCasing, 4.0f}, {IM_COL32_WHITE, 1.5f}}) {
    draw->AddLine(from, to, colour, scaled(width));
    for (const auto& [tip, way] : {std::pair{from, 1.0f}, {to, -1.0f}})
      for (const float side : {-0.5f, 0.5f})
        draw->AddLine(tip,
                      {tip.x + head * (way * along.x + side * across.x),
                       tip.y + head * (way * along.y + side * across.y)},
                      colour, scaled(width));
  }
  const ImVec2 middle = between(from, to, 0.5f);
  draw_label(draw, {middle.x + scaled(8), middle.y - scaled(9)}, words);
}

}  // namespace scantling
