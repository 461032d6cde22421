#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/check.h"
#include "uncertainty/quantity.h"
#include "uncertainty/regression.h"

namespace scantling {

/// A part's size at an odometer reading. A new part's thickness may be the first of them.
struct WearPoint {
  double odometer_km = 0;
  double size_mm = 0;
  std::optional<double> standard_uncertainty_mm = {};  ///< of this size, all told
  /// The part of it that is one and the same error for all points with this `shared_with`, such as
  /// one sheet's print scale. It moves them together: what it does to the line adds up linearly
  /// over them, and mostly cancels in the wear (GUM 5.2.2, H.3.6).
  double shared_mm = 0;
  std::string shared_with = {};  ///< names the sheet; empty: nothing is shared
  /// Of what is left without the shared part.
  double degrees_of_freedom = kUnlimitedDegreesOfFreedom;
  double shared_degrees_of_freedom = kUnlimitedDegreesOfFreedom;
};

struct ForecastOptions {
  std::optional<double> now_km = {};         ///< the last point's odometer reading where not given
  std::optional<double> next_check_km = {};  ///< odometer reading at the next planned check
};

/// A size foretold, with its 95 % prediction interval.
struct ForetoldSize {
  double odometer_km = 0;
  double size_mm = 0;
  Interval interval_95;
};

struct Forecast {
  /// False: the input was implausible and nothing was fitted; `checks` say why.
  bool fitted = false;
  double wear_mm_per_1000_km = 0;  ///< positive where the part gets thinner
  double wear_standard_uncertainty = 0;
  /// From two sizes the effective ones of their uncertainties (Welch-Satterthwaite), the fewest
  /// along the line; from three on those of the scatter.
  double degrees_of_freedom = 0;
  ForetoldSize now;
  std::optional<ForetoldSize> at_next_check;
  /// From now until the minimum; none where no wear shows.
  std::optional<double> distance_left_km;
  /// Until the lower end of the 95 % prediction interval meets the minimum; none where that is
  /// farther away than kFarthest_km.
  std::optional<double> distance_left_lower_95_km;
  /// The lower bound falls before the next planned check.
  bool reaches_minimum_before_next_check = false;
  /// For drawing: the fitted line and its band, evenly spaced from the first
  /// size to beyond now, the next check and, where that is not too far, the
  /// minimum.
  std::vector<ForetoldSize> curve;
  std::vector<Check> checks;

  static constexpr double kFarthest_km = 1e6;
};

inline constexpr double kKilometresInMile = 1.609344;  ///< exactly (NIST SP 811 B.8)

/// Wear by least squares from three sizes on, with the 95 % prediction interval
/// of one new size; by the line through both from two, with their uncertainties
/// carried along (GUM 5.1.2), what several share group by group (5.2.2). Where sizes state
/// uncertainties, an interval is never narrower than these allow, however well the points happen to
/// lie on a line. Points in the order they were measured. An odometer that runs backwards, a part
/// that grows by more than its uncertainty, sizes that are no sizes: a `stop` check and no fit.
Forecast forecast_wear(std::span<const WearPoint> points, double minimum_mm,
                       const ForecastOptions& options = {});

}  // namespace scantling
