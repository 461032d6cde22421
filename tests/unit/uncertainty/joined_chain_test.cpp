#include "uncertainty/joined_chain.h"

#include <gtest/gtest.h>

#include <cmath>

namespace scantling {
namespace {

/// A size with a scale error in common with others of the same sheet and an own one.
std::shared_ptr<const SizeChain> size_of(double value_mm, double own_u, double scale_u) {
  auto chain = std::make_shared<SizeChain>();
  const auto own = chain->add_input(chain->add_source("placing", ""), error_of(own_u));
  const auto scale = chain->add_input(chain->add_source("print scale", ""), error_of(scale_u));
  chain->set_model([=](std::span<const double> x) { return (value_mm + x[own]) * (1 + x[scale]); });
  return chain;
}

ChainJoint difference(double shared) {
  ChainJoint joint;
  joint.shared_share = [shared](const std::string& source) {
    return source == "print scale" ? shared : 0.0;
  };
  joint.size_mm = [](std::span<const double> sizes, std::span<const double>) {
    return sizes[0] - sizes[1];
  };
  return joint;
}

std::vector<ChainPart> rim_and_lip() {
  return {{size_of(24, 0.03, 0.01), "rim"}, {size_of(4, 0.04, 0.01), "lip"}};
}

// JCGM 100 5.2.2: a scale that is common to both takes from the difference what it adds to each.
TEST(JoinedChain, WhatPartsShareIsDrawnOnce) {
  const auto chain = join_chains(rim_and_lip(), difference(1));
  ASSERT_TRUE(chain);
  EXPECT_DOUBLE_EQ(chain->value_mm(), 20);
  const Quantity size = chain->first_order();
  EXPECT_NEAR(size.standard_uncertainty_mm, std::sqrt(0.03 * 0.03 + 0.04 * 0.04 + 0.2 * 0.2), 1e-6);
  ASSERT_EQ(size.budget.size(), 3u);
  EXPECT_EQ(size.budget[0].source, "print scale");
  EXPECT_EQ(size.budget[1].source, "lip: placing");
  EXPECT_EQ(size.budget[2].source, "rim: placing");
  const ChainCheck check = check_by_monte_carlo(*chain);
  EXPECT_NEAR(check.drawn.standard_uncertainty, size.standard_uncertainty_mm, 0.002);
}

TEST(JoinedChain, WhatTheyDoNotShareIsDrawnForEach) {
  const auto chain = join_chains(rim_and_lip(), difference(0));
  EXPECT_NEAR(chain->first_order().standard_uncertainty_mm,
              std::sqrt(0.03 * 0.03 + 0.04 * 0.04 + 0.24 * 0.24 + 0.04 * 0.04), 1e-6);
}

TEST(JoinedChain, AHalfSharedSourceLiesBetween) {
  const auto chain = join_chains(rim_and_lip(), difference(0.5));
  const double scale = 0.5 * 0.2 * 0.2 + 0.5 * (0.24 * 0.24 + 0.04 * 0.04);
  EXPECT_NEAR(chain->first_order().standard_uncertainty_mm,
              std::sqrt(0.03 * 0.03 + 0.04 * 0.04 + scale), 1e-6);
}

TEST(JoinedChain, AHeldSourceIsTheJointsOwnAffair) {
  ChainJoint joint = difference(1);
  joint.held = [](const std::string& source) { return source == "placing"; };
  joint.extras.push_back({{"run", 0, kUnlimitedDegreesOfFreedom, "another photo"},
                          Distribution::rectangular(-0.3, 0.3)});
  joint.size_mm = [](std::span<const double> sizes, std::span<const double> extras) {
    return sizes[0] - sizes[1] + extras[0];
  };
  const Quantity size = join_chains(rim_and_lip(), joint)->first_order();
  ASSERT_EQ(size.budget.size(), 2u);
  EXPECT_NEAR(size.standard_uncertainty_mm, std::hypot(0.2, 0.3 / std::sqrt(3.0)), 1e-6);
}

TEST(JoinedChain, APartWithoutItsModelCannotBeDrawn) {
  std::vector<ChainPart> parts = rim_and_lip();
  parts[1].chain = nullptr;
  EXPECT_EQ(join_chains(parts, difference(1)), nullptr);
}

TEST(UnitError, KeepsItsShape) {
  Random random(3);
  for (const Distribution& d :
       {Distribution::normal(4, 0.3), Distribution::student_t(4, 0.3, 12),
        Distribution::rectangular(3, 7), Distribution::triangular(3, 7),
        Distribution::arcsine(3, 7), Distribution::curvilinear_trapezoidal(3, 7, 0.5)}) {
    const Distribution unit = d.of_unit_error();
    EXPECT_EQ(unit.mean(), 0);
    EXPECT_EQ(unit.standard_uncertainty(), 1);
    EXPECT_EQ(unit.degrees_of_freedom(), d.degrees_of_freedom());
    EXPECT_NEAR(unit.deviation(), d.deviation() / d.standard_uncertainty(), 1e-12);
    double squares = 0;
    constexpr int kDraws = 40'000;
    for (int i = 0; i < kDraws; ++i) squares += std::pow(unit.draw(random), 2);
    EXPECT_NEAR(std::sqrt(squares / kDraws), unit.deviation(), 0.02);
  }
  EXPECT_THROW(Distribution::normal(4, 0).of_unit_error(), std::invalid_argument);
}

}  // namespace
}  // namespace scantling
