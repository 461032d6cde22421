// JCGM 100:2008 H.3, calibration of a thermometer by a straight line. Seen in an open library that
// transcribes the example; the residual deviation is a value from memory, worked out again. The
// interval of one new reading is not published: worked out from the same data.

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <vector>

#include "reference/printed.h"
#include "uncertainty/propagation.h"
#include "uncertainty/regression.h"

namespace scantling {
namespace {

LineFit line_of_h3() {
  // Table H.6: thermometer reading and correction, degrees Celsius.
  constexpr std::array<double, 11> kReading{21.521, 22.012, 22.512, 23.003, 23.507, 23.999,
                                            24.513, 25.002, 25.503, 26.010, 26.511};
  constexpr std::array<double, 11> kCorrection{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165,
                                               -0.156, -0.157, -0.159, -0.161, -0.160};
  std::vector<double> over_20;
  for (double reading : kReading) over_20.push_back(reading - 20);
  return fit_line(over_20, kCorrection);
}

TEST(GumH3, TheLine) {
  const LineFit fit = line_of_h3();
  std::printf(
      "H.3: intercept %.4f, u %.4f (published -0.1712, 0.0029); slope %.5f, u %.5f (0.00218, "
      "0.00067); r %.3f (-0.930); at 30: %.4f, u %.4f (-0.1494, 0.0041)\n",
      fit.intercept, fit.intercept_uncertainty, fit.slope, fit.slope_uncertainty, fit.correlation,
      fit.at(10), fit.line_uncertainty_at(10));
  expect_printed(fit.intercept, "-0.1712");
  expect_printed(fit.intercept_uncertainty, "0.0029");
  expect_printed(fit.slope, "0.00218");
  expect_printed(fit.slope_uncertainty, "0.00067");
  expect_printed(fit.correlation, "-0.930");
  expect_printed(fit.residual_deviation, "0.0035");
  EXPECT_NEAR(fit.intercept, -0.171203790131350, 1e-12);
  EXPECT_NEAR(fit.intercept_uncertainty, 0.00287759783515995, 1e-13);
  EXPECT_NEAR(fit.slope, 0.00218269773988728, 1e-13);
  EXPECT_NEAR(fit.slope_uncertainty, 0.000667938773227832, 1e-14);
  EXPECT_NEAR(fit.correlation, -0.930429603093, 1e-11);  // published -0.930
  EXPECT_NEAR(fit.residual_deviation, 0.00349756396350528, 1e-13);
  EXPECT_NEAR(fit.residual_sum_of_squares, 0.000110096583109297, 1e-15);
  EXPECT_EQ(fit.degrees_of_freedom, 9);
}

// H.3.4: the correction at 30 degrees and its uncertainty.
TEST(GumH3, ThePrediction) {
  const LineFit fit = line_of_h3();
  expect_printed(fit.at(10), "-0.1494");
  expect_printed(fit.line_uncertainty_at(10), "0.0041");
  EXPECT_NEAR(fit.at(10), -0.149376812732, 1e-11);
  EXPECT_NEAR(fit.line_uncertainty_at(10), 0.004138595753, 1e-12);  // published 0.0041
  EXPECT_NEAR(fit.observation_uncertainty_at(10), 0.005418572550, 1e-12);
  const Interval interval = fit.prediction_interval(10, 0.95);
  EXPECT_NEAR(interval.low, -0.161634475, 1e-9);
  EXPECT_NEAR(interval.high, -0.137119150, 1e-9);
}

// The same prediction from intercept and slope as correlated inputs.
TEST(GumH3, ThePredictionByPropagation) {
  const LineFit fit = line_of_h3();
  InputQuantities inputs;
  const auto part = [&](double value, double u) {
    return Distribution::normal(value, u).with_degrees_of_freedom(fit.degrees_of_freedom);
  };
  inputs.add("intercept", part(fit.intercept, fit.intercept_uncertainty));
  inputs.add("slope", part(fit.slope, fit.slope_uncertainty));
  inputs.correlate(0, 1, fit.correlation);
  const Propagated b =
      propagate(inputs, [](std::span<const double> x) { return x[0] + 10 * x[1]; });
  EXPECT_NEAR(b.standard_uncertainty, 0.004138595753, 1e-11);
  EXPECT_NEAR(b.degrees_of_freedom, 9, 1e-9);
}

// H.3.6: an error that all readings share, u = 0.005, raises u(intercept) and leaves the slope.
TEST(GumH3, ACommonError) {
  const LineFit fit = line_of_h3();
  InputQuantities inputs;
  inputs.add("intercept", Distribution::normal(fit.intercept, fit.intercept_uncertainty));
  inputs.add("common", Distribution::normal(0, 0.005));
  const Propagated y1 = propagate(inputs, [](std::span<const double> x) { return x[0] + x[1]; });
  EXPECT_NEAR(y1.standard_uncertainty, 0.00576893138292676, 1e-12);
}

}  // namespace
}  // namespace scantling
