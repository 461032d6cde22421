#pragma once

#include <vector>

#include "card/card_definition.h"
#include "card/marker_bits.h"

namespace scantling {

/// What a card shows at a place: `none` off its sheet and in its notch.
enum class PrintedTone { black, white, none };

/// Tells black from white on a card's face, to see where something lies on it.
class CardPattern {
 public:
  /// Keeps a reference to the definition.
  explicit CardPattern(const CardDefinition& card);

  PrintedTone at(Point_mm place) const;
  /// The tone of the whole square of half-width `reach_mm` about the place; `none` where it is
  /// mixed. Thin features below `reach_mm` are seen at their corners and middles only.
  PrintedTone around(Point_mm place, double reach_mm) const;

 private:
  const CardDefinition& card_;
  std::vector<MarkerBits> bits_;
};

}  // namespace scantling
