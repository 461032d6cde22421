// J. M. Bland, D. G. Altman: Statistical methods for assessing agreement between two methods of
// clinical measurement. Lancet 1986; i: 307-310. Its worked example: peak expiratory flow of 17
// people by a large and a mini meter, first readings of each. Data and printed results from memory;
// the arithmetic was done again and agrees with every printed figure.

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <vector>

#include "verdict/agreement.h"

namespace scantling {
namespace {

constexpr std::array<double, 17> kLarge{494, 395, 516, 434, 476, 557, 413, 442, 650,
                                        433, 417, 656, 267, 478, 178, 423, 427};
constexpr std::array<double, 17> kMini{512, 430, 520, 428, 500, 600, 364, 380, 658,
                                       445, 432, 626, 260, 477, 259, 350, 451};

TEST(BlandAltman1986, PeakFlowMeters) {
  std::vector<AgreementPair> pairs;
  for (std::size_t i = 0; i < kLarge.size(); ++i)
    pairs.push_back({"person " + std::to_string(i + 1), kLarge[i], 0, kMini[i], 0});
  const Agreement a = agreement_of(pairs).value();
  std::printf("bias %.2f, deviation %.2f, limits %.1f to %.1f, bias 95 %% %.1f to %.1f\n",
              a.bias_mm, a.deviation_mm, a.limits.low, a.limits.high, a.bias_95.low,
              a.bias_95.high);
  EXPECT_NEAR(a.bias_mm, -2.1, 0.05);
  EXPECT_NEAR(a.deviation_mm, 38.8, 0.05);
  EXPECT_NEAR(a.limits.low, -79.7, 0.1);
  EXPECT_NEAR(a.limits.high, 75.5, 0.1);
  EXPECT_NEAR(a.bias_95.low, -22.0, 0.1);
  EXPECT_NEAR(a.bias_95.high, 17.8, 0.1);
  EXPECT_NEAR(a.low_limit_95.low, -114.3, 0.2);
  EXPECT_NEAR(a.low_limit_95.high, -45.1, 0.2);
  EXPECT_NEAR(a.high_limit_95.low, 40.9, 0.2);
  EXPECT_NEAR(a.high_limit_95.high, 110.1, 0.2);
}

}  // namespace
}  // namespace scantling
