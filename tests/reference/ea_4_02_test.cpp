// EA-4/02, evaluation of the uncertainty of measurement in calibration, supplements S4, S9 and S10.
// Values from memory, worked out again.

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "reference/printed.h"
#include "uncertainty/coverage.h"
#include "uncertainty/monte_carlo.h"

namespace scantling {
namespace {

// S4: gauge block by comparison, nominal 50 mm; nm.
TEST(Ea402, GaugeBlock) {
  constexpr double kLength = 50e6;
  constexpr double kAlpha = 11.5e-6;
  InputQuantities inputs;
  inputs.add("standard", Distribution::normal(20, 15.0));
  inputs.add("drift", Distribution::rectangular(-30, 30));
  inputs.add("difference", Distribution::normal(-94, 12 / std::sqrt(5.0)));
  inputs.add("comparator", Distribution::rectangular(-32, 32));
  inputs.add("temperature difference", Distribution::rectangular(-0.05, 0.05));
  inputs.add("expansion times temperature", Distribution::normal(0, 11.8));
  inputs.add("off-centre contact", Distribution::rectangular(-6.7, 6.7));
  const Propagated l = propagate(inputs, [](std::span<const double> x) {
    return x[0] + x[1] + x[2] + x[3] - kLength * kAlpha * x[4] - x[5] - x[6];
  });
  expect_printed((kLength + l.value) / 1e6, "49.999926");
  expect_printed(l.contributions[1].amount(), "17.3");
  expect_printed(l.contributions[2].amount(), "5.37");
  expect_printed(l.contributions[3].amount(), "18.5");
  expect_printed(l.contributions[4].amount(), "16.6");
  expect_printed(l.contributions[5].amount(), "11.8");
  expect_printed(l.contributions[6].amount(), "3.87");
  expect_printed(l.standard_uncertainty, "36.4");
  expect_printed(2 * l.standard_uncertainty, "73");
}

// S9: one rectangle dominates (multimeter at 100 V). A factor of 2 would overstate it.
TEST(Ea402, DominantRectangle) {
  InputQuantities inputs;
  inputs.add("calibrator", Distribution::normal(0, 0.001));
  inputs.add("resolution", Distribution::rectangular(-0.05, 0.05));
  inputs.add("calibrator, other", Distribution::rectangular(-0.011, 0.011));
  const Model error = [](std::span<const double> x) { return 0.1 + x[0] + x[1] + x[2]; };
  const Propagated e = propagate(inputs, error);
  expect_printed(e.value, "0.10");
  expect_printed(e.standard_uncertainty, "0.030");
  const double k = trapezoid_coverage_factor(0.95, 1);
  expect_printed(k, "1.65");
  expect_printed(k * e.standard_uncertainty, "0.05");
  const MonteCarloResult drawn = run_monte_carlo(inputs, error);
  expect_printed((drawn.symmetric.high - drawn.symmetric.low) / 2, "0.05");
  EXPECT_FALSE(check_first_order(e, drawn).agrees);
}

// S10: vernier calliper at 150 mm; the resolution and the mechanics make a trapezoid. um.
TEST(Ea402, VernierCalliper) {
  InputQuantities inputs;
  inputs.add("gauge block", Distribution::rectangular(-0.8, 0.8));
  inputs.add("temperature", Distribution::rectangular(-2, 2));
  inputs.add("resolution", Distribution::rectangular(-25, 25));
  inputs.add("mechanics", Distribution::rectangular(-50, 50));
  const Model error = [](std::span<const double> x) {
    return 100 - x[0] + 150e3 * 11.5e-6 * x[1] + x[2] + x[3];
  };
  const Propagated e = propagate(inputs, error);
  expect_printed(e.value / 1000, "0.10");
  expect_printed(e.contributions[0].amount(), "0.46");
  expect_printed(e.contributions[1].amount(), "2.0");
  expect_printed(e.contributions[3].amount(), "29");
  // The resolution's 25 um / sqrt(3) = 14.4 um is published as 15 um, rounded upwards; with the
  // rounded parts u is 33 um as published, with the unrounded ones 32 um.
  expect_printed(e.contributions[2].amount(), "14");
  const double of_rounded = std::sqrt(0.46 * 0.46 + 2.0 * 2.0 + 15.0 * 15.0 + 29.0 * 29.0);
  expect_printed(of_rounded, "33");
  expect_printed(e.standard_uncertainty, "32");
  const double beta = (50.0 - 25.0) / (50.0 + 25.0);
  const double k = trapezoid_coverage_factor(0.95, beta);  // S10.13
  std::printf(
      "S10: E %.2f mm (published 0.10), u %.0f um (33 from rounded parts), k %.2f (1.83), U "
      "%.2f mm (0.06)\n",
      e.value / 1000, e.standard_uncertainty, k, k * e.standard_uncertainty / 1000);
  expect_printed(beta, "0.33");
  expect_printed(k, "1.83");
  expect_printed(k * e.standard_uncertainty / 1000, "0.06");
  expect_printed(1.83 * of_rounded / 1000, "0.06");
  const MonteCarloResult drawn = run_monte_carlo(inputs, error);
  expect_printed((drawn.symmetric.high - drawn.symmetric.low) / 2 / 1000, "0.06");
  EXPECT_NEAR((drawn.symmetric.high - drawn.symmetric.low) / 2, 59.31, 0.6);
}

// S10.13 at its ends: a triangle, and the rectangle where the formula's own limit is sqrt(3).
TEST(Ea402, TrapezoidFactorAtItsEnds) {
  EXPECT_NEAR(trapezoid_coverage_factor(0.95, 0), 1.901767, 1e-6);
  EXPECT_NEAR(trapezoid_coverage_factor(0.95, 1), 0.95 * std::sqrt(3.0), 1e-12);
}

}  // namespace
}  // namespace scantling
