#include "uncertainty/quantity.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <vector>

#include "uncertainty/size_chain.h"

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

// A source whose degrees of freedom got lost must not pass for the best known of all.
TEST(Quantity, TakesALineOfImpossibleDegreesOfFreedomAsTheWidestCase) {
  for (const double nu :
       {0.0, -3.0, -kUnlimitedDegreesOfFreedom, std::numeric_limits<double>::quiet_NaN()}) {
    EXPECT_DOUBLE_EQ(combine_independent(1, {{"a", 0.1, nu, ""}}).degrees_of_freedom, 1);
    const std::vector<BudgetLine> with_others{
        {"a", 0.1, nu, ""}, {"b", 0.1, kUnlimitedDegreesOfFreedom, ""}, {"c", 0, nu, ""}};
    EXPECT_DOUBLE_EQ(combine_independent(1, with_others).degrees_of_freedom, 4);
    const auto chain = chain_of(combine_independent(1, with_others));
    EXPECT_TRUE(chain->tails_beyond_drawing());
    EXPECT_DOUBLE_EQ(chain->first_order().degrees_of_freedom, 4);
  }
}

TEST(Quantity, IsCombinedAfreshWithABetterInput) {
  const auto size = [](double scale_u) {
    return combine_independent(
        5.02, {{"corners", 0.03, 8, ""},
               {"scale, x", scale_u, kUnlimitedDegreesOfFreedom, "check it", Remedy{"scale", 0.01}},
               {"scale, y", scale_u, kUnlimitedDegreesOfFreedom, "", Remedy{"scale", 0.01}},
               {"lens", 0.02, 5, "", Remedy{"profile", 0.001}}});
  };
  const Quantity now = size(0.2);
  EXPECT_EQ(better_inputs(now), (std::vector<std::string>{"scale", "profile"}));
  const Quantity then = with_better_input(now, "scale");
  EXPECT_NEAR(then.standard_uncertainty_mm, size(0.01).standard_uncertainty_mm, 1e-15);
  EXPECT_NEAR(then.degrees_of_freedom, size(0.01).degrees_of_freedom, 1e-9);
  EXPECT_EQ(then.budget.front().source, "corners");
  EXPECT_EQ(better_inputs(then), std::vector<std::string>{"profile"});
  EXPECT_EQ(with_better_input(now, "weather").standard_uncertainty_mm, now.standard_uncertainty_mm);
  const BudgetLine half = scaled_line(now.budget.front(), 0.5);
  EXPECT_EQ(half.standard_uncertainty_mm, 0.1);
  EXPECT_EQ(half.remedy->standard_uncertainty_mm, 0.005);
}

}  // namespace
}  // namespace scantling
