#pragma once

#include <opencv2/core/mat.hpp>
#include <optional>
#include <vector>

#include "base/check.h"
#include "card/card_definition.h"

namespace scantling {

/// A chessboard corner found in a photo.
struct SightedCorner {
  int id = 0;
  Point_mm card_mm;
  Point_px photo_px;
};

/// A card found in a photo: identified corners at sub-pixel places.
struct CardSighting {
  const CardDefinition* card = nullptr;
  std::vector<SightedCorner> corners;
  /// Real corners that lie where a flat card seen without distortion would not have them.
  std::vector<SightedCorner> displaced;
  int markers_found = 0;
  double corner_noise_px = 0;  ///< at least this much, where it is known; else only as it shows
  double px_per_mm = 0;        ///< mean over the corners, along the less foreshortened direction
};

struct CardSearch {
  std::optional<CardSighting> sighting;
  std::vector<Check> checks;  ///< why there is none, or what is doubtful about it
};

/// Finds `card` in an upright 8-bit luma picture. Corners carry 0.03-0.1 px standard deviation on
/// sharp photos; the markers only give identity, never a measure.
CardSearch find_card(const cv::Mat& luma, const CardDefinition& card);

}  // namespace scantling
