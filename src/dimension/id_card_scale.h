#pragma once

#include <array>
#include <opencv2/core/mat.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/check.h"
#include "card/print_scale.h"
#include "geometry/points.h"
#include "photo/photo.h"

namespace scantling {

/// A part of the scale's standard uncertainty, as fractions.
struct ScaleBudgetLine {
  std::string source;
  double x = 0;
  double y = 0;
};

/// A sheet's print scale, found from an ID-1 card lying on it.
struct IdCardScale {
  std::optional<CheckedScale> scale;     ///< nothing when a check says stop
  double angle_deg = 0;                  ///< of the card's long side to the sheet's x, -90..90
  std::array<Point_px, 4> outline_px{};  ///< where the straight sides would meet
  double edge_residual_mm = 0;           ///< scatter of the edge points about their lines
  std::vector<ScaleBudgetLine> budget;   ///< largest first
  std::vector<Check> checks;
};

/// Measures an ID-1 card (ISO/IEC 7810: 85.60 mm x 53.98 mm, 0.76 mm thick) that lies flat on the
/// ground sheet. Its four sides are fitted without the rounded corners, in the plane of its upper
/// face, and the sheet's x and y scales are solved so that its length and width come out right:
///   nx^2 / sx^2 + ny^2 / sy^2 = (d / D)^2 for each pair of sides,
/// d the distance in nominal sheet millimetres, D the standard's, (nx, ny) the unit normal. It has
/// a solution while the card lies along the sheet; beyond 20 degrees it is refused.
/// Standard uncertainty about 0.15 %, most of it paper moisture and the standard's tolerance.
/// `luma` is an upright 8-bit picture. Bad input ends in `stop` checks.
IdCardScale scale_from_id_card(const cv::Mat& luma, const CameraTags& tags);

}  // namespace scantling
