#include "app/size_drawing.h"

#include <gtest/gtest.h>

namespace scantling {
namespace {

SizeDrawing drawing(double value_mm, double uncertainty_mm, std::optional<double> minimum_mm) {
  return {{value_mm, uncertainty_mm, kUnlimitedDegreesOfFreedom, {}}, {}, minimum_mm, {}};
}

TEST(SizeDrawing, TheRangeHoldsTheIntervalAndTheMinimum) {
  for (const auto& [value, uncertainty, minimum] :
       {std::tuple{5.0, 0.03, 3.0}, {2.0, 0.05, 3.0}, {3.0, 0.2, 3.0}, {11.0, 0.0, 2.0}}) {
    const SizeDrawing shown = drawing(value, uncertainty, minimum);
    const BarRange range = bar_range(shown);
    EXPECT_LT(range.from_mm, value - shown.size.expanded_95_mm());
    EXPECT_GT(range.to_mm, value + shown.size.expanded_95_mm());
    EXPECT_LT(range.from_mm, minimum);
    EXPECT_GT(range.to_mm, minimum);
  }
}

TEST(SizeDrawing, WithoutAMinimumTheIntervalFillsTheBar) {
  const SizeDrawing shown = drawing(5.0, 0.05, std::nullopt);
  const BarRange range = bar_range(shown);
  EXPECT_GT(2 * shown.size.expanded_95_mm() / (range.to_mm - range.from_mm), 0.4);
}

TEST(SizeDrawing, NoBarGoesBelowNought) {
  EXPECT_DOUBLE_EQ(bar_range(drawing(0.3, 0.4, std::nullopt)).from_mm, 0);
  EXPECT_DOUBLE_EQ(bar_range(drawing(1.0, 0.6, 2.0)).from_mm, 0);
  EXPECT_GT(bar_range(drawing(5.0, 0.05, std::nullopt)).from_mm, 4);
  EXPECT_GT(bar_range(drawing(0.0, 0.0, std::nullopt)).to_mm, 0);
}

TEST(SizeDrawing, ScaleStepsAreOneTwoFive) {
  EXPECT_DOUBLE_EQ(scale_step(2.4, 5), 0.5);
  EXPECT_DOUBLE_EQ(scale_step(1.0, 5), 0.2);
  EXPECT_DOUBLE_EQ(scale_step(5.0, 5), 1.0);
  EXPECT_DOUBLE_EQ(scale_step(30.0, 5), 10.0);
  EXPECT_DOUBLE_EQ(scale_step(0.06, 5), 0.02);
}

}  // namespace
}  // namespace scantling
