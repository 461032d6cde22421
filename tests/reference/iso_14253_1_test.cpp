// ISO 14253-1:2017, decision rules: 95 % for proving conformity and nonconformity alike (seen on a
// secondary page; the guard band is worked out). L = 22.00 mm, u = 0.05 mm.

#include <gtest/gtest.h>

#include "uncertainty/coverage.h"
#include "verdict/verdict.h"

namespace scantling {
namespace {

double below(double y) {
  return probability_below({y, 0.05, kUnlimitedDegreesOfFreedom, {}}, 22);
}

TEST(Iso14253, GuardBand) {
  const double guard = t_quantile(0.95, kUnlimitedDegreesOfFreedom) * 0.05;
  EXPECT_NEAR(guard, 0.0822427, 1e-7);
  EXPECT_NEAR(below(22.0822427), 0.05, 1e-7);
  EXPECT_NEAR(below(21.9177573), 0.95, 1e-7);
}

// The project proves "replace" where the standard proves nonconformity, and asks more for "keep".
TEST(Iso14253, TheProjectsRuleAgainstIt) {
  const auto state = [](double y) {
    return judge(Quantity{y, 0.05, kUnlimitedDegreesOfFreedom, {}}, {}, 22)->state;
  };
  EXPECT_EQ(state(21.917), VerdictState::replace);
  EXPECT_EQ(state(21.918), VerdictState::gauge_it);
  EXPECT_EQ(state(22.0823), VerdictState::gauge_it);
  EXPECT_EQ(state(22.1163), VerdictState::gauge_it);
  EXPECT_EQ(state(22.1164), VerdictState::keep);  // 22 + 2.326348 u
}

}  // namespace
}  // namespace scantling
