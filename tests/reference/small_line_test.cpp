// A textbook line of nine points, used in the tests of Apache Commons Math and checked there
// against R: the uncertainties of slope and intercept were seen; slope and intercept are worked
// out.

#include <gtest/gtest.h>

#include <array>

#include "uncertainty/coverage.h"
#include "uncertainty/regression.h"

namespace scantling {
namespace {

TEST(SmallLine, FitAndInterval) {
  constexpr std::array<double, 9> kX{15.6, 26.8, 37.8, 36.4, 35.5, 18.6, 15.3, 7.9, 0.0};
  constexpr std::array<double, 9> kY{5.2, 6.1, 8.7, 8.5, 8.8, 4.9, 4.5, 2.5, 1.1};
  const LineFit fit = fit_line(kX, kY);
  EXPECT_NEAR(fit.slope, 0.2022115137, 1e-10);
  EXPECT_NEAR(fit.intercept, 1.2323541661, 1e-10);
  EXPECT_NEAR(fit.slope_uncertainty, 0.011448491, 1e-9);
  EXPECT_NEAR(fit.intercept_uncertainty, 0.286036932, 1e-9);
  EXPECT_NEAR(coverage_factor(0.95, fit.degrees_of_freedom) * fit.slope_uncertainty,
              0.0270713794287, 1e-11);
  const double t = fit.slope / fit.slope_uncertainty;
  EXPECT_NEAR(2 * t_probability_below(-t, fit.degrees_of_freedom), 4.596e-07, 1e-10);
}

}  // namespace
}  // namespace scantling
