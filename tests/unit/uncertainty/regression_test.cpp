#include "uncertainty/regression.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>
#include <vector>

namespace scantling {
namespace {

using Values = std::vector<double>;

TEST(FitLine, IsExactOnALine) {
  const LineFit fit = fit_line(Values{1, 2, 4}, Values{3, 5, 9});
  EXPECT_NEAR(fit.slope, 2, 1e-12);
  EXPECT_NEAR(fit.intercept, 1, 1e-12);
  EXPECT_NEAR(fit.residual_deviation, 0, 1e-12);
}

TEST(FitLine, PredictsOneNewPointWiderThanTheLine) {
  const LineFit fit = fit_line(Values{0, 1, 2, 3}, Values{0, 1.1, 1.9, 3});
  EXPECT_NEAR(fit.observation_uncertainty_at(1.5),
              std::hypot(fit.residual_deviation, fit.line_uncertainty_at(1.5)), 1e-15);
  EXPECT_NEAR(fit.line_uncertainty_at(1.5), fit.residual_deviation / 2, 1e-15);
}

TEST(FitLine, RefusesWhatMakesNoLine) {
  EXPECT_THROW(fit_line(Values{1, 2}, Values{1, 2}), std::invalid_argument);
  EXPECT_THROW(fit_line(Values{1, 2, 3}, Values{1, 2}), std::invalid_argument);
  EXPECT_THROW(fit_line(Values{2, 2, 2}, Values{1, 2, 3}), std::invalid_argument);
}

TEST(FitLinear, AgreesWithTheLine) {
  const Values x{0, 1, 2, 3, 5};
  const Values y{0.2, 1.1, 1.9, 3.2, 4.8};
  const LineFit line = fit_line(x, y);
  const LinearFit fit = fit_linear({{0}, {1}, {2}, {3}, {5}}, y, true);
  EXPECT_NEAR(fit.coefficients[0], line.intercept, 1e-12);
  EXPECT_NEAR(fit.coefficients[1], line.slope, 1e-12);
  EXPECT_NEAR(fit.uncertainties[0], line.intercept_uncertainty, 1e-12);
  EXPECT_NEAR(fit.uncertainties[1], line.slope_uncertainty, 1e-12);
  EXPECT_NEAR(fit.r_squared, line.r_squared, 1e-12);
}

TEST(FitLinear, RefusesWhatCannotBeSolved) {
  EXPECT_THROW(fit_linear({}, Values{}, true), std::invalid_argument);
  EXPECT_THROW(fit_linear({{1}, {2}}, Values{1, 2}, true), std::invalid_argument);
  EXPECT_THROW(fit_linear({{1}, {2, 3}, {4}}, Values{1, 2, 3}, true), std::invalid_argument);
  EXPECT_THROW(fit_linear({{1, 2}, {2, 4}, {3, 6}, {4, 8}}, Values{1, 2, 3, 5}, true),
               std::invalid_argument);
}

}  // namespace
}  // namespace scantling
