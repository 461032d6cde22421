#pragma once

#include <array>
#include <opencv2/core/mat.hpp>
#include <optional>

#include "dimension/id_card_outline.h"
#include "geometry/robust_line.h"

namespace scantling {

struct Vector2 {
  double x = 0, y = 0;
};

/// One side of an ID-1 card, in the frame of its expected place.
struct IdCardSide {
  RobustLine line;  ///< outward offset in mm from the expected side, against the place along it
  Vector2 normal, tangent;
  double half_mm = 0;  ///< from the card's centre to the expected side
};

/// A card on a photographed sheet.
struct IdCardView {
  const cv::Mat& luma;
  const CardPose& pose;
  const CardPattern& pattern;
  const SheetLight& light;
  IdCardPlace place;

  /// On the plane of the card's upper face: `along` the side, `out` beyond where it is expected.
  Point3_mm at(const IdCardSide& side, double along, double out) const;
  /// The same in the sheet's nominal millimetres.
  Point_mm nominal(const IdCardSide& side, double along, double out) const;
  double luma_on(const IdCardSide& side, double along, double out) const;
};

/// Fits the four sides, each without its rounded ends: 0 and 1 end the length, 2 and 3 the width.
/// Moves the view's place onto them. Returns the first side that cannot be made out, if any.
std::optional<std::size_t> measure_sides(IdCardView& view, std::array<IdCardSide, 4>& sides);

}  // namespace scantling
