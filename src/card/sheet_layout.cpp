#include "card/sheet_layout.h"

#include <algorithm>
#include <cctype>
#include <string>

namespace scantling {
namespace {

constexpr double kColumn_mm = 180;  ///< what page 1 holds beside the upright check bar
constexpr double kShortBar_mm = 180;
constexpr double kLongBar_mm = 250;
constexpr double kInnerTick_mm = 140;  ///< within a 150 mm calliper

/// A card's origin when its paper's top left corner lies at `at`.
PagePoint origin_for(const CardDefinition& card, PagePoint at) {
  return {at.x - card.sheet.x_min, at.y - card.sheet.y_min};
}

/// `direction` is +1 when the fin lies right of its fold, -1 when left.
StandFin stand_fin(const char* words, PagePoint fold_top, int direction) {
  constexpr double height = 58, foot = 36, head = 10, heel = 12, strip = 13, lift = 2;
  const double s = direction;
  const auto at = [&](double x, double y) { return PagePoint{fold_top.x + s * x, fold_top.y + y}; };
  StandFin fin;
  fin.words = words;
  // The strip ends above the foot, so that it cannot carry the card.
  fin.glue_strip = {at(0, 0), at(-strip, 0), at(-strip, height - lift), at(0, height - lift)};
  fin.outline = {at(-strip, 0), at(head, 0),          at(foot, height - heel),  at(foot, height),
                 at(0, height), at(0, height - lift), at(-strip, height - lift)};
  fin.fold_top = fold_top;
  fin.fold_foot = at(0, height);
  fin.foot_end = at(foot, height);
  return fin;
}

void lay_out_cards_page(SheetLayout& layout) {
  const PageSize size = layout.pages[0];
  // The taller paper spreads its rows by what it has more.
  const double spare = (size.height_mm - kLetter.height_mm) / 5;
  const double left = (size.width_mm - kColumn_mm - 10) / 2;
  const double right = left + kColumn_mm;
  double y = 9 + spare;
  layout.title = {left, y, kColumn_mm, 8};

  y += 15 + spare / 2;
  const double notch_width = notch_card().sheet.x_max - notch_card().sheet.x_min;
  const double notch_height = notch_card().sheet.y_max - notch_card().sheet.y_min;
  layout.cards.push_back({&notch_card(), 0, origin_for(notch_card(), {left, y})});
  layout.form = {left + notch_width + 5, y, right - left - notch_width - 5, notch_height};

  y += notch_height + 7 + spare / 2;
  const double track_width = track_card().sheet.x_max - track_card().sheet.x_min;
  const double track_height = track_card().sheet.y_max - track_card().sheet.y_min;
  const double track_x = right - track_width;
  layout.cards.push_back({&track_card(), 0, origin_for(track_card(), {track_x, y})});
  layout.cards.push_back(
      {&track_card_b(), 0, origin_for(track_card_b(), {track_x, y + track_height + 5})});
  layout.fins.push_back(stand_fin("left", {left + 40, y}, -1));
  layout.fins.push_back(stand_fin("right", {left + 76, y}, 1));

  y += 2 * track_height + 5 + 9 + spare / 2;
  layout.bars.push_back({0, true, {left, y}, kShortBar_mm, kInnerTick_mm});
  layout.bars.push_back(
      {0, false, {right + 8, (size.height_mm - kLongBar_mm) / 2}, kLongBar_mm, kInnerTick_mm});

  y += 9 + spare / 2;
  layout.instructions = {left, y, kColumn_mm, size.height_mm - 9 - y};
}

void lay_out_ground_page(SheetLayout& layout) {
  const PageSize size = layout.pages[1];
  const CardDefinition& ground = ground_sheet();
  const double right_margin = 9 + (size.width_mm - kLetter.height_mm) / 4;
  const double x = size.width_mm - right_margin - ground.columns * ground.square_mm;
  const double y = 24 + (size.height_mm - kA4.width_mm) / 3;
  layout.cards.push_back({&ground, 1, {x, y}});
  const double below = y + ground.rows * ground.square_mm + ground.margin_mm;
  layout.ground_title = {x, 6.5, ground.columns * ground.square_mm, y - ground.margin_mm - 6.5};
  layout.bars.push_back(
      {1, true, {(size.width_mm - kLongBar_mm) / 2, below + 3}, kLongBar_mm, kInnerTick_mm});
  layout.bars.push_back(
      {1, false, {(5 + x - ground.margin_mm) / 2 + 3, y - 11}, kShortBar_mm, kInnerTick_mm});
}

}  // namespace

std::optional<Paper> paper_named(std::string_view word) {
  std::string lower(word);
  std::transform(lower.begin(), lower.end(), lower.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  if (lower == "a4") return Paper::a4;
  if (lower == "letter") return Paper::letter;
  return std::nullopt;
}

PageSize paper_size(Paper paper) {
  return paper == Paper::a4 ? kA4 : kLetter;
}

const char* paper_words(Paper paper) {
  return paper == Paper::a4 ? "A4" : "US Letter";
}

SheetLayout sheet_layout(Paper paper) {
  SheetLayout layout;
  layout.paper = paper;
  layout.pages = {paper_size(paper), paper_size(paper).landscape()};
  lay_out_cards_page(layout);
  lay_out_ground_page(layout);
  return layout;
}

}  // namespace scantling
