#include "card/draw_instructions.h"

#include <span>
#include <string>
#include <string_view>

#include "card/sheet_style.h"

namespace scantling {
namespace {

constexpr double kGap_mm = 6;
constexpr double kSketch_mm = 44;
constexpr double kWarning_mm = 10.6;

constexpr std::string_view kMake[] = {
    "Print both pages at 100 % (“actual size”), never “fit to page”, on one side of the paper.",
    "Use stiff paper, 200 g/m² or more. Or glue the whole page onto thin board, such as a cereal "
    "box, with a glue stick (wet glue stretches paper), and let it dry flat under a weight.",
    "Before you cut, measure both check bars, tick to tick, and fill in the blanks. A 150 mm "
    "calliper fits "
    "the 140 mm tick.",
    "Cut along the thin grey lines. A sharp blade along a steel rule beats scissors.",
};
constexpr std::string_view kUse[] = {
    "Score and fold the dashed lines. Glue each fin's strip to the back of the notch card, the "
    "fold along its outer edge. Let it set upright on a flat table, card and fins touching it all "
    "along.",
    "Stand the notch card with its print towards the camera, the part's edge in the notch and "
    "flush with the print. Swing the fins out where a disc needs the room.",
    "Mark the track cards A and B on their backs and measure their thickness with a calliper.",
};
constexpr std::string_view kWarning =
    "Until both bars are entered, this sheet is unchecked: its scale may be out by 2 %, and most "
    "answers will be “gauge it”. Paper grows in damp air: measure the bars again after a change.";

/// A column of numbered steps; the last number comes back. Type shrinks until all of them fit.
int draw_steps(Page& page, const PageBox& box, std::string_view heading,
               std::span<const std::string_view> steps, int number) {
  constexpr double indent = 4.2, between = 1.1;
  page.text({box.x, box.y}, heading, kHeading);
  const double top = box.y + 5;
  TextStyle style = kBody;
  const auto height = [&] {
    double sum = -between;
    for (const std::string_view step : steps)
      sum += text_extent(step, style, box.width - indent).height + between;
    return sum;
  };
  while (style.size_pt > 6 && height() > box.bottom() - top) style.size_pt -= 0.25;
  double y = top;
  for (const std::string_view step : steps) {
    page.text({box.x, y}, std::to_string(number++), style);
    y += page.text({box.x + indent, y}, step, style, box.width - indent).height + between;
  }
  return number;
}

/// The notch card with its fins, seen from behind and a little from the right and above.
void draw_stand_sketch(Page& page, const PageBox& box) {
  constexpr double scale = 0.27;
  const CardDefinition& card = notch_card();
  const double width = card.sheet.x_max - card.sheet.x_min;
  const double height = card.sheet.y_max - card.sheet.y_min;
  // Across the back, down, and out towards the viewer.
  const auto at = [&](double x, double y, double z) {
    return PagePoint{box.x + 6 + scale * (x - 0.5 * z), box.y + scale * (y + 0.42 * z)};
  };
  const double leg = card.notch->x_min - card.sheet.x_min;
  const double top = card.notch->y_min - card.sheet.y_min;
  const PagePoint outline[] = {at(0, 0, 0),
                               at(width, 0, 0),
                               at(width, height, 0),
                               at(width - leg, height, 0),
                               at(width - leg, top, 0),
                               at(leg, top, 0),
                               at(leg, height, 0),
                               at(0, height, 0)};
  page.fill_polygon(outline, grey(0.96));
  page.polygon(outline, kRule);
  constexpr double fin = 58, strip = 13, lift = 2;
  for (const bool left : {true, false}) {
    const double fold = left ? 0 : width, inner = left ? strip : width - strip;
    const PagePoint glued[] = {at(fold, height - fin, 0), at(inner, height - fin, 0),
                               at(inner, height - lift, 0), at(fold, height - lift, 0)};
    page.hatch(glued, 0.9, {0.1, grey(0.6), {}});
    page.polygon(glued, {0.12, grey(0.4), {}});
    const PagePoint shape[] = {at(fold, height - fin, 0), at(fold, height - fin, 10),
                               at(fold, height - 12, 36), at(fold, height, 36),
                               at(fold, height, 0)};
    page.fill_polygon(shape, kPaper);
    page.polygon(shape, kRule);
  }
}

/// A section: camera, card, and a part whose edge stands flush with the print.
void draw_use_sketch(Page& page, const PageBox& box) {
  const double table = box.y + 21;
  const double face = box.x + 22;
  page.line({box.x, table}, {box.right(), table}, kRule);
  const PagePoint fin[] = {{face, table - 15.5},
                           {face + 2.7, table - 15.5},
                           {face + 9.7, table - 3.2},
                           {face + 9.7, table},
                           {face, table}};
  page.fill_polygon(fin, grey(0.96));
  page.polygon(fin, {0.12, grey(0.4), {}});
  const PageBox part{face, table - 7, 20, 7};
  page.fill_box(part, grey(0.8));
  page.box(part, kRule);
  page.line({face, table}, {face, table - 21}, {0.5, kInk, {}});
  page.line({box.x + 6.5, table - 12.5}, {face, table - 4}, {0.15, kInk, {1, 0.8}});
  page.turned({box.x + 5, table - 13.2}, 29.6, [&] { page.box({-0.6, -4, 1.2, 8}, kRule); });
  page.text({box.x, table - 7.5}, "camera", kLabel);
  page.text({face - 1, table - 20}, "print", aligned(kLabel, Align::right));
  page.text({part.x + 12, part.y + 1.7}, "part", kLabel);
}

void draw_sketches(Page& page, const PageBox& box) {
  draw_stand_sketch(page, box);
  page.text({box.x, box.y + 29.5}, "fins glued on, seen from behind", kLabel);
  draw_use_sketch(page, {box.x, box.y + 35.5, box.width, 25});
  page.text({box.x, box.y + 57.5}, "in use, seen from the side", kLabel);
}

}  // namespace

void draw_instructions(Page& page, const SheetLayout& layout) {
  const PageBox& box = layout.instructions;
  const double width = (box.width - kSketch_mm - 2 * kGap_mm) / 2;
  const double height = box.height - kWarning_mm - 3;
  const int next = draw_steps(page, {box.x, box.y, width, height}, "Make", kMake, 1);
  draw_steps(page, {box.x + width + kGap_mm, box.y, width, height}, "Use", kUse, next);

  const PageBox warning{box.x, box.bottom() - kWarning_mm, 2 * width + kGap_mm, kWarning_mm};
  page.box(warning, kRule);
  TextStyle strong = kBody;
  strong.weight = Weight::semibold;
  page.text_in({warning.x + 2, warning.y + 1.4, warning.width - 4, warning.height - 2.4}, kWarning,
               strong);
  draw_sketches(page, {box.right() - kSketch_mm, box.y + 1, kSketch_mm, box.height});
}

}  // namespace scantling
