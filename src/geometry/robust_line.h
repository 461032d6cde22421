#pragma once

#include <span>
#include <vector>

namespace scantling {

/// A straight line y = height + slope (x - middle) through points of which some are wrong.
struct RobustLine {
  bool valid = false;
  double middle = 0;
  double height = 0;
  double slope = 0;
  double spread = 0;  ///< robust standard deviation of the points about the line
  double inlier_share = 0;
  double height_u = 0;  ///< standard uncertainty of `height`, neighbours' correlation included
  double slope_u = 0;
  double effective_points = 0;  ///< N / (1 + 2 sum of autocorrelations)
  std::vector<char> inlier;

  double at(double x) const { return height + slope * (x - middle); }
  double u_at(double x) const;
};

/// Tukey's biweight started from the best of many two-point lines (least median of squares), so
/// that up to 45 % wrong points do no harm. `weight` (may be empty) multiplies each point's weight.
/// x must ascend for the correlation estimate.
RobustLine fit_robust_line(std::span<const double> x, std::span<const double> y,
                           std::span<const double> weight = {}, double least_spread = 1e-4);

}  // namespace scantling
