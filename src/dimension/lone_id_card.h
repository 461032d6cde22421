#pragma once

#include <opencv2/core/mat.hpp>
#include <optional>
#include <vector>

#include "base/check.h"
#include "card/card_sighting.h"

namespace scantling {

/// Which side of the ID-1 card the part is on, as the photo shows it.
enum class PartSide { right, left };

/// An ID-1 card (ISO/IEC 7810: 85.60 mm x 53.98 mm, 0.76 mm thick, rounded corners) that stands
/// beside a part, instead of a printed card.
struct LoneIdCard {
  /// Places spread over the card's face, seen through the map of its four sides; each as unsure as
  /// the sides are. Its definition has the part to the right.
  CardSighting sighting;
  double blur_px = 0;    ///< median sigma of the blur across its sides
  double light = 0;      ///< linear light of its face
  double side_u_mm = 0;  ///< standard uncertainty of a length between two sides
  double contrast = 0;   ///< of the face to what is beside it, linear light
};

struct LoneIdCardSearch {
  std::optional<LoneIdCard> card;
  std::vector<Check> checks;  ///< why there is none
};

/// Finds the card by its four straight sides and rounded corners in an upright 8-bit luma picture,
/// long side level or upright.
LoneIdCardSearch find_lone_id_card(const cv::Mat& luma);

/// The same card with the part on that side of it.
const CardDefinition& id_card_with_part(const CardDefinition& card, PartSide part);

/// Relative standard uncertainty of the card's size: the standard's limits of an unused card (value
/// from memory: 85.47 to 85.72 and 53.92 to 54.03 mm), evenly spread.
inline constexpr double kIdCardSize_u = 0.0009;

}  // namespace scantling
