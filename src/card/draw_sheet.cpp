#include "card/draw_sheet.h"

#include <fmt/format.h>

#include <array>
#include <string>

#include "card/draw_card.h"
#include "card/draw_instructions.h"
#include "card/sheet_style.h"

namespace scantling {
namespace {

/// An area and not a line: some printers shift thin lines to whole dots.
void draw_tick(Page& page, const CheckBar& bar, double along_mm, double half_mm) {
  constexpr double width_mm = 0.15;
  const PagePoint p = bar.at(along_mm);
  if (bar.along_x)
    page.fill_box({p.x - width_mm / 2, p.y - half_mm, width_mm, 2 * half_mm}, kInk);
  else
    page.fill_box({p.x - half_mm, p.y - width_mm / 2, 2 * half_mm, width_mm}, kInk);
}

void draw_check_bar(Page& page, const CheckBar& bar) {
  page.line(bar.at(0), bar.at(bar.length_mm), {0.15, kInk, {}});
  draw_tick(page, bar, 0, 2.5);
  draw_tick(page, bar, bar.length_mm, 2.5);
  draw_tick(page, bar, bar.inner_mm, 1.5);
  const std::string whole = fmt::format("{} check bar: {:g} mm from end tick to end tick",
                                        bar.along_x ? "x" : "y", bar.length_mm);
  const std::string inner = fmt::format("{:g} mm", bar.inner_mm);
  const auto words = [&](PagePoint start) {
    page.text({start.x + 4, start.y}, whole, kLabel);
    page.text({start.x + bar.inner_mm + 1, start.y}, inner, kLabel);
  };
  if (bar.along_x)
    words({bar.start.x, bar.start.y + 1.2});
  else  // read from the right, beside the bar
    page.turned({bar.start.x - 1.2, bar.start.y}, 90, [&] { words({0, 0}); });
}

void draw_blank(Page& page, PagePoint at, double width_mm, std::string_view label,
                std::string_view unit) {
  page.text(at, label, kLabel);
  const double y = at.y + 9.5;
  page.line({at.x, y}, {at.x + width_mm, y}, kRule);
  if (!unit.empty()) page.text({at.x + width_mm, y - 3.6}, unit, aligned(kLabel, Align::right));
}

void draw_form(Page& page, const SheetLayout& layout) {
  const PageBox& form = layout.form;
  page.text({form.x, form.y - 0.8}, "This print", kHeading);
  const std::array<std::pair<std::string, const char*>, 7> blanks{{
      {"sheet's name", ""},
      {fmt::format("x bar, printed as {:g}", layout.bars[0].length_mm), "mm"},
      {fmt::format("y bar, printed as {:g}", layout.bars[1].length_mm), "mm"},
      {"measured with", ""},
      {"date", ""},
      {"thickness, track card A", "mm"},
      {"thickness, track card B", "mm"},
  }};
  const double step = (form.height - 5.5) / static_cast<double>(blanks.size());
  double y = form.y + 4.5;
  for (const auto& [label, unit] : blanks) {
    draw_blank(page, {form.x, y}, form.width, label, unit);
    y += step;
  }
}

void draw_fin(Page& page, const StandFin& fin) {
  page.hatch(fin.glue_strip, 1.6, {0.12, grey(0.7), {}});
  page.polygon(fin.outline, kCut);
  page.line(fin.fold_top, fin.fold_foot, kFold);

  const double side = fin.foot_end.x > fin.fold_foot.x ? 1 : -1;
  const double middle_y = (fin.fold_top.y + fin.fold_foot.y) / 2;
  // Turned words stand on the strip and along the fold, so they need no room beside the piece.
  const auto turned_words = [&](double x, std::string_view words, bool on_hatch) {
    page.turned({x, middle_y}, -90, [&] {
      const TextExtent extent = text_extent(words, kLabel);
      if (on_hatch)
        page.fill_box({-extent.width / 2 - 1, -extent.height / 2, extent.width + 2, extent.height},
                      kPaper);
      page.text({0, -extent.height / 2}, words, aligned(kLabel, Align::centre));
    });
  };
  turned_words(fin.fold_top.x - side * 6.5, "glue to the card's back", true);
  turned_words(fin.fold_top.x + side * 2.6, "fold back, print outside", false);
  const double centre_x = (fin.fold_foot.x + fin.foot_end.x) / 2 + side * 2.5;
  page.text({centre_x, fin.fold_foot.y - 18},
            fmt::format("stand fin\n{} side, seen\nfrom the print", fin.words),
            aligned(kLabel, Align::centre));
  page.text({centre_x, fin.fold_foot.y - 4}, "foot: on the table", aligned(kLabel, Align::centre));
}

void draw_placed_card(Page& page, const PlacedCard& placed) {
  draw_cut_line(page, placed.origin, *placed.card);
  draw_card(page, placed.origin, *placed.card);
}

/// Above the cut line, so that the piece itself stays white round its squares.
void draw_piece_name(Page& page, const PlacedCard& placed, std::string_view name) {
  const Rectangle_mm& sheet = placed.card->sheet;
  page.text({placed.origin.x + sheet.x_min, placed.origin.y + sheet.y_min - 3.6}, name, kLabel);
}

void draw_notch_words(Page& page, const PlacedCard& placed) {
  const Rectangle_mm& notch = *placed.card->notch;
  page.text({placed.origin.x + (notch.x_min + notch.x_max) / 2,
             placed.origin.y + (notch.y_min + notch.y_max) / 2 - 4},
            "notch: cut out along the thin grey line,\ndown through the bottom edge",
            aligned(kLabel, Align::centre));
}

void draw_cards_page(Page& page, const SheetLayout& layout) {
  const PageBox& title = layout.title;
  page.text({title.x, title.y}, "Scantling cards", kTitle);
  page.text({title.right(), title.y + 2.2},
            fmt::format("page 1 of 2, {}: cut out. Print at 100 %.", paper_words(layout.paper)),
            aligned(kSubtitle, Align::right));
  page.line({title.x, title.bottom()}, {title.right(), title.bottom()}, kRule);

  const std::array<const char*, 3> names{"notch card: cut along the thin grey line",
                                         "track card A: cut out", "track card B: cut out"};
  std::size_t piece = 0;
  for (const PlacedCard& placed : layout.cards) {
    if (placed.page != 0) continue;
    draw_placed_card(page, placed);
    draw_piece_name(page, placed, names.at(piece++));
    if (placed.card->notch) draw_notch_words(page, placed);
  }
  page.text({layout.fins[0].outline[3].x, layout.fins[0].fold_top.y - 3.6},
            "stand for the notch card: cut out both fins", kLabel);
  for (const StandFin& fin : layout.fins) draw_fin(page, fin);
  draw_form(page, layout);
  draw_instructions(page, layout);
}

void draw_ground_page(Page& page, const SheetLayout& layout) {
  const PageBox& title = layout.ground_title;
  page.text({title.x, title.y}, "Scantling ground sheet", {11, Weight::bold});
  page.text({title.right(), title.y + 0.8},
            fmt::format("page 2 of 2, {}. Print at 100 %, measure both bars. Lay it flat under the "
                        "part; do not cut or fold it.",
                        paper_words(layout.paper)),
            aligned({8, Weight::regular, kQuiet}, Align::right));
  const double y = title.y + 6.2;
  double x = title.x;
  const auto blank = [&](const std::string& label, double width, const char* unit) {
    x += page.text({x, y}, label, kLabel).width + 1;
    page.line({x, y + 3}, {x + width, y + 3}, kRule);
    x += width + 1;
    x += page.text({x, y}, unit, kLabel).width + 4;
  };
  blank("sheet's name", 30, "");
  for (const CheckBar& bar : layout.bars)
    if (bar.page == 1)
      blank(fmt::format("{} bar, printed as {:g}", bar.along_x ? "x" : "y", bar.length_mm), 16,
            "mm");
  blank("measured with", 28, "");
  blank("date", 20, "");
  for (const PlacedCard& placed : layout.cards)
    if (placed.page == 1) draw_card(page, placed.origin, *placed.card);
}

}  // namespace

Document draw_sheet(Paper paper) {
  const SheetLayout layout = sheet_layout(paper);
  Document document({fmt::format("Scantling cards, {}", paper_words(paper)), "Scantling",
                     "Printed cards that carry the scale of a photo: print at 100 % and measure "
                     "the check bars",
                     "2026-01-01T00:00:00Z"});
  Page& cards = document.add_page(layout.pages[0]);
  Page& ground = document.add_page(layout.pages[1]);
  draw_cards_page(cards, layout);
  draw_ground_page(ground, layout);
  for (const CheckBar& bar : layout.bars) draw_check_bar(bar.page == 0 ? cards : ground, bar);
  return document;
}

}  // namespace scantling
