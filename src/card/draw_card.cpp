#include "card/draw_card.h"

#include "card/marker_bits.h"
#include "card/sheet_style.h"

namespace scantling {
namespace {

bool in_notch(const CardDefinition& card, double x, double y) {
  return card.notch && x > card.notch->x_min && x < card.notch->x_max && y > card.notch->y_min &&
         y < card.notch->y_max;
}

}  // namespace

void draw_card(Page& page, PagePoint origin, const CardDefinition& card) {
  std::vector<PageBox> black, white;
  for (int row = 0; row < card.rows; ++row) {
    for (int column = row % 2; column < card.columns; column += 2) {
      const double x = column * card.square_mm, y = row * card.square_mm;
      if (!in_notch(card, x + card.square_mm / 2, y + card.square_mm / 2))
        black.push_back({origin.x + x, origin.y + y, card.square_mm, card.square_mm});
    }
  }
  for (const CardMarker& marker : card.markers) {
    if (marker.state != CutState::present) continue;
    const PagePoint at{origin.x + marker.corners[0].x, origin.y + marker.corners[0].y};
    const double cell = card.marker_mm / 6;
    black.push_back({at.x, at.y, card.marker_mm, card.marker_mm});
    const MarkerBits bits = marker_bits(marker.id);
    for (std::size_t row = 0; row < bits.size(); ++row)
      for (std::size_t column = 0; column < bits.size(); ++column)
        if (bits[row][column])
          white.push_back({at.x + static_cast<double>(column + 1) * cell,
                           at.y + static_cast<double>(row + 1) * cell, cell, cell});
  }
  page.fill_boxes(black, kInk);
  page.fill_boxes(white, kPaper);
}

void draw_cut_line(Page& page, PagePoint origin, const CardDefinition& card) {
  const Rectangle_mm& sheet = card.sheet;
  std::vector<PagePoint> outline{
      {sheet.x_min, sheet.y_min}, {sheet.x_max, sheet.y_min}, {sheet.x_max, sheet.y_max}};
  if (card.notch) {
    outline.push_back({card.notch->x_max, sheet.y_max});
    outline.push_back({card.notch->x_max, card.notch->y_min});
    outline.push_back({card.notch->x_min, card.notch->y_min});
    outline.push_back({card.notch->x_min, sheet.y_max});
  }
  outline.push_back({sheet.x_min, sheet.y_max});
  for (PagePoint& p : outline) p = {origin.x + p.x, origin.y + p.y};
  page.polygon(outline, kCut);
}

}  // namespace scantling
