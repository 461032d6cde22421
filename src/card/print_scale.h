#pragma once

#include <optional>
#include <vector>

#include "base/check.h"

namespace scantling {

/// A check bar as the user measured it.
struct BarReading {
  double measured_mm = 0;
  double printed_mm = 0;  ///< the figure beside the bar, or beside its inner tick
  /// Standard uncertainty of the instrument alone; a class II rule under a metre may be off by
  /// 0.5 mm, which makes 0.5 / sqrt 3.
  double instrument_uncertainty_mm = 0.03;
};

/// What a print is of its nominal size, along the card's x and y.
struct CheckedScale {
  double x = 1;
  double y = 1;
  double x_uncertainty = 0.01;  ///< standard, as a fraction
  double y_uncertainty = 0.01;
};

struct PrintScaleCheck {
  std::optional<CheckedScale> scale;
  std::vector<Check> checks;  ///< `stop` where there is no scale, `warn` where it is doubtful
};

/// Paper grows and shrinks with moisture, by some tenths of a per cent between a dry and a damp
/// room (common practice, order of magnitude): a sheet kept indoors is taken at 0.1 %.
inline constexpr double kPaperMoisture = 0.001;
/// A jaw or a graduation is set on a printed tick to 0.1 mm at best (half width, each end).
inline constexpr double kTickSetting_mm = 0.1;

/// Scale = measured / printed; its standard uncertainty is
///   sqrt((u_instrument^2 + 2 (setting / sqrt 3)^2) / printed^2 + moisture^2)
/// with the two ends' setting errors as independent rectangular distributions (GUM 4.3.7).
/// Readings more than 10 % off are refused as slips.
PrintScaleCheck print_scale(const BarReading& x, const BarReading& y,
                            double moisture = kPaperMoisture);

}  // namespace scantling
