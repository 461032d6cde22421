#include "card/print_scale.h"

#include <gmock/gmock.h>

#include <cmath>
#include <limits>

#include "verdict/instrument.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;

TEST(PrintScale, IsTheMeasuredOverThePrintedLength) {
  const PrintScaleCheck check = print_scale({178.2, 180}, {251.5, 250});
  ASSERT_TRUE(check.scale);
  EXPECT_TRUE(check.checks.empty());
  EXPECT_DOUBLE_EQ(check.scale->x, 0.99);
  EXPECT_DOUBLE_EQ(check.scale->y, 1.006);
}

TEST(PrintScale, UncertaintyAddsInstrumentSettingAndMoisture) {
  // By hand: setting 2 ends of 0.1 / sqrt 3 mm = 0.081650 mm.
  // Calliper 0.03 mm over 140 mm: hypot(0.03, 0.08165) / 140 = 0.000621; with 0.001: 0.001177.
  const auto calliper = print_scale({140, 140}, {140, 140});
  EXPECT_NEAR(calliper.scale->x_uncertainty, 0.0011772, 1e-6);
  EXPECT_NEAR(calliper.scale->y_uncertainty, 0.0011772, 1e-6);
  // No instrument error and no moisture leave the setting alone.
  EXPECT_NEAR(print_scale({100, 100, 0}, {100, 100, 0}, 0).scale->x_uncertainty, 0.00081650, 1e-7);
}

TEST(PrintScale, AClassTwoRuleWantsALongBar) {
  // Directive 2014/32/EU, annex X: 0.3 + 0.2 L with L rounded up to a metre, so 0.5 mm.
  const double u = rule_error_mm(2, 0.25, false) / std::sqrt(3.0);
  EXPECT_NEAR(u, 0.288675, 1e-6);
  const double short_bar = print_scale({100, 100, u}, {100, 100, u}, 0).scale->x_uncertainty;
  const double long_bar = print_scale({250, 250, u}, {250, 250, u}, 0).scale->x_uncertainty;
  EXPECT_NEAR(short_bar, 0.0030, 0.00005);
  EXPECT_NEAR(long_bar, 0.0012, 0.00005);
}

TEST(PrintScale, UncertaintyIsThatOfRandomReadings) {
  // Monte Carlo (JCGM 101) of the model against the first-order figure.
  std::uint64_t state = 12345;
  const auto uniform = [&state] {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<double>(state >> 11) / 9007199254740992.0 * 2 - 1;
  };
  const auto normal = [&] {  // twelve uniform numbers: standard deviation 2
    double sum = 0;
    for (int i = 0; i < 12; ++i) sum += uniform();
    return sum / 2;
  };
  double sum = 0, squares = 0;
  constexpr int runs = 200000;
  for (int i = 0; i < runs; ++i) {
    const double length = 180 * (1 + kPaperMoisture * normal());
    const double read = length + 0.2 * normal() + kTickSetting_mm * (uniform() + uniform());
    const double scale = print_scale({read, 180, 0.2}, {180, 180}).scale->x;
    sum += scale;
    squares += scale * scale;
  }
  const double mean = sum / runs;
  const double deviation = std::sqrt(squares / runs - mean * mean);
  EXPECT_NEAR(mean, 1, 2e-5);
  EXPECT_NEAR(print_scale({180, 180, 0.2}, {180, 180}).scale->x_uncertainty, deviation, 2e-5);
}

TEST(PrintScale, SaysThatAPrintWasFittedToThePage) {
  const auto check = print_scale({174.6, 180}, {242.5, 250});
  ASSERT_TRUE(check.scale) << "its scale is still known";
  ASSERT_EQ(check.checks.size(), 1u);
  EXPECT_EQ(check.checks[0].id, "print_shrunk");
  EXPECT_EQ(check.checks[0].severity, Severity::warn);
  EXPECT_THAT(check.checks[0].message, HasSubstr("3.0 % small"));
}

TEST(PrintScale, DoubtsDirectionsThatDifferTooMuch) {
  const auto check = print_scale({184, 180}, {250, 250});
  ASSERT_EQ(check.checks.size(), 1u);
  EXPECT_EQ(check.checks[0].id, "print_unequal");
  // One per cent is what printers have been found to do.
  EXPECT_TRUE(print_scale({181.8, 180}, {250, 250}).checks.empty());
}

TEST(PrintScale, RefusesSlips) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  for (const BarReading& slip :
       {BarReading{0, 180}, BarReading{-180, 180}, BarReading{nan, 180}, BarReading{18.0, 180},
        BarReading{7.09, 180}, BarReading{180, 0}, BarReading{180, 180, -1},
        BarReading{180, 180, nan}, BarReading{std::numeric_limits<double>::infinity(), 180}}) {
    const auto check = print_scale(slip, {250, 250});
    EXPECT_FALSE(check.scale) << slip.measured_mm;
    ASSERT_EQ(check.checks.size(), 1u) << slip.measured_mm;
    EXPECT_EQ(check.checks[0].severity, Severity::stop);
  }
  EXPECT_EQ(print_scale({0, 180}, {0, 250}).checks.size(), 2u);
}

TEST(PrintScale, UncheckedSheetIsTakenAtOnePerCent) {
  EXPECT_DOUBLE_EQ(CheckedScale{}.x_uncertainty, 0.01);
  EXPECT_DOUBLE_EQ(CheckedScale{}.y_uncertainty, 0.01);
}

}  // namespace
}  // namespace scantling
