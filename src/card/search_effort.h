#pragma once

#include "card/card_sighting.h"

namespace scantling {

/// How much is done before a card counts as missing: `quick` leaves out the slow second try and the
/// look into the mirror. It suits a card that may well not be there.
enum class SearchEffort { thorough, quick };

/// As find_card(luma, card), which is thorough.
CardSearch find_card(const cv::Mat& luma, const CardDefinition& card, SearchEffort effort);

}  // namespace scantling
