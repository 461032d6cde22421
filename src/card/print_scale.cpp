#include "card/print_scale.h"

#include <fmt/format.h>

#include <cmath>

namespace scantling {
namespace {

constexpr double kSlip = 0.10;
constexpr double kFitToPage = 0.02;
constexpr double kUnequal = 0.015;  ///< found between the two directions of one printer

std::optional<Check> problem(const char* axis, const BarReading& bar) {
  const bool sensible = bar.printed_mm > 0 && std::isfinite(bar.printed_mm) &&
                        bar.measured_mm > 0 && std::isfinite(bar.measured_mm) &&
                        bar.instrument_uncertainty_mm >= 0 &&
                        std::isfinite(bar.instrument_uncertainty_mm);
  if (!sensible)
    return Check{"bar_reading", Severity::stop,
                 fmt::format("Enter the {} bar's length in mm as you measured it.", axis)};
  const double scale = bar.measured_mm / bar.printed_mm;
  if (std::abs(scale - 1) > kSlip)
    return Check{"bar_reading", Severity::stop,
                 fmt::format("The {} bar is printed as {:g} mm and cannot measure {:g} mm: measure "
                             "it again in mm, from tick to tick, or print the sheet at 100 %.",
                             axis, bar.printed_mm, bar.measured_mm)};
  return std::nullopt;
}

double scale_uncertainty(const BarReading& bar, double moisture) {
  const double setting_mm = kTickSetting_mm * std::sqrt(2.0 / 3.0);
  return std::hypot(std::hypot(bar.instrument_uncertainty_mm, setting_mm) / bar.printed_mm,
                    moisture);
}

}  // namespace

PrintScaleCheck print_scale(const BarReading& x, const BarReading& y, double moisture) {
  PrintScaleCheck result;
  for (const auto& check : {problem("x", x), problem("y", y)})
    if (check) result.checks.push_back(*check);
  if (!result.checks.empty()) return result;

  const CheckedScale scale{x.measured_mm / x.printed_mm, y.measured_mm / y.printed_mm,
                         scale_uncertainty(x, moisture), scale_uncertainty(y, moisture)};
  result.scale = scale;
  const double allowed = 2 * std::hypot(scale.x_uncertainty, scale.y_uncertainty);
  if (scale.x < 1 - kFitToPage && scale.y < 1 - kFitToPage)
    result.checks.push_back(
        {"print_shrunk", Severity::warn,
         fmt::format("The sheet came out {:.1f} % small: it was printed to fit the page. It can be "
                     "used, but a print at 100 % is better.",
                     100 * (1 - (scale.x + scale.y) / 2))});
  else if (std::abs(scale.x - scale.y) > kUnequal + allowed)
    result.checks.push_back(
        {"print_unequal", Severity::warn,
         fmt::format("x and y differ by {:.1f} %, more than a printer usually does: measure both "
                     "bars again.",
                     100 * std::abs(scale.x - scale.y))});
  return result;
}

}  // namespace scantling
