#pragma once

#include <opencv2/core/mat.hpp>
#include <optional>

#include "camera/card_pose.h"
#include "card/card_pattern.h"

namespace scantling {

/// ISO/IEC 7810, ID-1: the size of bank, loyalty and identity cards.
inline constexpr double kIdCardLong_mm = 85.60;
inline constexpr double kIdCardShort_mm = 53.98;
inline constexpr double kIdCardThick_mm = 0.76;
/// The corners are rounded with 3.18 mm (2.88 to 3.48): this much of each side is not straight.
inline constexpr double kIdCardCorner_mm = 3.5;

/// Roughly where a card lies on the sheet, in the pose's frame.
struct IdCardPlace {
  Point_mm centre;
  double along_x = 1, along_y = 0;  ///< unit vector of its long side
};

/// The sheet's printed black and white on the photo, 0..255, varying linearly over the sheet.
struct SheetLight {
  double black[3] = {0, 0, 0};  ///< at, per mm of x, per mm of y
  double white[3] = {255, 0, 0};

  double black_at(Point_mm p) const { return black[0] + black[1] * p.x + black[2] * p.y; }
  double white_at(Point_mm p) const { return white[0] + white[1] * p.x + white[2] * p.y; }
};

struct IdCardOutline {
  std::optional<IdCardPlace> place;
  SheetLight light;
};

/// Finds what covers the sheet's pattern and has the size of an ID-1 card, to about 2 mm.
IdCardOutline find_id_card(const cv::Mat& luma, const CardPose& pose, const CardDefinition& sheet,
                           const CardPattern& pattern);

/// Bilinear luma at a photo place; NaN off the photo.
double luma_at(const cv::Mat& luma, Point_px p);

}  // namespace scantling
