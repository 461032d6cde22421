// EA-4/02, evaluation of the uncertainty of measurement in calibration, supplements S4, S9 and S10.
// Values from memory, worked out again.

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

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
  EXPECT_NEAR(l.value, -74, 1e-6);  // 49.999 926 mm
  EXPECT_NEAR(l.contributions[1].amount(), 17.3, 0.05);
  EXPECT_NEAR(l.contributions[2].amount(), 5.37, 0.005);
  EXPECT_NEAR(l.contributions[3].amount(), 18.5, 0.05);
  EXPECT_NEAR(l.contributions[4].amount(), 16.6, 0.05);
  EXPECT_NEAR(l.contributions[6].amount(), 3.87, 0.005);
  EXPECT_NEAR(l.standard_uncertainty, 36.403, 0.02);  // published 36.4
  EXPECT_NEAR(2 * l.standard_uncertainty, 73, 0.5);
}

// S9: one rectangle dominates (multimeter at 100 V). A factor of 2 would overstate it.
TEST(Ea402, DominantRectangle) {
  InputQuantities inputs;
  inputs.add("calibrator", Distribution::normal(0, 0.001));
  inputs.add("resolution", Distribution::rectangular(-0.05, 0.05));
  inputs.add("calibrator, other", Distribution::rectangular(-0.011, 0.011));
  const Model error = [](std::span<const double> x) { return 0.1 + x[0] + x[1] + x[2]; };
  const Propagated e = propagate(inputs, error);
  EXPECT_NEAR(e.value, 0.10, 1e-12);
  EXPECT_NEAR(e.standard_uncertainty, 0.0296, 5e-5);  // published 0.030
  const double k = trapezoid_coverage_factor(0.95, 1);
  EXPECT_NEAR(k, 1.65, 0.006);
  EXPECT_NEAR(k * e.standard_uncertainty, 0.05, 0.002);
  const MonteCarloResult drawn = run_monte_carlo(inputs, error);
  EXPECT_NEAR((drawn.symmetric.high - drawn.symmetric.low) / 2, 0.05, 0.002);
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
  EXPECT_NEAR(e.value, 100, 1e-9);
  EXPECT_NEAR(e.contributions[0].amount(), 0.46, 0.005);
  EXPECT_NEAR(e.contributions[1].amount(), 2.0, 0.05);
  EXPECT_NEAR(e.standard_uncertainty, 32.340, 0.005);  // published 33 from rounded parts
  const double beta = (50.0 - 25.0) / (50.0 + 25.0);
  const double k = trapezoid_coverage_factor(0.95, beta);  // S10.13
  std::printf(
      "S10: E %.2f mm (published 0.10), u %.0f um (33 from rounded parts), k %.2f (1.83), U "
      "%.2f mm (0.06)\n",
      e.value / 1000, e.standard_uncertainty, k, k * e.standard_uncertainty / 1000);
  EXPECT_NEAR(k, 1.833892, 1e-6);                        // published 1.83
  EXPECT_NEAR(k * e.standard_uncertainty, 59.31, 0.01);  // published 0.06 mm
  const MonteCarloResult drawn = run_monte_carlo(inputs, error);
  EXPECT_NEAR((drawn.symmetric.high - drawn.symmetric.low) / 2, 59.31, 0.6);
}

// S10.13 at its ends: a triangle, and the rectangle where the formula's own limit is sqrt(3).
TEST(Ea402, TrapezoidFactorAtItsEnds) {
  EXPECT_NEAR(trapezoid_coverage_factor(0.95, 0), 1.901767, 1e-6);
  EXPECT_NEAR(trapezoid_coverage_factor(0.95, 1), 0.95 * std::sqrt(3.0), 1e-12);
}

}  // namespace
}  // namespace scantling
