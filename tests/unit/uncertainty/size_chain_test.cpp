#include "uncertainty/size_chain.h"

#include <gtest/gtest.h>

#include <cmath>

namespace scantling {
namespace {

SizeChain difference_of_two(double u_a, double u_b) {
  SizeChain chain;
  const auto a =
      chain.add_input(chain.add_source("first edge", ""), Distribution::normal(11.4, u_a));
  const auto b =
      chain.add_input(chain.add_source("second edge", "closer"), Distribution::normal(6.4, u_b));
  chain.set_model([=](std::span<const double> x) { return x[a] - x[b]; });
  return chain;
}

TEST(SizeChain, GivesTheSameByFirstOrderAndByDrawing) {
  const SizeChain chain = difference_of_two(0.06, 0.08);
  const Quantity size = chain.first_order();
  EXPECT_NEAR(size.value_mm, 5.0, 1e-12);
  EXPECT_NEAR(size.standard_uncertainty_mm, 0.1, 1e-9);
  ASSERT_EQ(size.budget.size(), 2u);
  EXPECT_EQ(size.budget[0].source, "second edge");
  EXPECT_EQ(size.budget[0].advice, "closer");
  const ChainCheck check = check_by_monte_carlo(chain);
  EXPECT_TRUE(check.drawn.stable);
  EXPECT_TRUE(check.first_order_holds) << check.sentence;
  EXPECT_DOUBLE_EQ(check.check.tolerance, 0.005) << "two digits of u = 0.10";
  EXPECT_NEAR(check.drawn.standard_uncertainty, 0.1, 0.001);
}

TEST(SizeChain, CountsTheInputsOfOneSourceAsOneLine) {
  SizeChain chain;
  const auto pose = chain.add_source("pose", "", 10);
  chain.add_input(pose, Distribution::normal(0, 0.03));
  chain.add_input(pose, Distribution::normal(0, 0.04));
  chain.set_model([](std::span<const double> x) { return 5 + x[0] + x[1]; });
  const Quantity size = chain.first_order();
  ASSERT_EQ(size.budget.size(), 1u);
  EXPECT_NEAR(size.budget[0].standard_uncertainty_mm, 0.05, 1e-9);
  EXPECT_NEAR(size.degrees_of_freedom, 10, 1e-9) << "one source, not two of ten each";
}

// A card seen so flat that the size depends on the square of an input: first order sees nothing.
TEST(SizeChain, SaysWhyFirstOrderIsNotUsed) {
  SizeChain chain;
  chain.add_input(chain.add_source("lean", ""), Distribution::normal(0, 0.3));
  chain.set_model([](std::span<const double> x) { return 5 + x[0] * x[0]; });
  EXPECT_NEAR(chain.first_order().standard_uncertainty_mm, 0, 1e-9);
  const ChainCheck check = check_by_monte_carlo(chain);
  EXPECT_FALSE(check.first_order_holds);
  EXPECT_NE(check.sentence.find("is not used"), std::string::npos);
  EXPECT_NE(check.sentence.find("straight line"), std::string::npos) << check.sentence;
  EXPECT_NEAR(check.drawn.mean, 5.09, 0.002);
}

TEST(SizeChain, NamesFewDegreesOfFreedomWhereTheseAreTheReason) {
  SizeChain chain;
  for (const char* edge : {"one edge", "another"})
    chain.add_input(chain.add_source(edge, "", 4), Distribution::student_t(0, 0.045, 4));
  chain.set_model([](std::span<const double> x) { return 5 + x[0] + x[1]; });
  const ChainCheck check = check_by_monte_carlo(chain);
  EXPECT_FALSE(check.first_order_holds);
  EXPECT_NE(check.sentence.find("Welch-Satterthwaite"), std::string::npos) << check.sentence;
}

// Three readings: a t with two degrees of freedom has no deviation, so a normal stands in for it
// when drawn, whose interval is narrower than what the t table asks for.
TEST(SizeChain, KeepsTheWiderFirstOrderIntervalWhereTailsCannotBeDrawn) {
  SizeChain chain;
  chain.add_input(chain.add_source("three readings", "", 2), error_of(0.05, 2));
  chain.add_input(chain.add_source("print scale", ""), error_of(0.01));
  chain.set_model([](std::span<const double> x) { return 5 + x[0] + x[1]; });
  EXPECT_TRUE(chain.tails_beyond_drawing());
  EXPECT_FALSE(difference_of_two(0.06, 0.08).tails_beyond_drawing());
  const ChainCheck check = check_by_monte_carlo(chain);
  EXPECT_FALSE(check.check.agrees);
  EXPECT_TRUE(check.first_order_holds) << check.sentence;
  EXPECT_NE(check.sentence.find("too narrow"), std::string::npos) << check.sentence;
  EXPECT_LT(check.drawn.symmetric.high, check.first_order_95.high);
}

TEST(SizeChain, TrustsNoMoreDigitsThanItsDegreesOfFreedomAllow) {
  EXPECT_EQ(meaningful_digits_of(9), 1);
  EXPECT_EQ(meaningful_digits_of(40), 1);
  EXPECT_EQ(meaningful_digits_of(500), 2);
  EXPECT_EQ(meaningful_digits_of(kUnlimitedDegreesOfFreedom), 2);
}

}  // namespace
}  // namespace scantling
