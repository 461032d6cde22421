#include "edges/linear_light.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "edges/step_fit.h"
#include "unit/edges/step_profile.h"

namespace scantling {
namespace {

// IEC 61966-2-1: c / 12.92 up to 0.04045, ((c + 0.055) / 1.055)^2.4 above; figures worked out
// apart.
TEST(LinearLight, FollowsTheStandardsCurve) {
  const auto& table = linear_light_table();
  EXPECT_EQ(table[0], 0.f);
  EXPECT_NEAR(table[1], 0.000303527, 1e-8);
  EXPECT_NEAR(table[10], 0.00303527, 1e-7);
  EXPECT_NEAR(table[11], 0.00334654, 1e-7);
  EXPECT_NEAR(table[64], 0.0512695, 1e-6);
  EXPECT_NEAR(table[128], 0.2158605, 1e-6);
  EXPECT_NEAR(table[188], 0.5028865, 1e-6);
  EXPECT_EQ(table[255], 1.f);
}

TEST(LinearLight, ReturnsToTheCodeItCameFrom) {
  for (std::size_t code = 0; code < 256; ++code)
    EXPECT_NEAR(srgb_code(double{linear_light_table()[code]}), static_cast<double>(code), 2e-4);
  EXPECT_EQ(srgb_code(-1), 0);
  EXPECT_NEAR(srgb_code(2), 255, 1e-9);
}

TEST(LinearLight, QuickCodeKeepsToAHundredth) {
  const QuickSrgbCode code_of;
  double worst = 0;
  for (int i = 0; i <= 200000; ++i) {
    const double linear = std::pow(i / 200000.0, 2);
    worst = std::max(worst, std::abs(code_of(static_cast<float>(linear)) -
                                     srgb_code(double{static_cast<float>(linear)})));
  }
  std::printf("largest error of the quick code: %.5f\n", worst);
  EXPECT_LT(worst, 0.01);
  EXPECT_NEAR(code_of(-1), 0, 1e-6);
  EXPECT_NEAR(code_of(2), 255, 1e-3);
}

/// Mean place of the fitted step less its true place, over the phases of a pixel; dark on the left.
double mean_shift(double blur, bool linear) {
  constexpr int kPhases = 40;
  double sum = 0;
  for (int phase = 0; phase < kPhases; ++phase) {
    const double place = 14 + phase / double(kPhases);
    std::vector<float> values;
    for (const float light : step_profile(29, place, blur, 0.04, 0.62)) {
      const auto code = static_cast<std::size_t>(std::lround(srgb_code(double{light})));
      values.push_back(linear ? linear_light_table()[code] : static_cast<float>(code) / 255.f);
    }
    const std::array start{14.5};
    const StepFit fit = fit_steps(values, start);
    EXPECT_TRUE(fit.converged);
    sum += (fit.place[0] - place) / kPhases;
  }
  return sum;
}

TEST(LinearLight, KeepsABlurredEdgeOffTheDarkSide) {
  double before = 0;
  std::printf("blur  fitted on code values  in linear light\n");
  for (const double blur : {0.7, 1.2, 2.5}) {
    const double code = mean_shift(blur, false), light = mean_shift(blur, true);
    std::printf("%.1f   %+.3f px              %+.4f px\n", blur, code, light);
    EXPECT_LT(code, -0.1);
    EXPECT_GT(code, -0.5 * blur);
    EXPECT_LT(code, before);  // the more blur, the worse
    // What is left are the 8-bit codes' own steps, finer in the dark than in the light.
    EXPECT_LT(std::abs(light), 0.011 * std::max(1.0, blur));
    before = code;
  }
}

}  // namespace
}  // namespace scantling
