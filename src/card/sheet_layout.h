#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "card/card_definition.h"
#include "print/page.h"

namespace scantling {

enum class Paper { a4, letter };

/// "a4" or "letter", in any case of letters; nothing for another word.
std::optional<Paper> paper_named(std::string_view word);
PageSize paper_size(Paper paper);      ///< portrait
const char* paper_words(Paper paper);  ///< "A4", "US Letter"

/// Where a card's frame has its origin on its page. The frames' x and y are the page's.
struct PlacedCard {
  const CardDefinition* card = nullptr;
  std::size_t page = 0;
  PagePoint origin;
};

/// A line of known length between two end ticks, against which the print's scale is measured. An
/// inner tick serves a calliper too short for the whole bar.
struct CheckBar {
  std::size_t page = 0;
  bool along_x = true;
  PagePoint start;
  double length_mm = 0;
  double inner_mm = 0;

  PagePoint at(double along_mm) const {
    return along_x ? PagePoint{start.x + along_mm, start.y}
                   : PagePoint{start.x, start.y + along_mm};
  }
};

/// A folded fin that holds the notch card upright: its foot is square to its fold, so the card
/// stands square at whatever angle the fin is folded.
struct StandFin {
  const char* words = "";  ///< which side of the card it goes on, seen from the front
  std::vector<PagePoint> outline;
  std::vector<PagePoint> glue_strip;
  PagePoint fold_top, fold_foot;
  PagePoint foot_end;  ///< the foot runs from fold_foot to here
};

/// Everything on the printable sheets that has a measure, in mm on its page.
struct SheetLayout {
  Paper paper = Paper::a4;
  std::vector<PageSize> pages;
  std::vector<PlacedCard> cards;
  std::vector<CheckBar> bars;
  std::vector<StandFin> fins;
  PageBox title;         ///< page 1
  PageBox form;          ///< page 1: blanks for this print's figures
  PageBox instructions;  ///< page 1
  PageBox ground_title;  ///< page 2, with its blanks
};

/// Two pages: the cards to cut out, and the ground sheet. Nothing lies within 5 mm of the paper's
/// edge, where printers cannot print.
SheetLayout sheet_layout(Paper paper);

}  // namespace scantling
