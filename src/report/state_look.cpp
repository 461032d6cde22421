#include "report/state_look.h"

namespace scantling {

namespace {

/// Parallel lines at 45 degrees, falling or rising.
void slant(Page& page, const PageBox& box, double step_mm, bool rising, const Stroke& stroke) {
  page.clipped(box, [&] {
    for (double x = box.x - box.height + step_mm / 2; x < box.right(); x += step_mm)
      page.line({x, rising ? box.bottom() : box.y}, {x + box.height, rising ? box.y : box.bottom()},
                stroke);
  });
}

}  // namespace

PageLook page_look(const PartSummary& summary) {
  if (!summary.verdict)
    return summary.standing == PartStanding::confirm_first ||
                   summary.standing == PartStanding::photo_unusable
               ? PageLook{kOrange, FillPattern::diagonal}
               : PageLook{grey(0.4), FillPattern::outline};
  switch (summary.verdict->state) {
    case VerdictState::keep:
      return {kBlue, FillPattern::solid};
    case VerdictState::keep_due_soon:
      return {kSky, FillPattern::dots};
    case VerdictState::replace:
      return {kVermillion, FillPattern::cross};
    case VerdictState::gauge_it:
      break;
  }
  return {kOrange, FillPattern::diagonal};
}

void fill_with_look(Page& page, const PageBox& box, PageLook look) {
  const Stroke white{0.3, kPaper, {}};
  if (look.pattern != FillPattern::outline) page.fill_box(box, look.colour);
  if (look.pattern == FillPattern::diagonal || look.pattern == FillPattern::cross)
    slant(page, box, 1.3, true, white);
  if (look.pattern == FillPattern::cross) slant(page, box, 1.3, false, white);
  if (look.pattern == FillPattern::dots)
    page.clipped(box, [&] {
      for (double y = box.y + 0.6; y < box.bottom(); y += 1.2)
        for (double x = box.x + 0.6; x < box.right(); x += 1.2)
          page.fill_circle({x, y}, 0.28, kPaper);
    });
  page.box(box, {0.2, kInk, {}});
}

EdgeStroke edge_stroke(std::string_view edge) {
  if (edge == "plate_outer" || edge == "face_a" || edge == "wall_foot") return {kSky, {}};
  if (edge == "plate_friction" || edge == "face_b") return {kYellow, {3, 1.5}};
  return {kPurple, {1.2, 1.0}};
}

}  // namespace scantling
