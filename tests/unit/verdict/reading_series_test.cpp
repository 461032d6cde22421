#include "verdict/reading_series.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "verdict/hand_entry.h"

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

std::vector<ClockReading> read_round(const std::vector<std::string>& typed,
                                     const std::string& instrument) {
  const std::vector<double> clocks = even_clock_positions(typed.size());
  std::vector<ClockReading> readings;
  for (std::size_t i = 0; i < typed.size(); ++i)
    readings.push_back(
        {clocks[i], read_hand_entry({typed[i], instrument, "0.002", "", ""}).reading.value()});
  return readings;
}

// One instrument's error is in all its readings and cancels in their difference: left are half a
// step as a rectangle and the repeatability, twice.
TEST(ReadingSeries, AFineMicrometerTellsVariation) {
  const ReadingSeries series =
      summarise_round(read_round({"22.413", "22.408", "22.401", "22.410"}, "digital micrometer"))
          .value();
  EXPECT_NEAR(series.thickness_variation_mm, 0.012, 1e-9);
  EXPECT_NEAR(series.variation_expanded_95_mm,
              1.959964 * std::sqrt(2) * std::hypot(0.0005 / std::sqrt(3.0), 0.001), 1e-8);
  EXPECT_LT(series.variation_expanded_95_mm, 0.003);
  EXPECT_THAT(series.checks, IsEmpty());
  // The thickness itself is no surer for that.
  EXPECT_DOUBLE_EQ(series.smallest.standard_uncertainty_mm, 0.01);

  EXPECT_THAT(
      summarise_round(read_round({"22.421", "22.408", "22.401", "22.410"}, "digital micrometer"))
          ->checks,
      ElementsAre(Field(&Check::id, "thickness_varies")));
}

TEST(ReadingSeries, AMicrometerOfAHundredthIsTooCoarseForVariation) {
  const ReadingSeries series =
      summarise_round(read_round({"22.41", "22.41", "22.40", "22.41"}, "micrometer")).value();
  EXPECT_NEAR(series.variation_expanded_95_mm,
              1.959964 * std::sqrt(2) * std::hypot(0.005 / std::sqrt(3.0), 0.002), 1e-8);
  EXPECT_THAT(series.checks, ElementsAre(Field(&Check::id, "variation_below_instrument")));
  // Typed to a tenth, a fine micrometer is known to a tenth.
  EXPECT_THAT(
      summarise_round(read_round({"22.4", "22.4", "22.4", "22.4"}, "digital micrometer"))->checks,
      ElementsAre(Field(&Check::id, "variation_below_instrument")));
}

TEST(ReadingSeries, TwoInstrumentsShareNoError) {
  std::vector<ClockReading> readings =
      read_round({"22.403", "22.402", "22.401", "22.402"}, "digital micrometer");
  readings[0].reading.instrument = "micrometer";
  EXPECT_NEAR(summarise_round(readings)->variation_expanded_95_mm, 1.959964 * std::sqrt(2) * 0.01,
              1e-8);
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
