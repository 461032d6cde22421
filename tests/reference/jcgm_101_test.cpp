// JCGM 101:2008, propagation of distributions by a Monte Carlo method, clause 9.
// Values from memory, worked out again (exactly, or by four million draws of another program).

#include "uncertainty/monte_carlo.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

namespace scantling {
namespace {

const Model kSum = [](std::span<const double> x) { return x[0] + x[1] + x[2] + x[3]; };

InputQuantities four(const Distribution& first_three, const Distribution& last) {
  InputQuantities inputs;
  for (int i = 0; i < 3; ++i) inputs.add("X", first_three);
  inputs.add("X4", last);
  return inputs;
}

Distribution rectangle_of(double u) {
  return Distribution::rectangular(-u * std::sqrt(3.0), u * std::sqrt(3.0));
}

MonteCarloResult draw(const InputQuantities& inputs, const Model& model, double coverage = 0.95,
                      int digits = 2) {
  const MonteCarloResult result = run_monte_carlo(
      inputs, model, {.coverage = coverage, .significant_digits = digits, .seed = 20'080'101});
  std::printf(
      "%zu trials, stable %d: mean %.6g, u %.5g, symmetric [%.6g, %.6g], shortest [%.6g, "
      "%.6g]\n",
      result.trials, result.stable, result.mean, result.standard_uncertainty, result.symmetric.low,
      result.symmetric.high, result.shortest.low, result.shortest.high);
  return result;
}

// 9.2.2: normal inputs, where first order is exact.
TEST(Jcgm101, FourNormals) {
  const InputQuantities inputs = four(Distribution::normal(0, 1), Distribution::normal(0, 1));
  const Propagated first = propagate(inputs, kSum);
  EXPECT_NEAR(first.standard_uncertainty, 2.0, 1e-12);
  EXPECT_NEAR(first.expanded(0.95), 3.92, 0.005);
  const MonteCarloResult drawn = draw(inputs, kSum);
  EXPECT_TRUE(drawn.stable);
  EXPECT_NEAR(drawn.standard_uncertainty, 2.00, 0.02);
  EXPECT_NEAR(drawn.symmetric.high, 3.92, 0.05);
  EXPECT_NEAR(drawn.symmetric.low, -3.92, 0.05);
  EXPECT_TRUE(check_first_order(first, drawn).agrees);
}

// 9.2.3: rectangular inputs; exact half-width 2 sqrt(3) (2 - (3/5)^(1/4)) = 3.879407.
TEST(Jcgm101, FourRectangles) {
  const InputQuantities inputs = four(rectangle_of(1), rectangle_of(1));
  const MonteCarloResult drawn = draw(inputs, kSum, 0.95, 3);
  EXPECT_NEAR(drawn.standard_uncertainty, 2.0, 0.005);
  EXPECT_NEAR(drawn.symmetric.high, 3.879407, 0.015);
  EXPECT_NEAR(drawn.symmetric.low, -3.879407, 0.015);
}

// 9.2.4: one rectangle dominates, and first order is far off (19.9 against 17.0).
TEST(Jcgm101, OneDominantRectangle) {
  const InputQuantities inputs = four(rectangle_of(1), rectangle_of(10));
  const Propagated first = propagate(inputs, kSum);
  EXPECT_NEAR(first.standard_uncertainty, 10.148892, 1e-6);
  EXPECT_NEAR(first.expanded(0.95), 19.9, 0.05);
  const MonteCarloResult drawn = draw(inputs, kSum, 0.95, 3);
  EXPECT_NEAR(drawn.standard_uncertainty, 10.15, 0.02);
  EXPECT_NEAR(drawn.symmetric.high, 17.0, 0.05);
  EXPECT_NEAR(drawn.symmetric.low, -17.0, 0.05);
  // Clause 8: the two must be told apart.
  EXPECT_FALSE(check_first_order(first, drawn).agrees);
}

// 9.3: mass calibration; kg/m^3 and mg. Tolerance 0.003 on the ends.
TEST(Jcgm101, MassCalibration) {
  InputQuantities inputs;
  inputs.add("m_Rc", Distribution::normal(100'000.000, 0.050));
  inputs.add("dm_Rc", Distribution::normal(1.234, 0.020));
  inputs.add("rho_a", Distribution::rectangular(1.10, 1.30));
  inputs.add("rho_W", Distribution::rectangular(7000, 9000));
  inputs.add("rho_R", Distribution::rectangular(7950, 8050));
  const Model mass = [](std::span<const double> x) {
    return (x[0] + x[1]) * (1 + (x[2] - 1.2) * (1 / x[3] - 1 / x[4])) - 100'000;
  };
  const Propagated first = propagate(inputs, mass);
  EXPECT_NEAR(first.value, 1.2340, 1e-4);
  EXPECT_NEAR(first.standard_uncertainty, 0.0539, 5e-5);
  EXPECT_NEAR(first.value - first.expanded(0.95), 1.1285, 2e-4);
  EXPECT_NEAR(first.value + first.expanded(0.95), 1.3395, 2e-4);
  EXPECT_NEAR(
      std::sqrt(std::pow(first.standard_uncertainty, 2) + second_order_variance(inputs, mass)),
      0.0750, 2e-4);
  const MonteCarloResult drawn = draw(inputs, mass, 0.95, 2);
  EXPECT_NEAR(drawn.mean, 1.2341, 5e-4);
  EXPECT_NEAR(drawn.standard_uncertainty, 0.0754, 5e-4);
  EXPECT_NEAR(drawn.shortest.low, 1.0834, 0.003);
  EXPECT_NEAR(drawn.shortest.high, 1.3825, 0.003);
  EXPECT_FALSE(check_first_order(first, drawn).agrees);
}

// 9.4.2: Y = X1^2 + X2^2 at zero, where first order gives nothing. Exact: u = mean = 50e-6,
// shortest interval [0, 149.787e-6].
TEST(Jcgm101, ComparisonLossAtZero) {
  InputQuantities inputs;
  inputs.add("X1", Distribution::normal(0, 0.005));
  inputs.add("X2", Distribution::normal(0, 0.005));
  const Model loss = [](std::span<const double> x) { return x[0] * x[0] + x[1] * x[1]; };
  EXPECT_EQ(propagate(inputs, loss).standard_uncertainty, 0);
  EXPECT_NEAR(std::sqrt(second_order_variance(inputs, loss)), 50e-6, 1e-10);
  const MonteCarloResult drawn = draw(inputs, loss, 0.95, 2);
  EXPECT_NEAR(drawn.mean, 50e-6, 0.2e-6);
  EXPECT_NEAR(drawn.standard_uncertainty, 50e-6, 0.3e-6);
  EXPECT_NEAR(drawn.shortest.low, 0, 0.01e-6);
  EXPECT_NEAR(drawn.shortest.high, 149.787e-6, 0.7e-6);
}

// 9.4 at x1 = 0.010: exact mean 150e-6 and u 111.803e-6 (worked out, not published).
TEST(Jcgm101, ComparisonLossAwayFromZero) {
  InputQuantities inputs;
  inputs.add("X1", Distribution::normal(0.010, 0.005));
  inputs.add("X2", Distribution::normal(0, 0.005));
  const MonteCarloResult drawn =
      draw(inputs, [](std::span<const double> x) { return x[0] * x[0] + x[1] * x[1]; });
  EXPECT_NEAR(drawn.mean, 150e-6, 1.5e-6);
  EXPECT_NEAR(drawn.standard_uncertainty, 111.803e-6, 1.5e-6);
}

// 9.5: the end gauge of GUM H.1 with full distributions. Lengths over 50 mm, in nm.
TEST(Jcgm101, EndGauge) {
  InputQuantities inputs;
  inputs.add("l_S", Distribution::student_t(623, 25, 18));
  inputs.add("d", Distribution::student_t(215, 6, 24));
  inputs.add("d random", Distribution::student_t(0, 4, 5));
  inputs.add("d systematic", Distribution::student_t(0, 7, 8));
  inputs.add("alpha_S", Distribution::rectangular(9.5e-6, 13.5e-6));
  inputs.add("theta mean", Distribution::normal(-0.1, 0.2));
  inputs.add("theta cyclic", Distribution::arcsine(-0.5, 0.5));
  inputs.add(
      "d_alpha",
      Distribution::curvilinear_trapezoidal(-1e-6, 1e-6, 0.1e-6).with_degrees_of_freedom(50));
  inputs.add(
      "d_theta",
      Distribution::curvilinear_trapezoidal(-0.050, 0.050, 0.025).with_degrees_of_freedom(2));
  const Model length = [](std::span<const double> x) {
    const double l_s = 50e6 + x[0];
    return x[0] + x[1] + x[2] + x[3] - l_s * (x[7] * (x[5] + x[6]) + x[4] * x[8]);
  };
  const Propagated first = propagate(inputs, length);
  EXPECT_NEAR(first.value, 838, 0.5);
  EXPECT_NEAR(first.standard_uncertainty, 32, 0.5);
  const MonteCarloResult drawn = draw(inputs, length, 0.99, 2);
  EXPECT_NEAR(drawn.mean, 838, 0.5);
  EXPECT_NEAR(drawn.standard_uncertainty, 35.81, 0.3);  // published 36
  EXPECT_NEAR(drawn.shortest.low, 745, 2);
  EXPECT_NEAR(drawn.shortest.high, 932, 2);
}

// 7.9.2: u = 0.00035 with two digits is 35 x 10^-5, tolerance 0.5 x 10^-5; one digit 4 x 10^-4.
TEST(Jcgm101, NumericalTolerance) {
  EXPECT_NEAR(numerical_tolerance(0.00035, 2), 0.5e-5, 1e-18);
  EXPECT_NEAR(numerical_tolerance(0.00035, 1), 0.5e-4, 1e-17);
  EXPECT_NEAR(numerical_tolerance(2.0, 2), 0.05, 1e-15);
  EXPECT_NEAR(numerical_tolerance(0.0996, 2), 0.005, 1e-15);
  EXPECT_EQ(numerical_tolerance(0, 2), 0);
}

}  // namespace
}  // namespace scantling
