#pragma once

#include <span>
#include <vector>

namespace scantling {

struct Interval {
  double low = 0;
  double high = 0;
};

/// A straight line y = intercept + slope x by ordinary least squares, with all that a prediction
/// needs (GUM H.3; the formulas are those of any text on regression).
struct LineFit {
  double intercept = 0;
  double slope = 0;
  double intercept_uncertainty = 0;
  double slope_uncertainty = 0;
  double correlation = 0;         ///< between intercept and slope
  double residual_deviation = 0;  ///< s, of single points about the line
  double residual_sum_of_squares = 0;
  double r_squared = 0;
  double degrees_of_freedom = 0;  ///< n - 2
  double mean_x = 0;
  double sxx = 0;  ///< sum of (x - mean_x)^2
  double points = 0;

  double at(double x) const;
  /// Of the line itself: s sqrt(1/n + (x - mean_x)^2 / sxx).
  double line_uncertainty_at(double x) const;
  /// Of one new observation: s sqrt(1 + 1/n + (x - mean_x)^2 / sxx).
  double observation_uncertainty_at(double x) const;
  /// Holds one new observation at x with this chance.
  Interval prediction_interval(double x, double coverage) const;
};

/// @throws std::invalid_argument for fewer than three points, lists of unequal length, or where all
/// x are the same.
LineFit fit_line(std::span<const double> x, std::span<const double> y);

/// y = X b by least squares.
struct LinearFit {
  std::vector<double> coefficients;
  std::vector<double> uncertainties;
  double residual_deviation = 0;
  double residual_sum_of_squares = 0;
  /// About the mean where `intercept`, about zero where not.
  double r_squared = 0;
  double degrees_of_freedom = 0;
};

/// `rows`: one row of regressors an observation, without the column of ones, which `intercept` adds
/// in front. Orthogonal (QR) in extended precision: keeps nine digits on the certified Longley
/// data.
/// @throws std::invalid_argument for ragged or too few rows, or regressors that depend on each
/// other.
LinearFit fit_linear(const std::vector<std::vector<double>>& rows, std::span<const double> y,
                     bool intercept);

}  // namespace scantling
