#include "app/size_drawing.h"
#include "app/shown.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/fonts.h"
#include "app/theme.h"
#include "app/words.h"
#include "report/wording.h"

namespace scantling {

namespace {

void centred(ImDrawList* draw, ImVec2 at, const std::string& text, ImU32 colour, float from_x,
             float to_x) {
  ImFont* font = fonts().small;
  const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6f, 0, text.c_str());
  const float x = std::clamp(at.x - size.x / 2, from_x, std::max(from_x, to_x - size.x));
  draw->AddText(font, font->FontSize, {x, at.y}, colour, text.c_str());
}

void hatch(ImDrawList* draw, ImVec2 from, ImVec2 to, float step, ImU32 colour) {
  draw->PushClipRect(from, to, true);
  const float height = to.y - from.y;
  for (float x = from.x - height; x < to.x; x += step)
    draw->AddLine({x, to.y}, {x + height, from.y}, colour, scaled(1));
  draw->PopClipRect();
}

// The minimum: a line with a flag foot, so that it is no mere tick of the scale.
void minimum_line(ImDrawList* draw, float x, float from_y, float to_y) {
  draw->AddLine({x, from_y}, {x, to_y}, theme().panel, scaled(5));
  draw->AddLine({x, from_y}, {x, to_y}, theme().text, scaled(2.5f));
  const float s = scaled(5);
  draw->AddTriangleFilled({x - s, from_y - s}, {x + s, from_y - s}, {x, from_y + s * 0.4f},
                          theme().text);
}

/// As shown, without " mm" or " in".
std::string without_unit(const std::string& size) {
  const std::string text = shown(size);
  return text.substr(0, text.find("\u00A0"));
}

StateLook look(const SizeDrawing& drawing) {
  return drawing.state ? look_of(*drawing.state) : StateLook{theme().accent, Pattern::solid};
}

}  // namespace

double scale_step(double extent, int most) {
  const double raw = extent / std::max(1, most);
  const double power = std::pow(10.0, std::floor(std::log10(raw)));
  for (const double factor : {1.0, 2.0, 5.0})
    if (factor * power >= raw * (1 - 1e-9)) return factor * power;
  return 10 * power;
}

BarRange bar_range(const SizeDrawing& drawing) {
  const double value = drawing.size.value_mm;
  const double half = std::max(drawing.size.expanded_95_mm(), 1e-3);
  double from = value - 1.6 * half;
  double to = value + 1.6 * half;
  if (drawing.minimum_mm) {
    from = std::min(from, *drawing.minimum_mm);
    to = std::max(to, *drawing.minimum_mm);
  }
  const double margin = 0.12 * (to - from);
  // No part is less than nought thick, however wide the interval.
  return {std::max(from - margin, std::min(0.0, value)), to + margin};
}

