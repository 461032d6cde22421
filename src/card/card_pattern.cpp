#include "card/card_pattern.h"

#include <cmath>

namespace scantling {

CardPattern::CardPattern(const CardDefinition& card) : card_(card) {
  for (const CardMarker& marker : card.markers) bits_.push_back(marker_bits(marker.id));
}

PrintedTone CardPattern::at(Point_mm p) const {
  const Rectangle_mm& sheet = card_.sheet;
  if (!(p.x >= sheet.x_min && p.x <= sheet.x_max && p.y >= sheet.y_min && p.y <= sheet.y_max))
    return PrintedTone::none;
  if (card_.notch && p.x >= card_.notch->x_min && p.x <= card_.notch->x_max &&
      p.y >= card_.notch->y_min && p.y <= card_.notch->y_max)
    return PrintedTone::none;
  const int column = static_cast<int>(std::floor(p.x / card_.square_mm));
  const int row = static_cast<int>(std::floor(p.y / card_.square_mm));
  if (column < 0 || column >= card_.columns || row < 0 || row >= card_.rows)
    return PrintedTone::white;
  if ((column + row) % 2 == 0) return PrintedTone::black;
  const double cell_mm = card_.marker_mm / 6;
  const double inset = (card_.square_mm - card_.marker_mm) / 2;
  const int x = static_cast<int>(std::floor((p.x - column * card_.square_mm - inset) / cell_mm));
  const int y = static_cast<int>(std::floor((p.y - row * card_.square_mm - inset) / cell_mm));
  if (x < 0 || x > 5 || y < 0 || y > 5) return PrintedTone::white;
  if (x == 0 || x == 5 || y == 0 || y == 5) return PrintedTone::black;
  const MarkerBits& bits = bits_[static_cast<std::size_t>((row * card_.columns + column) / 2)];
  return bits[static_cast<std::size_t>(y - 1)][static_cast<std::size_t>(x - 1)]
             ? PrintedTone::white
             : PrintedTone::black;
}

PrintedTone CardPattern::around(Point_mm place, double reach_mm) const {
  const PrintedTone tone = at(place);
  for (int i = -1; i <= 1; ++i)
    for (int j = -1; j <= 1; ++j)
      if (at({place.x + i * reach_mm, place.y + j * reach_mm}) != tone) return PrintedTone::none;
  return tone;
}

}  // namespace scantling
