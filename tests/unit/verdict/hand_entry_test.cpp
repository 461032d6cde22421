#include "verdict/hand_entry.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <span>

namespace scantling {
namespace {

using testing::HasSubstr;

HandEntry entry(const std::string& reading, const std::string& instrument = "digital calliper") {
  return {reading, instrument, "", "", ""};
}

TEST(HandEntry, ReadsWhatPeopleType) {
  EXPECT_DOUBLE_EQ(read_hand_entry(entry("22,40")).reading->value_mm, 22.4);
  EXPECT_DOUBLE_EQ(read_hand_entry(entry("22.40 mm")).reading->value_mm, 22.4);
  EXPECT_NEAR(read_hand_entry(entry(".881 in")).reading->value_mm, 22.3774, 1e-12);
  EXPECT_NEAR(read_hand_entry(entry("57/64 in", "steel rule")).reading->value_mm, 22.621875, 1e-12);
}

TEST(HandEntry, TakesTheZeroErrorOffAndCarriesItsStep) {
  HandEntry with_zero = entry("22.45", "vernier calliper, 0.05 mm");
  with_zero.zero = "0,05";
  const ReadEntry read = read_hand_entry(with_zero);
  EXPECT_NEAR(read.reading->value_mm, 22.40, 1e-12);
  EXPECT_DOUBLE_EQ(read.zero_error_mm, 0.05);
  EXPECT_NEAR(read.reading->standard_uncertainty_mm,
              std::sqrt(0.05 * 0.05 + 2 * 0.025 * 0.025) / std::sqrt(3.0), 1e-12);
  with_zero.zero = "-0.05 mm";
  EXPECT_NEAR(read_hand_entry(with_zero).reading->value_mm, 22.50, 1e-12);
}

TEST(HandEntry, TakesBareFiguresInTheReadingsUnit) {
  HandEntry inches = entry(".881 in", "micrometer");
  inches.zero = ".001";
  inches.resolution = ".0001";
  inches.permissible_error = "0.0002";
  const ReadEntry read = read_hand_entry(inches);
  EXPECT_NEAR(read.zero_error_mm, 0.0254, 1e-12);
  EXPECT_NEAR(read.reading->value_mm, 0.880 * 25.4, 1e-9);
  EXPECT_NEAR(read.figures.resolution_mm, 0.00254, 1e-12);
  EXPECT_NEAR(read.figures.permissible_error_mm, 0.00508, 1e-12);
  inches.zero = "-.001";
  EXPECT_NEAR(read_hand_entry(inches).reading->value_mm, 0.882 * 25.4, 1e-9);
  inches.zero = "0.02 mm";  // one that names its own unit keeps it
  EXPECT_NEAR(read_hand_entry(inches).zero_error_mm, 0.02, 1e-12);
  inches.reading = "881 thou";
  inches.zero = "1";
  EXPECT_NEAR(read_hand_entry(inches).zero_error_mm, 0.0254, 1e-12);
  HandEntry metric = entry("22.40 mm", "micrometer");
  metric.zero = "0.02";
  EXPECT_NEAR(read_hand_entry(metric).zero_error_mm, 0.02, 1e-12);
}

// 1.13 - 0.13 is 0.99999999999999989 in binary: a part at its limit is not below it.
TEST(HandEntry, ACorrectedReadingAtTheLimitIsNotBelowIt) {
  HandEntry at_limit = entry("1.13", "micrometer");
  at_limit.zero = "0.13";
  const HandReading reading = read_hand_entry(at_limit).reading.value();
  EXPECT_EQ(reading.value_mm, 1.0);
  EXPECT_EQ(judge(std::nullopt, std::span(&reading, 1), 1.0)->state, VerdictState::gauge_it);
}

TEST(HandEntry, ReadsPastedSpaces) {
  HandEntry pasted = entry("22.45\xC2\xA0mm");
  pasted.zero =
      "\xE2\x80\xAF\xE2\x88\x92"
      "0.05\xE2\x80\xAFmm";
  EXPECT_DOUBLE_EQ(read_hand_entry(pasted).reading->value_mm, 22.5);
}

TEST(HandEntry, KnowsNoMoreThanWasTyped) {
  EXPECT_DOUBLE_EQ(read_hand_entry(entry("22.40")).reading->standard_uncertainty_mm, 0.03);
  EXPECT_NEAR(read_hand_entry(entry("22")).reading->standard_uncertainty_mm,
              std::hypot(0.020, 0.5) / std::sqrt(3.0), 1e-12);
  EXPECT_NEAR(read_hand_entry(entry("57/64 in")).reading->standard_uncertainty_mm,
              std::hypot(0.020, 25.4 / 64 / 2) / std::sqrt(3.0), 1e-12);
}

TEST(HandEntry, TakesTheOwnersFigures) {
  HandEntry own = entry("22.40", "vernier calliper, 0.05 mm");
  own.permissible_error = "0.10";
  own.resolution = "0.1 mm";
  EXPECT_NEAR(read_hand_entry(own).reading->standard_uncertainty_mm,
              std::hypot(0.10, 0.05) / std::sqrt(3.0), 1e-12);
  own.permissible_error = "0.001";  // however good: a dirty part in a dirty hand
  own.resolution = "0.001";
  EXPECT_NEAR(read_hand_entry(own).reading->standard_uncertainty_mm, 0.03, 1e-12);
}

TEST(HandEntry, HasDepthGauges) {
  EXPECT_NEAR(permissible_error_mm(*instrument_named("digital depth gauge"), 5), 0.040, 1e-12);
  EXPECT_NEAR(permissible_error_mm(*instrument_named("vernier depth gauge, 0.05 mm"), 5), 0.070,
              1e-12);
}

TEST(HandEntry, RefusesWithASentenceThatSaysWhatToDo) {
  struct Case {
    HandEntry entry;
    const char* says;
  };
  const Case cases[] = {
      {entry("22.4", "laser"), "Choose the instrument"},
      {entry("thick"), "write one number"},
      {entry("2240"), "thicker than any"},
      {{"22.4", "micrometer", "5", "", ""}, "too much for a zero error"},
      {{"22.4", "micrometer", "none", "", ""}, "when closed"},
      {{"22.4", "micrometer", "", "0", ""}, "smallest step"},
      {{"22.4", "micrometer", "", "", "3"}, "error limit"},
      {{"0.01", "micrometer", "0.02", "", ""}, "less than the zero error"},
  };
  for (const Case& c : cases) {
    const ReadEntry read = read_hand_entry(c.entry);
    EXPECT_FALSE(read.reading) << c.says;
    EXPECT_THAT(read.problem, HasSubstr(c.says));
    EXPECT_EQ(read.problem.back(), '.');
  }
}

}  // namespace
}  // namespace scantling
