#include "app/wear_drawing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "app/fonts.h"
#include "app/shown.h"
#include "app/theme.h"
#include "report/wording.h"

namespace scantling {

namespace {

class WearDrawing {
 public:
  WearDrawing(ImDrawList* draw, ImVec2 at, ImVec2 extent, const WearPlot& plot)
      : draw_(draw),
        plot_(plot),
        from_(at.x + scaled(52), at.y + scaled(22)),
        to_(at.x + extent.x - scaled(10), at.y + extent.y - scaled(38)) {}

  std::optional<std::size_t> draw(ImVec2 pointer) {
    draw_->AddRectFilled(from_, to_, theme().raised);
    draw_grid();
    draw_->PushClipRect(from_, to_, true);
    draw_line();
    draw_minimum();
    draw_->PopClipRect();
    draw_->AddRect(from_, to_, theme().line, 0, 0, scaled(1));
    draw_upright(plot_.now_km, "odometer now", false);
    if (plot_.next_check_km && *plot_.next_check_km <= plot_.last_km)
      draw_upright(*plot_.next_check_km, "next check", true);
    return draw_points(pointer);
  }

 private:
  float x(double km) const {
    return from_.x + (to_.x - from_.x) * static_cast<float>((km - plot_.first_km) /
                                                            (plot_.last_km - plot_.first_km));
  }
  float y(double mm) const {
    return to_.y - (to_.y - from_.y) *
                       static_cast<float>((mm - plot_.low_mm) / (plot_.high_mm - plot_.low_mm));
  }
  static float width_of(const std::string& text) {
    return fonts().small->CalcTextSizeA(fonts().small->FontSize, 1e6f, 0, text.c_str()).x;
  }
  void text(ImVec2 at, const std::string& words, ImU32 colour) {
    draw_->AddText(fonts().small, fonts().small->FontSize, at, colour, words.c_str());
  }

  void draw_grid() {
    const FigureStyle& style = shown_style();
    const float line = fonts().small->FontSize;
    for (const auto& [mm, words] : plot_.size_marks(style)) {
      draw_->AddLine({from_.x, y(mm)}, {to_.x, y(mm)}, theme().line, scaled(1));
      text({from_.x - scaled(7) - width_of(words), y(mm) - line / 2}, words, theme().muted);
    }
    for (const auto& [km, words] : plot_.distance_marks(style)) {
      draw_->AddLine({x(km), from_.y}, {x(km), to_.y}, theme().line, scaled(1));
      text({x(km) - width_of(words) / 2, to_.y + scaled(4)}, words, theme().muted);
    }
    text({from_.x - scaled(44), from_.y - scaled(20)}, unit_word(style.length), theme().muted);
    const std::string below = fmt::format("odometer, 1 000 {}", distance_word(style.distance));
    text({to_.x - width_of(below), to_.y + scaled(20)}, below, theme().muted);
  }

  void draw_line() {
    if (plot_.curve.size() < 2) return;
    const ImU32 blue = look_of(VerdictState::keep).colour;
    for (std::size_t i = 0; i + 1 < plot_.curve.size(); ++i) {
      const ForetoldSize &a = plot_.curve[i], &b = plot_.curve[i + 1];
      const ImVec2 corners[4] = {{x(a.odometer_km), y(a.interval_95.high)},
                                 {x(b.odometer_km), y(b.interval_95.high)},
                                 {x(b.odometer_km), y(b.interval_95.low)},
                                 {x(a.odometer_km), y(a.interval_95.low)}};
      draw_->AddConvexPolyFilled(corners, 4, with_alpha(theme().accent, 0.25f));
    }
    for (std::size_t i = 0; i + 1 < plot_.curve.size(); ++i) {
      const ForetoldSize &a = plot_.curve[i], &b = plot_.curve[i + 1];
      draw_->AddLine({x(a.odometer_km), y(a.size_mm)}, {x(b.odometer_km), y(b.size_mm)}, blue,
                     scaled(2.5f));
      for (const bool high : {true, false})
        draw_->AddLine({x(a.odometer_km), y(high ? a.interval_95.high : a.interval_95.low)},
                       {x(b.odometer_km), y(high ? b.interval_95.high : b.interval_95.low)},
                       with_alpha(blue, 0.8f), scaled(1));
    }
  }

  void dashes(ImVec2 a, ImVec2 b, float dash, float gap, ImU32 colour, float thick) {
    const float length = std::hypot(b.x - a.x, b.y - a.y);
    const ImVec2 along((b.x - a.x) / length, (b.y - a.y) / length);
    for (float s = 0; s < length; s += dash + gap) {
      const float end = std::min(length, s + dash);
      draw_->AddLine({a.x + along.x * s, a.y + along.y * s},
                     {a.x + along.x * end, a.y + along.y * end}, colour, thick);
    }
  }

  void draw_minimum() {
    if (!plot_.minimum_mm) return;
    const float level = y(*plot_.minimum_mm);
    dashes({from_.x, level}, {to_.x, level}, scaled(10), scaled(5),
           look_of(VerdictState::replace).colour, scaled(3));
    const std::string words = shown("minimum " + minimum_number(*plot_.minimum_mm));
    const bool below = level + scaled(20) < to_.y;
    text({from_.x + scaled(6), below ? level + scaled(4) : level - scaled(19)}, words,
         theme().text);
  }

  void draw_upright(double km, const char* word, bool dashed) {
    const float at = x(km);
    dashes({at, from_.y}, {at, to_.y}, scaled(dashed ? 9 : 3), scaled(dashed ? 4 : 3), theme().text,
           scaled(1.5f));
    const float width = width_of(word);
    const float left = std::clamp(at - width / 2, from_.x, to_.x - width);
    // Both words stand over the frame; the second one steps aside for the first.
    const float place = dashed && left < now_ends_ + scaled(8) ? now_ends_ + scaled(8) : left;
    text({place, from_.y - scaled(18)}, word, theme().text);
    if (!dashed) now_ends_ = left + width;
  }

  std::optional<std::size_t> draw_points(ImVec2 pointer) {
    std::optional<std::size_t> under;
    for (std::size_t i = 0; i < plot_.points.size(); ++i) {
      const WearPlot::Point& p = plot_.points[i];
      const ImVec2 at(x(p.km), y(p.mm));
      const float high = y(p.mm + p.half_95_mm), low = y(p.mm - p.half_95_mm), cap = scaled(4);
      const bool near = std::abs(pointer.x - at.x) < scaled(9) && pointer.y > high - scaled(9) &&
                        pointer.y < low + scaled(9);
      if (near) under = i;
      for (const auto& [colour, thick] :
           {std::pair{theme().panel, 4.5f}, std::pair{theme().text, 1.8f}}) {
        draw_->AddLine({at.x, high}, {at.x, low}, colour, scaled(thick));
        for (const float end : {high, low})
          draw_->AddLine({at.x - cap, end}, {at.x + cap, end}, colour, scaled(thick));
      }
      draw_->AddCircleFilled(at, scaled(6), theme().panel, 20);
      draw_->AddCircleFilled(at, scaled(near ? 6.0f : 4.5f), theme().text, 20);
    }
    return under;
  }

  ImDrawList* draw_;
  const WearPlot& plot_;
  ImVec2 from_, to_;
  float now_ends_ = 0;
};

}  // namespace

std::optional<std::size_t> draw_wear(ImDrawList* draw, ImVec2 at, ImVec2 extent,
                                     const WearPlot& plot, ImVec2 pointer) {
  return WearDrawing(draw, at, extent, plot).draw(pointer);
}

}  // namespace scantling
