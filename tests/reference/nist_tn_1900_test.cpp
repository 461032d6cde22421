// NIST Technical Note 1900, example E13: thermal expansion, every input a Student t with three
// degrees of freedom whose standard deviation is the stated uncertainty. Seen in an open library
// that transcribes the example.

#include <gtest/gtest.h>

#include "uncertainty/monte_carlo.h"
#include "uncertainty/propagation_with_derivatives.h"

namespace scantling {
namespace {

const auto kExpansion = []<class T>(std::span<const T> x) -> T {
  return (x[1] - x[0]) / (x[0] * (x[3] - x[2]));
};

InputQuantities inputs_of_e13() {
  InputQuantities inputs;
  inputs.add("L0", Distribution::student_t_of_deviation(1.4999, 0.0001, 3));
  inputs.add("L1", Distribution::student_t_of_deviation(1.5021, 0.0002, 3));
  inputs.add("T0", Distribution::student_t_of_deviation(288.15, 0.02, 3));
  inputs.add("T1", Distribution::student_t_of_deviation(373.10, 0.05, 3));
  return inputs;
}

TEST(NistTn1900, ThermalExpansionFirstOrder) {
  const Propagated alpha = propagate_with_derivatives<4>(inputs_of_e13(), kExpansion);
  EXPECT_NEAR(alpha.value, 1.726621e-5, 1e-11);
  EXPECT_NEAR(alpha.standard_uncertainty, 1.7555e-6, 1e-10);
}

TEST(NistTn1900, ThermalExpansionMonteCarlo) {
  const MonteCarloResult drawn =
      run_monte_carlo(inputs_of_e13(), [](std::span<const double> x) { return kExpansion(x); },
                      {.significant_digits = 2, .seed = 1900});
  EXPECT_NEAR(drawn.mean, 1.727e-5, 0.01e-5);
  // Three degrees of freedom have no fourth moment: u settles slowly, to a few per cent only.
  EXPECT_NEAR(drawn.standard_uncertainty, 1.74e-6, 0.06e-6);
}

// A t drawn with *scale* u has a standard deviation sqrt(3) times larger.
TEST(NistTn1900, ScaleIsNotDeviation) {
  Random random(3);
  const Distribution by_deviation = Distribution::student_t_of_deviation(0, 1, 30);
  double squares = 0;
  constexpr int kDraws = 200'000;
  for (int i = 0; i < kDraws; ++i) squares += std::pow(by_deviation.draw(random), 2);
  EXPECT_NEAR(squares / kDraws, 1.0, 0.02);
  EXPECT_EQ(by_deviation.standard_uncertainty(), 1);
}

}  // namespace
}  // namespace scantling
