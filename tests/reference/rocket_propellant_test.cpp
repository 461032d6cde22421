// Shear strength of a rocket propellant's bond against its age: D. C. Montgomery, E. A. Peck, G. G.
// Vining, Introduction to Linear Regression Analysis, example 2.1, with the analysis of variance
// and the 95 % prediction interval of one new motor at ten weeks. Data and printed figures from
// memory. The book works with figures rounded on the way; each such route is worked through beside
// the check.

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>

#include "reference/printed.h"
#include "uncertainty/coverage.h"
#include "uncertainty/regression.h"

namespace scantling {
namespace {

constexpr std::array<double, 20> kAge_weeks{15.50, 23.75, 8.00,  17.00, 5.50, 19.00, 24.00,
                                            2.50,  7.50,  11.00, 13.00, 3.75, 25.00, 9.75,
                                            22.00, 18.00, 6.00,  12.50, 2.00, 21.50};
constexpr std::array<double, 20> kStrength_psi{
    2158.70, 1678.15, 2316.00, 2061.30, 2207.50, 1708.30, 1784.70, 2575.00, 2357.90, 2256.70,
    2165.20, 2399.55, 1779.80, 2336.75, 1765.30, 2053.50, 2414.40, 2200.50, 2654.20, 1753.70};

TEST(RocketPropellant, TheLine) {
  const LineFit fit = fit_line(kAge_weeks, kStrength_psi);
  const double mean_square = fit.residual_deviation * fit.residual_deviation;
  std::printf("y = %.4f %+.4f x, MS_res %.2f (printed 2627.82 - 37.15 x, 9244.59)\n", fit.intercept,
              fit.slope, mean_square);
  expect_printed(fit.intercept, "2627.82");
  expect_printed(fit.slope, "-37.15");
  EXPECT_EQ(fit.degrees_of_freedom, 18);
  expect_printed(fit.sxx, "1106.56");
  const double sxy = fit.slope * fit.sxx;
  const double total_squares = fit.residual_sum_of_squares + fit.slope * sxy;
  expect_printed(sxy, "-41112.65");
  expect_printed(total_squares, "1693737.60");
  // The book takes SS_res = SS_T - slope S_xy with the slope rounded to 37.15, which leaves 0.09 %
  // too much; from the unrounded slope MS_res is 9236.38.
  expect_printed((1693737.60 - 37.15 * 41112.65) / 18, "9244.59");
  expect_printed(mean_square, "9236.38");
}

TEST(RocketPropellant, OneNewMotorAtTenWeeks) {
  const LineFit fit = fit_line(kAge_weeks, kStrength_psi);
  const Interval interval = fit.prediction_interval(10, 0.95);
  std::printf("at 10 weeks: %.2f, 95 %% prediction %.2f to %.2f (printed 2048.32 to 2464.32)\n",
              fit.at(10), interval.low, interval.high);
  // The book's route, with the line, MS_res and t as it prints them, gives its very digits.
  const double middle = 2627.82 - 37.15 * 10;
  const double half =
      2.101 * std::sqrt(9244.59 * (1 + 1.0 / 20 + std::pow(10 - 13.3625, 2) / 1106.56));
  expect_printed(coverage_factor(0.95, 18), "2.101");
  expect_printed(fit.mean_x, "13.3625");
  expect_printed(middle, "2256.32");
  expect_printed(middle - half, "2048.32");
  expect_printed(middle + half, "2464.32");
  // Not rounded on the way the ends lie 0.06 and 0.13 psi inside these: 0.03 % and 0.06 % of the
  // half-width.
  expect_printed(interval.low, "2048.38");
  expect_printed(interval.high, "2464.19");
}

}  // namespace
}  // namespace scantling