void draw_pad_section(ImDrawList* draw, ImVec2 at, ImVec2 extent, const SizeDrawing& drawing) {
  const Theme& t = theme();
  const double friction = std::max(0.0, drawing.size.value_mm);
  const double half = drawing.size.expanded_95_mm();
  const double plate = std::max(0.0, drawing.plate_mm.value_or(5.0));
  const double longest = plate + std::max(friction + half, drawing.minimum_mm.value_or(0)) + 1.5;
  const auto per_mm = static_cast<double>(extent.x) / longest;
  const auto x_of = [&](double mm) { return at.x + static_cast<float>(mm * per_mm); };
  const float top = at.y + scaled(8);
  const float bottom = at.y + extent.y - scaled(22);

  draw->AddRectFilled({x_of(0), top}, {x_of(plate), bottom}, IM_COL32(0x77, 0x7B, 0x82, 255));
  hatch(draw, {x_of(0), top}, {x_of(plate), bottom}, scaled(6), IM_COL32(30, 30, 32, 150));
  draw->AddRectFilled({x_of(plate), top}, {x_of(plate + friction), bottom},
                      IM_COL32(0x9A, 0x8F, 0x7E, 255));
  for (float y = top + scaled(5); y < bottom; y += scaled(7))
    for (float x = x_of(plate) + scaled(4); x < x_of(plate + friction) - scaled(1); x += scaled(8))
      draw->AddCircleFilled({x + (std::fmod(y - top, scaled(14)) < scaled(7) ? 0 : scaled(4)), y},
                            scaled(1), IM_COL32(30, 28, 24, 190), 6);
  const float from = x_of(std::max(0.0, plate + friction - half));
  const float to = std::max(x_of(plate + friction + half), from + scaled(2));
  draw->AddRectFilled({from, top - scaled(3)}, {to, bottom + scaled(3)},
                      with_alpha(look(drawing).colour, 0.8f));
  draw->AddRect({x_of(0), top}, {x_of(plate + friction), bottom}, t.line, 0, 0, scaled(1));
  if (drawing.minimum_mm) {
    const float x = x_of(plate + *drawing.minimum_mm);
    minimum_line(draw, x, top - scaled(2), bottom + scaled(3));
  }
  const float label_y = bottom + scaled(5);
  centred(draw, {(x_of(0) + x_of(plate)) / 2, label_y}, "plate", t.muted, at.x, at.x + extent.x);
  centred(draw, {(x_of(plate) + x_of(plate + friction)) / 2, label_y}, "friction material", t.muted,
          x_of(plate) + scaled(4), at.x + extent.x);
}

void draw_size_bar(ImDrawList* draw, ImVec2 at, ImVec2 extent, const SizeDrawing& drawing) {
  const Theme& t = theme();
  const BarRange range = bar_range(drawing);
  const auto x_of = [&](double mm) {
    return at.x +
           extent.x * static_cast<float>((mm - range.from_mm) / (range.to_mm - range.from_mm));
  };
  const float top = at.y + scaled(20);
  const float bottom = top + scaled(18);
  const float axis = bottom + scaled(7);
  const double mm_in_unit = shown_style().length == LengthUnit::inch ? 25.4 : 1;
  const double step = scale_step((range.to_mm - range.from_mm) / mm_in_unit, 5);
  const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
  draw->AddLine({at.x, axis}, {at.x + extent.x, axis}, t.line, scaled(1));
  // Counted in whole steps, so that nought is not a little less and shown as -0.
  for (long n = std::lround(std::ceil(range.from_mm / mm_in_unit / step));; ++n) {
    const double mark = static_cast<double>(n) * step;
    if (mark * mm_in_unit > range.to_mm) break;
    const float x = x_of(mark * mm_in_unit);
    draw->AddLine({x, axis}, {x, axis + scaled(4)}, t.muted, scaled(1));
    centred(draw, {x, axis + scaled(5)}, shown(fmt::format("{:.{}f}", mark, decimals)), t.muted,
            at.x, at.x + extent.x);
  }
  const double value = drawing.size.value_mm;
  const double half = drawing.size.expanded_95_mm();
  draw->AddRectFilled({at.x, top}, {at.x + extent.x, bottom}, t.raised);
  const float from_x = x_of(std::max(value - half, range.from_mm));
  fill_pattern(draw, {from_x, top}, {std::max(x_of(value + half), from_x + scaled(3)), bottom},
               look(drawing));
  draw->AddLine({x_of(value), top - scaled(3)}, {x_of(value), bottom + scaled(3)}, t.panel,
                scaled(4));
  draw->AddLine({x_of(value), top - scaled(3)}, {x_of(value), bottom + scaled(3)}, t.text,
                scaled(2));
  if (drawing.minimum_mm) {
    const float x = x_of(*drawing.minimum_mm);
    minimum_line(draw, x, top - scaled(2), axis);
    centred(draw, {x, at.y}, "minimum " + without_unit(minimum_number(*drawing.minimum_mm)), t.text,
            at.x, at.x + extent.x);
  }
}

}  // namespace scantling
