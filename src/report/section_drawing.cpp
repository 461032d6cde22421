#include "report/section_drawing.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/page_flow.h"
#include "report/wording.h"

namespace scantling {

namespace {

// Drawn where no plate was measured; the drawing then breaks it off.
constexpr double kUnknownPlate_mm = 4.0;
constexpr double kScaleHeight_mm = 6.5;
constexpr double kMarksHeight_mm = 5.0;

double material_end(const PartSection& s) {
  double end = std::max(s.minimum_mm.value_or(0), s.size_mm.value_or(0) + s.expanded_95_mm);
  for (const HandReading& r : s.readings)
    end = std::max(end, r.value_mm + 2 * r.standard_uncertainty_mm);
  return std::max(end, 1.0);
}

double plate_shown(const PartSection& s) {
  if (s.kind == PartKind::disc) return 0;
  return s.plate_mm > 0 ? s.plate_mm : kUnknownPlate_mm;
}

/// Friction material: a light tint with grains at fixed places.
void draw_grains(Page& page, const PageBox& box) {
  page.fill_box(box, grey(0.90));
  page.clipped(box, [&] {
    // Two low-discrepancy sequences spread the grains without clumps.
    const int count = static_cast<int>(box.width * box.height * 0.9);
    for (int i = 1; i <= count; ++i) {
      const double u = std::fmod(i * 0.7548776662466927, 1.0);
      const double v = std::fmod(i * 0.5698402909980532, 1.0);
      page.fill_circle({box.x + u * box.width, box.y + v * box.height}, 0.11 + 0.06 * (i % 3),
                       grey(0.62));
    }
  });
}

void draw_metal(Page& page, const PageBox& box) {
  const PagePoint corners[] = {
      {box.x, box.y}, {box.right(), box.y}, {box.right(), box.bottom()}, {box.x, box.bottom()}};
  page.hatch(corners, 1.1, {0.15, grey(0.35), {}});
}

struct ScaleMarks {
  double step_mm;  ///< from mark to mark
  int longer;      ///< every so many a longer one
  int labelled;    ///< every so many with its number
};

ScaleMarks marks_of(const SectionLayout& layout) {
  const bool wide = layout.end_mm > 15 || layout.scale < 3.5;
  if (layout.style.length == LengthUnit::millimetre) return {1, 5, wide ? 5 : 1};
  // Twentieths of an inch, labelled in tenths.
  return layout.end_mm > 15 ? ScaleMarks{25.4 / 20, 10, 10}
                            : ScaleMarks{25.4 / 20, 2, wide ? 4 : 2};
}

void draw_scale(Page& page, double x0, double y, const SectionLayout& layout) {
  page.line({x0, y}, {x0 + layout.end_mm * layout.scale, y}, {0.2, kInk, {}});
  const ScaleMarks marks = marks_of(layout);
  const int last = static_cast<int>(std::floor(layout.end_mm / marks.step_mm + 1e-9));
  for (int i = 0; i <= last; ++i) {
    const double x = x0 + i * marks.step_mm * layout.scale;
    page.line({x, y}, {x, y + (i % marks.longer == 0 ? 2.2 : 1.3)}, {0.15, kInk, {}});
    if (i % marks.labelled != 0) continue;
    const std::string number = layout.style.length == LengthUnit::inch
                                   ? fmt::format("{:.1f}", i / 20.0)
                                   : fmt::format("{}", i);
    const double width = page.text({x, y + 2.3}, number, aligned(kLabelText, Align::centre)).width;
    if (i == last - last % marks.labelled)  // beside it, or it would run into the number before
      page.text({x + width / 2 + 0.7, y + 2.3}, unit_word(layout.style.length), kLabelText);
  }
}

void draw_minimum(Page& page, double x, double minimum_mm, const PageBox& body,
                  const FigureStyle& style) {
  page.line({x, body.y - 3.2}, {x, body.bottom() + 1.2}, {0.55, kInk, {1.8, 0.9}});
  const std::string words = in_style("minimum " + minimum_number(minimum_mm), style);
  const double width = text_extent(words, kLabelText).width;
  // Left of its line where it would run out of the drawing.
  const double left = x + 0.9 + width <= body.right() ? x + 0.9 : x - 0.9 - width;
  page.text({left, body.y - 4.4}, words, kLabelText);
}

void draw_reading(Page& page, double x0, const HandReading& reading, double scale, double y) {
  const double x = x0 + reading.value_mm * scale;
  const double reach = 2 * reading.standard_uncertainty_mm * scale;
  page.line({x - reach, y - 1.0}, {x + reach, y - 1.0}, {0.2, kInk, {}});
  const PagePoint mark[] = {{x, y}, {x - 0.9, y - 1.7}, {x + 0.9, y - 1.7}};
  page.fill_polygon(mark, kInk);
}

}  // namespace

PartSection section_of(const PartSummary& summary) {
  PartSection section;
  section.kind = summary.part.kind;
  section.minimum_mm = summary.part.minimum_mm;
  section.look = page_look(summary);
  for (const HandReadingEntry& r : summary.readings)
    section.readings.push_back({r.value_mm, r.standard_uncertainty_mm, r.instrument});
  if (summary.size) {
    section.size_mm = summary.size->quantity.value_mm;
    section.expanded_95_mm = summary.size->quantity.expanded_95_mm();
    // A disc's size is made of several photos: none of them governs.
    if (summary.governing_photo)
      if (const Dimension* plate =
              summary.photos[*summary.governing_photo].newest->measurement.dimension(
                  "plate_thickness"))
        section.plate_mm = plate->quantity.value_mm;
  } else if (!summary.readings.empty()) {
    section.size_mm =
        std::min_element(summary.readings.begin(), summary.readings.end(),
                         [](const auto& a, const auto& b) { return a.value_mm < b.value_mm; })
            ->value_mm;
  }
  return section;
}

SectionLayout layout_of(const std::vector<PartSection>& sections, double width_mm,
                        const FigureStyle& style) {
  SectionLayout layout;
  layout.style = style;
  for (const PartSection& s : sections) {
    layout.plate_mm = std::max(layout.plate_mm, plate_shown(s));
    layout.end_mm = std::max(layout.end_mm, std::ceil(material_end(s)));
  }
  const double widest = layout.plate_mm + layout.end_mm;
  const double room = width_mm - 6;
  layout.scale = room / widest;
  for (double scale : {1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0})
    if (widest * scale <= room) layout.scale = scale;
  return layout;
}

void draw_section(Page& page, const PageBox& area, const PartSection& s,
                  const SectionLayout& layout) {
  const double scale = layout.scale;
  const PageBox body{area.x, area.y + kMarksHeight_mm, area.width,
                     area.height - kMarksHeight_mm - kScaleHeight_mm};
  const double plate = plate_shown(s) * scale;
  const double x0 = area.x + 1 + layout.plate_mm * scale;
  const Stroke outline{0.35, kInk, {}};
  if (s.kind == PartKind::pad) {
    const PageBox box{x0 - plate, body.y, plate, body.height};
    draw_metal(page, box);
    if (s.plate_mm > 0) {
      page.box(box, outline);
    } else {  // broken off: how thick the plate is, nobody measured
      page.line({box.x, box.y}, {box.right(), box.y}, outline);
      page.line({box.x, box.bottom()}, {box.right(), box.bottom()}, outline);
      page.line({box.right(), box.y}, {box.right(), box.bottom()}, outline);
    }
  }
  if (s.size_mm) {
    const PageBox left{x0, body.y, *s.size_mm * scale, body.height};
    if (s.kind == PartKind::pad)
      draw_grains(page, left);
    else
      draw_metal(page, left);
    page.box(left, outline);
    const double reach = std::max(s.expanded_95_mm * scale, 0.15);
    if (s.expanded_95_mm > 0)
      fill_with_look(page, {left.right() - reach, body.y - 0.8, 2 * reach, body.height + 1.6},
                     s.look);
    page.line({left.right(), body.y - 0.8}, {left.right(), body.bottom() + 0.8}, {0.25, kInk, {}});
  } else {
    const PageBox box{x0, body.y, layout.end_mm * scale, body.height};
    page.box(box, {0.2, grey(0.5), {0.8, 0.8}});
    page.text(
        {box.x + 1.5 + (s.minimum_mm ? *s.minimum_mm * scale : 0), box.y + body.height / 2 - 1.6},
        "no size yet", kLabelText);
  }
  if (s.minimum_mm)
    draw_minimum(page, x0 + *s.minimum_mm * scale, *s.minimum_mm, body, layout.style);
  for (const HandReading& reading : s.readings)
    draw_reading(page, x0, reading, scale, body.y - 1.0);
  draw_scale(page, x0, body.bottom() + 1.6, layout);
}

}  // namespace scantling
