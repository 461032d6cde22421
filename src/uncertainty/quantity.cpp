#include "uncertainty/quantity.h"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

namespace scantling {

double Quantity::expanded_95_mm() const {
  constexpr double kNormal95 = 1.959963984540054;
  // Beyond this the t and the normal quantile agree to five digits.
  if (!(degrees_of_freedom < 1e5)) return kNormal95 * standard_uncertainty_mm;
  const boost::math::students_t t(std::max(1.0, std::floor(degrees_of_freedom)));
  return boost::math::quantile(t, 0.975) * standard_uncertainty_mm;
}

Quantity combine_independent(double value_mm, std::vector<BudgetLine> budget) {
  double variance = 0;
  double welch = 0;
  for (const BudgetLine& line : budget) {
    const double u2 = line.standard_uncertainty_mm * line.standard_uncertainty_mm;
    variance += u2;
    if (std::isfinite(line.degrees_of_freedom) && line.degrees_of_freedom > 0)
      welch += u2 * u2 / line.degrees_of_freedom;
  }
  std::stable_sort(budget.begin(), budget.end(), [](const BudgetLine& a, const BudgetLine& b) {
    return a.standard_uncertainty_mm > b.standard_uncertainty_mm;
  });
  Quantity result;
  result.value_mm = value_mm;
  result.standard_uncertainty_mm = std::sqrt(variance);
  result.degrees_of_freedom =
      welch > 0 ? variance * variance / welch : kUnlimitedDegreesOfFreedom;
  result.budget = std::move(budget);
  return result;
}

}  // namespace scantling
