#include "verdict/reading_series.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>
#include <vector>

namespace scantling {
namespace {

using testing::ElementsAre;
using testing::Field;
using testing::IsEmpty;

std::vector<ClockReading> round_of(const std::vector<double>& sizes_mm, double u_mm) {
  const std::vector<double> clocks = even_clock_positions(sizes_mm.size());
  std::vector<ClockReading> readings;
  for (std::size_t i = 0; i < sizes_mm.size(); ++i)
    readings.push_back({clocks[i], {sizes_mm[i], u_mm, "micrometer"}});
  return readings;
}

TEST(ReadingSeries, TakesTheSmallestAndSaysWhereItIs) {
  const ReadingSeries series =
      summarise_round(round_of({22.41, 22.405, 22.36, 22.40}, 0.002)).value();
  EXPECT_DOUBLE_EQ(series.smallest.value_mm, 22.36);
  EXPECT_DOUBLE_EQ(series.smallest_at_clock, 6);
  EXPECT_NEAR(series.thickness_variation_mm, 0.05, 1e-12);
  EXPECT_NEAR(series.variation_expanded_95_mm, 1.959964 * 0.002 * 1.414214, 1e-6);
  EXPECT_NEAR(series.mean_mm, 22.39375, 1e-9);
  EXPECT_THAT(series.checks, ElementsAre(Field(&Check::id, "thickness_varies")));
}

TEST(ReadingSeries, RaisesNoAlarmForWhatANewDiscMayShow) {
  EXPECT_THAT(summarise_round(round_of({22.415, 22.40, 22.41, 22.41}, 0.001))->checks, IsEmpty());
}

TEST(ReadingSeries, SaysThatACalliperCannotTellVariation) {
  EXPECT_THAT(summarise_round(round_of({22.43, 22.40, 22.41, 22.41}, 0.03))->checks,
              ElementsAre(Field(&Check::id, "variation_below_instrument")));
}

TEST(ReadingSeries, AsksForMoreReadingsWhereAThinPlaceMayHide) {
  EXPECT_THAT(summarise_round(round_of({22.40}, 0.002))->checks,
              ElementsAre(Field(&Check::id, "readings_too_few_round")));
  std::vector<ClockReading> bunched = round_of({22.40, 22.40, 22.40, 22.40}, 0.002);
  for (std::size_t i = 0; i < bunched.size(); ++i) bunched[i].clock = 1 + static_cast<double>(i);
  EXPECT_THAT(summarise_round(bunched)->checks,
              ElementsAre(Field(&Check::id, "readings_too_few_round")));
}

TEST(ReadingSeries, RefusesWhatIsNoReading) {
  EXPECT_FALSE(summarise_round({}).has_value());
  for (const ClockReading& bad :
       {ClockReading{0, {22, 0.01, ""}}, ClockReading{12.5, {22, 0.01, ""}},
        ClockReading{3, {-1, 0.01, ""}},
        ClockReading{3, {22, std::numeric_limits<double>::quiet_NaN(), ""}}})
    EXPECT_FALSE(summarise_round(std::vector<ClockReading>{bad}).has_value());
}

TEST(ClockText, ReadsLikeAClock) {
  EXPECT_EQ(clock_text(12), "12 o'clock");
  EXPECT_EQ(clock_text(1.5), "1:30 o'clock");
  EXPECT_EQ(clock_text(0.5), "12:30 o'clock");
  EXPECT_THAT(even_clock_positions(8), ElementsAre(12, 1.5, 3, 4.5, 6, 7.5, 9, 10.5));
}

}  // namespace
}  // namespace scantling
