#include "uncertainty/propagation.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>
#include <vector>

#include "uncertainty/propagation_with_derivatives.h"

namespace scantling {
namespace {

const Model kDifference = [](std::span<const double> x) { return x[0] - x[1]; };

InputQuantities two(double u0, double u1) {
  InputQuantities inputs;
  inputs.add("first", Distribution::normal(11.4, u0));
  inputs.add("second", Distribution::normal(6.4, u1));
  return inputs;
}

TEST(Propagation, LetsASharedErrorCancelInADifference) {
  InputQuantities inputs = two(0.03, 0.04);
  EXPECT_NEAR(propagate(inputs, kDifference).standard_uncertainty, 0.05, 1e-12);
  inputs.correlate(1, 0, 1);
  EXPECT_NEAR(propagate(inputs, kDifference).standard_uncertainty, 0.01, 1e-12);
  inputs.correlate(0, 1, 0.5);  // replaces the former
  EXPECT_NEAR(propagate(inputs, kDifference).standard_uncertainty, std::sqrt(0.0013), 1e-12);
}

TEST(Propagation, DiffersExactlyUpToTheFourthDegree) {
  InputQuantities inputs;
  inputs.add("x", Distribution::normal(2, 0.5));
  const Model quartic = [](std::span<const double> x) { return std::pow(x[0], 4) - x[0]; };
  EXPECT_NEAR(sensitivities(inputs, quartic)[0], 31, 1e-10);
}

TEST(Propagation, GivesAnExactInputItsSensitivityAndNoShare) {
  const InputQuantities inputs = two(0, 0.04);
  const Propagated result = propagate(inputs, kDifference);
  EXPECT_NEAR(result.contributions[0].sensitivity, 1, 1e-6);
  EXPECT_EQ(result.contributions[0].amount(), 0);
  EXPECT_NEAR(result.standard_uncertainty, 0.04, 1e-12);
}

TEST(Propagation, TakesCorrelatedInputsAsOnePartWithTheFewestDegreesOfFreedom) {
  InputQuantities inputs;
  inputs.add("a", Distribution::student_t(0, 1, 4));
  inputs.add("b", Distribution::student_t(0, 1, 20));
  inputs.add("c", Distribution::normal(0, 1));
  inputs.correlate(0, 1, 1);
  const Propagated sum =
      propagate(inputs, [](std::span<const double> x) { return x[0] + x[1] + x[2]; });
  EXPECT_NEAR(sum.standard_uncertainty, std::sqrt(5.0), 1e-9);
  EXPECT_NEAR(sum.degrees_of_freedom, 25.0 / (16.0 / 4), 1e-6);
}

TEST(Propagation, BecomesAQuantityWithItsBudget) {
  const Quantity size = propagate(two(0.03, 0.04), kDifference).as_quantity();
  EXPECT_NEAR(size.value_mm, 5.0, 1e-12);
  ASSERT_EQ(size.budget.size(), 2U);
  EXPECT_EQ(size.budget[0].source, "second");
  EXPECT_NEAR(size.budget[0].standard_uncertainty_mm, 0.04, 1e-12);
}

TEST(Propagation, RefusesContradictingCorrelations) {
  InputQuantities inputs;
  for (int i = 0; i < 3; ++i) inputs.add("x", Distribution::normal(0, 1));
  inputs.correlate(0, 1, 0.9);
  inputs.correlate(1, 2, 0.9);
  inputs.correlate(0, 2, -0.9);
  EXPECT_THROW(propagate(inputs, [](std::span<const double> x) { return x[0]; }),
               std::invalid_argument);
  EXPECT_THROW(inputs.correlate(0, 1, 1.1), std::invalid_argument);
  EXPECT_THROW(inputs.correlate(0, 0, 0.5), std::invalid_argument);
  EXPECT_THROW(inputs.correlate(0, 3, 0.5), std::invalid_argument);
  EXPECT_THROW(second_order_variance(inputs, kDifference), std::invalid_argument);
}

TEST(Propagation, RefusesAModelOfAnotherSize) {
  const auto first = []<class T>(std::span<const T> x) -> T { return x[0]; };
  EXPECT_THROW(propagate_with_derivatives<3>(two(1, 1), first), std::invalid_argument);
  EXPECT_THROW(propagate(two(1, 1), 5.0, std::vector<double>{1}), std::invalid_argument);
}

}  // namespace
}  // namespace scantling
