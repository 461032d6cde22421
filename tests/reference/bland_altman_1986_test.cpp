// J. M. Bland, D. G. Altman: Statistical methods for assessing agreement between two methods of
// clinical measurement. Lancet 1986; i: 307-310. Its worked example: peak expiratory flow of 17
// people by a large and a mini meter, first readings of each. Data and printed results from memory;
// the arithmetic was done again and agrees with every printed figure.

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <vector>

#include "reference/printed.h"
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
  expect_printed(a.bias_mm, "-2.1");
  expect_printed(a.deviation_mm, "38.8");
  // The paper goes on with the rounded -2.1 and 38.8: -2.1 -+ 2 x 38.8, and on from these with a
  // standard error of sqrt(3 x 38.8^2 / 17) = 16.3 and t = 2.12. Not rounded on the way, four of
  // the six figures end in another digit, the last by 0.2.
  expect_printed(-2.1 - 2 * 38.8, "-79.7");
  expect_printed(-2.1 + 2 * 38.8, "75.5");
  expect_printed(std::sqrt(3 * 38.8 * 38.8 / 17), "16.3");
  expect_printed(-79.7 - 2.12 * 16.3, "-114.3");
  expect_printed(-79.7 + 2.12 * 16.3, "-45.1");
  expect_printed(75.5 - 2.12 * 16.3, "40.9");
  expect_printed(75.5 + 2.12 * 16.3, "110.1");
  expect_printed(a.limits.low, "-79.6");
  expect_printed(a.limits.high, "75.4");
  expect_printed(a.bias_95.low, "-22.0");
  expect_printed(a.bias_95.high, "17.8");
  expect_printed(a.low_limit_95.low, "-114.2");
  expect_printed(a.low_limit_95.high, "-45.1");
  expect_printed(a.high_limit_95.low, "40.9");
  expect_printed(a.high_limit_95.high, "109.9");
}

}  // namespace
}  // namespace scantling
