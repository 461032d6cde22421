// JCGM 100:2008 H.1, end-gauge calibration. Seen in an open library that transcribes the example,
// and worked out again; the parts of H.1.7 (second order) are values from memory, worked out again.

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "reference/printed.h"
#include "uncertainty/coverage.h"
#include "uncertainty/propagation_with_derivatives.h"

namespace scantling {
namespace {

enum Place {
  kStandard,
  kRepeats,
  kRandom,
  kSystematic,
  kAlpha,
  kMean,
  kCyclic,
  kDiffAlpha,
  kDiffTheta
};

// The comparison's parts of H.1.3.2, not rounded on the way.
constexpr double kRepeats_nm = 13 / 2.2360679774997897;  // pooled s of 13 nm, mean of five
constexpr double kSystematic_nm = 20.0 / 3;
double random_nm() {
  return 10 / coverage_factor(0.95, 5);
}

/// Lengths in nm, temperatures in degrees Celsius.
InputQuantities inputs_of_h1() {
  InputQuantities inputs;
  inputs.add("length of the standard", Distribution::student_t(50'000'623, 25, 18));
  inputs.add("repeated observations", Distribution::student_t(215, kRepeats_nm, 24));
  inputs.add("comparator, random", Distribution::student_t(0, random_nm(), 5));
  inputs.add("comparator, systematic", Distribution::student_t(0, kSystematic_nm, 8));
  inputs.add("expansion of the standard", Distribution::rectangular(9.5e-6, 13.5e-6));
  inputs.add("mean temperature", Distribution::normal(-0.1, 0.2));
  inputs.add("cyclic temperature", Distribution::arcsine(-0.5, 0.5));
  inputs.add("difference of expansion",
             Distribution::rectangular(-1e-6, 1e-6).with_degrees_of_freedom(50));
  inputs.add("difference of temperature",
             Distribution::rectangular(-0.05, 0.05).with_degrees_of_freedom(2));
  return inputs;
}

// Eq. (H.3): l = l_S + d - l_S (d_alpha theta + alpha_S d_theta).
const auto kLength = []<class T>(std::span<const T> x) -> T {
  const T deviation = x[kRepeats] + x[kRandom] + x[kSystematic];
  const T theta = x[kMean] + x[kCyclic];
  return x[kStandard] + deviation -
         x[kStandard] * (x[kDiffAlpha] * theta + x[kAlpha] * x[kDiffTheta]);
};
const Model kLengthModel = [](std::span<const double> x) { return kLength(x); };

void expect_h1(const Propagated& l) {
  std::printf(
      "H.1: l = %.6f mm (published 50.000 838), u %.2f nm (32), nu %.2f (16.7), U99 %.1f nm (93)\n",
      l.value / 1e6, l.standard_uncertainty, l.degrees_of_freedom, l.expanded(0.99));
  expect_printed(l.value / 1e6, "50.000838");
  expect_printed(l.standard_uncertainty, "32");
  expect_printed(l.standard_uncertainty * l.standard_uncertainty, "1002");
  expect_printed(l.degrees_of_freedom, "16.7");
  EXPECT_EQ(truncated_degrees_of_freedom(l.degrees_of_freedom), 16);
  expect_printed(coverage_factor(0.99, 16), "2.92");
  // Published U99 = 2.92 x 32 nm = 93 nm, from the rounded u; from the unrounded one it is 92 nm.
  expect_printed(2.92 * 32, "93");
  expect_printed(l.expanded(0.99), "92");
}

TEST(GumH1, ByAutomaticDifferentiation) {
  expect_h1(propagate_with_derivatives<9>(inputs_of_h1(), kLength));
}

TEST(GumH1, ByCentralDifferences) {
  expect_h1(propagate(inputs_of_h1(), kLengthModel));
}

TEST(GumH1, BudgetLineByLine) {
  const Propagated l = propagate_with_derivatives<9>(inputs_of_h1(), kLength);
  expect_printed(l.contributions[kStandard].amount(), "25");
  expect_printed(l.contributions[kRepeats].amount(), "5.8");
  expect_printed(l.contributions[kRandom].amount(), "3.9");
  expect_printed(l.contributions[kSystematic].amount(), "6.7");
  EXPECT_EQ(l.contributions[kAlpha].amount(), 0);
  EXPECT_EQ(l.contributions[kMean].amount(), 0);
  EXPECT_EQ(l.contributions[kCyclic].amount(), 0);
  expect_printed(l.contributions[kDiffAlpha].amount(), "2.9");
  expect_printed(l.contributions[kDiffTheta].amount(), "16.6");
  expect_printed(l.contributions[kAlpha].standard_uncertainty * 1e6, "1.2");
  expect_printed(l.contributions[kDiffAlpha].standard_uncertainty * 1e6, "0.58");
  expect_printed(l.contributions[kDiffTheta].standard_uncertainty, "0.029");
  expect_printed(l.contributions[kCyclic].standard_uncertainty, "0.35");
  expect_printed(std::hypot(l.contributions[kCyclic].standard_uncertainty, 0.2), "0.41");
}

// H.1.6: the comparison's parts give u(d) = 9.7 nm with 25.6 degrees of freedom.
TEST(GumH1, TheComparisonAlone) {
  InputQuantities inputs;
  inputs.add("repeated observations", Distribution::student_t(215, kRepeats_nm, 24));
  inputs.add("random", Distribution::student_t(0, random_nm(), 5));
  inputs.add("systematic", Distribution::normal(0, kSystematic_nm)
                               .with_degrees_of_freedom(degrees_of_freedom_of_doubt(0.25)));
  const Propagated d =
      propagate(inputs, [](std::span<const double> x) { return x[0] + x[1] + x[2]; });
  expect_printed(d.standard_uncertainty, "9.7");
  expect_printed(d.degrees_of_freedom, "25.6");
}

// H.1.7: second-order terms of 11.7 and 1.7 nm raise u_c to 34 nm.
TEST(GumH1, SecondOrderTerms) {
  const InputQuantities inputs = inputs_of_h1();
  const double second = second_order_variance(inputs, kLengthModel);
  EXPECT_NEAR(std::sqrt(second), std::hypot(11.726, 1.667), 0.05);
  // The two terms singly: l_S u(d_alpha) u(theta) and l_S u(alpha_S) u(d_theta).
  const double u_theta = std::hypot(0.2, 0.5 / std::sqrt(2.0)), u_alpha = 1e-6 / std::sqrt(3.0);
  expect_printed(50e6 * u_alpha * u_theta, "11.7");
  expect_printed(50e6 * 2 * u_alpha * 0.05 / std::sqrt(3.0), "1.7");
  const double first = propagate(inputs, kLengthModel).standard_uncertainty;
  expect_printed(std::hypot(first, std::sqrt(second)), "34");
}

}  // namespace
}  // namespace scantling
