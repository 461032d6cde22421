#include "uncertainty/quantity.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace scantling {
namespace {

TEST(Quantity, CombinesIndependentLinesLargestFirst) {
  const Quantity size = combine_independent(
      5.02, {{"corners", 0.003, 8, ""}, {"scale", 0.004, kUnlimitedDegreesOfFreedom, "check it"}});
  EXPECT_NEAR(size.standard_uncertainty_mm, 0.005, 1e-15);
  EXPECT_NEAR(size.degrees_of_freedom, std::pow(5.0 / 3, 4) * 8, 1e-9);
  ASSERT_EQ(size.budget.size(), 2U);
  EXPECT_EQ(size.budget[0].source, "scale");
  EXPECT_EQ(size.budget[0].advice, "check it");
}

TEST(Quantity, HasUnlimitedDegreesOfFreedomWhereEveryLineHas) {
  EXPECT_TRUE(std::isinf(
      combine_independent(1, {{"a", 0.1, kUnlimitedDegreesOfFreedom, ""}}).degrees_of_freedom));
  EXPECT_TRUE(std::isinf(combine_independent(1, {}).degrees_of_freedom));
}

TEST(Quantity, TakesImpossibleDegreesOfFreedomAsTheWidestCase) {
  for (const double nu : {0.0, -3.0, std::numeric_limits<double>::quiet_NaN()})
    EXPECT_NEAR((Quantity{1, 1, nu, {}}.expanded_95_mm()), 12.706205, 1e-6);
}

}  // namespace
}  // namespace scantling
