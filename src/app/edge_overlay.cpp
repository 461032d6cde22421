#include "app/edge_overlay.h"

#include <algorithm>
#include <cmath>

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

}  // namespace

void draw_edge_line(ImDrawList* draw, ImVec2 a, ImVec2 b, EdgeLook look, float width) {
  const float length = std::hypot(b.x - a.x, b.y - a.y);
  if (length < 1) return;
  draw->AddLine(a, b, with_alpha(kCasing, look.dash > 0 ? 0.45f : 0.7f), width + scaled(2));
  if (look.dash <= 0) {
    draw->AddLine(a, b, look.colour, width);
    return;
  }
  const float step = scaled(look.dash + look.gap);
  // A very long line on a zoomed-in photo: only so many dashes as can be seen.
  const int dashes = std::min(2000, static_cast<int>(length / step) + 1);
  for (int i = 0; i < dashes; ++i) {
    const float from = static_cast<float>(i) * step;
    const float to = std::min(from + scaled(look.dash), length);
    draw->AddLine(between(a, b, from / length), between(a, b, to / length), look.colour, width);
  }
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

void draw_rivals(ImDrawList* draw, const MeasuredEdge& edge, const ViewTransform& view,
                 int hovered) {
  const EdgeLook own = look_of_edge(edge.name);
  struct Number {
    ImVec2 at;
    std::size_t which;
  };
  std::vector<Number> numbers;
  for (std::size_t i = 0; i < edge.rivals.size(); ++i) {
    const EdgeSegment line = segment_of(edge.rivals[i]);
    const ImVec2 a = vec(view.to_screen(line.a));
    const ImVec2 b = vec(view.to_screen(line.b));
    const bool strong = static_cast<int>(i) == hovered;
    draw_edge_line(draw, a, b, {strong ? own.colour : with_alpha(own.colour, 0.75f), 2, 4},
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
  constexpr float kAlong = 0.22f;
  const EdgeSegment base = segment_of(*inner);
  const EdgeSegment face = segment_of(*outer);
  const ImVec2 a = vec(view.to_screen(base.a)), b = vec(view.to_screen(base.b));
  const ImVec2 to = between(vec(view.to_screen(face.a)), vec(view.to_screen(face.b)), kAlong);
  // Square to the interface: the arrow's foot is the point of the interface nearest to its tip.
  const float run = (b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y);
  if (run <= 0) return;
  const ImVec2 from =
      between(a, b, ((to.x - a.x) * (b.x - a.x) + (to.y - a.y) * (b.y - a.y)) / run);
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
