#include "uncertainty/monte_carlo.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <stdexcept>

namespace scantling {
namespace {

InputQuantities two_normals(double correlation) {
  InputQuantities inputs;
  inputs.add("overall", Distribution::normal(11.4, 0.03));
  inputs.add("plate", Distribution::normal(6.4, 0.04));
  inputs.correlate(0, 1, correlation);
  return inputs;
}

const Model kDifference = [](std::span<const double> x) { return x[0] - x[1]; };

TEST(MonteCarlo, DrawsCorrelatedInputsTogether) {
  for (const double correlation : {-1.0, -0.4, 0.0, 0.7, 1.0}) {
    const InputQuantities inputs = two_normals(correlation);
    const Propagated first = propagate(inputs, kDifference);
    const MonteCarloResult drawn = run_monte_carlo(inputs, kDifference);
    EXPECT_TRUE(drawn.stable);
    EXPECT_NEAR(drawn.mean, 5.0, 1e-3);
    EXPECT_NEAR(drawn.standard_uncertainty / first.standard_uncertainty, 1, 0.01) << correlation;
  }
}

TEST(MonteCarlo, GivesTheSameForTheSameSeedAndElseNot) {
  const InputQuantities inputs = two_normals(0.5);
  const MonteCarloResult one = run_monte_carlo(inputs, kDifference, {.seed = 5});
  const MonteCarloResult two = run_monte_carlo(inputs, kDifference, {.seed = 5});
  const MonteCarloResult other = run_monte_carlo(inputs, kDifference, {.seed = 6});
  EXPECT_EQ(one.mean, two.mean);
  EXPECT_EQ(one.symmetric.low, two.symmetric.low);
  EXPECT_NE(one.mean, other.mean);
}

TEST(MonteCarlo, StopsAtItsLimitAndSaysSo) {
  const MonteCarloResult drawn = run_monte_carlo(two_normals(0), kDifference,
                                                 {.significant_digits = 4, .most_trials = 150'000});
  EXPECT_FALSE(drawn.stable);
  EXPECT_EQ(drawn.trials, 150'000U);
}

TEST(MonteCarlo, CoversWhatItPromises) {
  // Exponential by its inverse: symmetric interval [-ln 0.975, -ln 0.025], shortest [0, -ln 0.05].
  InputQuantities inputs;
  inputs.add("x", Distribution::rectangular(0, 1));
  const MonteCarloResult drawn =
      run_monte_carlo(inputs, [](std::span<const double> x) { return -std::log(1 - x[0]); },
                      {.significant_digits = 3, .most_trials = 2'000'000});
  EXPECT_NEAR(drawn.symmetric.low, 0.0253178, 0.0005);
  EXPECT_NEAR(drawn.symmetric.high, 3.6888795, 0.02);
  EXPECT_NEAR(drawn.shortest.low, 0, 1e-4);
  EXPECT_NEAR(drawn.shortest.high, 2.9957323, 0.01);
}

TEST(MonteCarlo, IsDoneAtOnceWithExactInputs) {
  InputQuantities inputs;
  inputs.add("x", Distribution::normal(22, 0));
  const MonteCarloResult drawn =
      run_monte_carlo(inputs, [](std::span<const double> x) { return x[0]; });
  EXPECT_TRUE(drawn.stable);
  EXPECT_NEAR(drawn.mean, 22, 1e-9);
  EXPECT_NEAR(drawn.standard_uncertainty, 0, 1e-9);
}

TEST(MonteCarlo, RefusesWhatItCannotDraw) {
  InputQuantities inputs;
  inputs.add("a", Distribution::rectangular(0, 1));
  inputs.add("b", Distribution::normal(0, 1));
  EXPECT_THROW(run_monte_carlo(inputs, kDifference, {.coverage = 1}), std::invalid_argument);
  EXPECT_THROW(
      run_monte_carlo(
          inputs, [](std::span<const double>) { return std::numeric_limits<double>::quiet_NaN(); }),
      std::domain_error);
  inputs.correlate(0, 1, 0.5);
  EXPECT_THROW(run_monte_carlo(inputs, kDifference), std::invalid_argument);
}

}  // namespace
}  // namespace scantling
