#pragma once

#include <opencv2/core/mat.hpp>
#include <vector>

#include "card/card_definition.h"

namespace scantling {

/// How many different markers of a printed piece are seen.
struct CardPresence {
  const CardDefinition* card = nullptr;
  int markers = 0;
};

/// Which of the four printed pieces an upright 8-bit luma picture shows, most markers first; at
/// least two markers each, as a single one may be a chance pattern. Reads reduced pictures, and the
/// whole one only where those show nothing, or nothing but the ground sheet: mostly about as long as
/// finding one card.
std::vector<CardPresence> cards_in_photo(const cv::Mat& luma);

}  // namespace scantling
