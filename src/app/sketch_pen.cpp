#include "app/sketch_pen.h"

#include <algorithm>
#include <cmath>

#include "app/fonts.h"
#include "app/theme.h"

namespace scantling {

void SketchPen::line(float x1, float y1, float x2, float y2, ImU32 colour, float width) const {
  draw_->AddLine(at(x1, y1), at(x2, y2), colour, scaled(width));
}

void SketchPen::dashed(float x1, float y1, float x2, float y2, ImU32 colour) const {
  const float length = std::hypot(x2 - x1, y2 - y1);
  for (float from = 0; from < length; from += 7) {
    const float to = std::min(length, from + 4);
    line(x1 + (x2 - x1) * from / length, y1 + (y2 - y1) * from / length,
         x1 + (x2 - x1) * to / length, y1 + (y2 - y1) * to / length, colour, 1);
  }
}

void SketchPen::box(float x1, float y1, float x2, float y2, ImU32 colour, float width) const {
  draw_->AddRect(at(x1, y1), at(x2, y2), colour, 0, 0, scaled(width));
}

void SketchPen::fill(float x1, float y1, float x2, float y2, ImU32 colour) const {
  draw_->AddRectFilled(at(x1, y1), at(x2, y2), colour);
}

void SketchPen::polygon(Places places, ImU32 fill, ImU32 outline) const {
  std::vector<ImVec2> points;
  for (const auto& [x, y] : places) points.push_back(at(x, y));
  const int count = static_cast<int>(points.size());
  if (fill) draw_->AddConvexPolyFilled(points.data(), count, fill);
  if (outline) draw_->AddPolyline(points.data(), count, outline, ImDrawFlags_Closed, scaled(1.5f));
}

void SketchPen::squares(float x1, float y1, float x2, float y2, int columns, int rows) const {
  const float w = (x2 - x1) / static_cast<float>(columns), h = (y2 - y1) / static_cast<float>(rows);
  for (int row = 0; row < rows; ++row)
    for (int column = row % 2; column < columns; column += 2) {
      const float x = x1 + w * static_cast<float>(column), y = y1 + h * static_cast<float>(row);
      fill(x, y, x + w, y + h, theme().text);
    }
}

void SketchPen::phone(float x, float y, float degrees) const {
  const float angle = degrees * static_cast<float>(M_PI) / 180;
  const float ax = std::cos(angle), ay = std::sin(angle);
  // Along the view and across it, from the lens.
  const auto p = [&](float along, float across) {
    return at(x + along * ax - across * ay, y + along * ay + across * ax);
  };
  constexpr float kThick = 7, kUp = 17, kDown = 43;
  // The lens sits near the phone's upper end, which is the one higher up.
  const float up = ax >= 0 ? -kUp : kUp, down = ax >= 0 ? kDown : -kDown;
  const ImVec2 body[] = {p(-kThick, up), p(0, up), p(0, down), p(-kThick, down)};
  draw_->AddConvexPolyFilled(body, 4, theme().panel);
  draw_->AddPolyline(body, 4, theme().text, ImDrawFlags_Closed, scaled(1.6f));
  draw_->AddCircleFilled(p(0, 0), 3.2f * unit_, theme().accent, 16);
}

void SketchPen::sees(float x, float y, std::pair<float, float> one,
                     std::pair<float, float> other) const {
  dashed(x, y, one.first, one.second, theme().muted);
  dashed(x, y, other.first, other.second, theme().muted);
}

void SketchPen::label(float x, float y, const std::string& text, Align align, bool strong) const {
  const ImFont* font = fonts().small;
  const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6f, 0, text.c_str());
  ImVec2 from = at(x, y);
  from.x -= align == Align::middle ? size.x / 2 : align == Align::right ? size.x : 0;
  draw_->AddText(font, font->FontSize, from, strong ? theme().text : theme().muted, text.c_str());
}

void SketchPen::length(float x1, float y1, float x2, float y2, const std::string& words) const {
  const ImU32 ink = theme().accent;
  line(x1, y1, x2, y2, ink, 1.4f);
  const float run = std::hypot(x2 - x1, y2 - y1);
  const float ax = (x2 - x1) / run, ay = (y2 - y1) / run;
  for (const auto& [x, y, way] : {std::tuple{x1, y1, 1.0f}, std::tuple{x2, y2, -1.0f}})
    draw_->AddTriangleFilled(at(x, y), at(x + way * 7 * ax - 3 * ay, y + way * 7 * ay + 3 * ax),
                             at(x + way * 7 * ax + 3 * ay, y + way * 7 * ay - 3 * ax), ink);
  const ImFont* font = fonts().small;
  const float high = font->FontSize / unit_;
  label((x1 + x2) / 2, (y1 + y2) / 2 - high - 3, words, Align::middle, true);
}

void SketchPen::arc(float x, float y, float radius, float from_deg, float to_deg,
                    ImU32 colour) const {
  draw_->PathClear();
  constexpr int kSteps = 32;
  for (int i = 0; i <= kSteps; ++i) {
    const float angle = (from_deg + (to_deg - from_deg) * static_cast<float>(i) / kSteps) *
                        static_cast<float>(M_PI) / 180;
    draw_->PathLineTo(at(x + radius * std::cos(angle), y + radius * std::sin(angle)));
  }
  draw_->PathStroke(colour, 0, scaled(1.5f));
}

}  // namespace scantling
