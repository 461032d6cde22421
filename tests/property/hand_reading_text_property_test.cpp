// Whatever is typed gives a size within reason or one sentence, never both or neither.

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>

#include "verdict/hand_entry.h"
#include "verdict/hand_reading_text.h"

namespace scantling {
namespace {

void check(const std::string& text) {
  const LengthText length = length_from_text(text);
  RC_ASSERT(length.value_mm.has_value() == length.problem.empty());
  if (length.value_mm) RC_ASSERT(*length.value_mm >= 0 && *length.value_mm <= kThickestPart_mm);
}

RC_GTEST_PROP(HandReadingTextProperty, SurvivesAnyText, (const std::string& text)) {
  check(text);
}

RC_GTEST_PROP(HandReadingTextProperty, SurvivesTextsMadeOfItsOwnPieces, ()) {
  std::string text;
  const int pieces = *rc::gen::inRange(0, 8);
  for (int i = 0; i < pieces; ++i)
    text += *rc::gen::element<std::string>("1", "22", "007", ".", ",", "/", " ", "-", "+", "mm",
                                           "in", "\"", "thou", "e", "999999999", "\xE2\x80\xB3",
                                           "\xC2\xA0", "\xE2\x80\xAF", "\0");
  check(text);
}

RC_GTEST_PROP(HandReadingTextProperty, ReadsBackWhatIsWritten, ()) {
  const int thousandths = *rc::gen::inRange(0, 100'001);
  const std::string digits = fmt::format("{}.{:03}", thousandths / 1000, thousandths % 1000);
  std::string with_comma = digits;
  with_comma[with_comma.find('.')] = ',';
  for (const std::string& text : {digits, with_comma, digits + " mm", with_comma + "mm"})
    RC_ASSERT(length_from_text(text).value_mm.value() == thousandths / 1000.0);
}

// Every reading of 0.00 to 24.99 mm with every zero error of -0.30 to 0.30 mm, exhaustively: the
// corrected reading is the very number that its two decimals are, so that it never falls on the
// wrong side of a limit.
TEST(HandReadingTextProperty, ACorrectedReadingIsTheNumberOfItsDecimals) {
  int plain_differences_off = 0;
  for (int reading = 0; reading < 2500; ++reading) {
    HandEntry entry{fmt::format("{}.{:02}", reading / 100, reading % 100), "micrometer", "", "",
                    ""};
    for (int zero = -30; zero <= std::min(30, reading); ++zero) {
      entry.zero = fmt::format("{}0.{:02}", zero < 0 ? "-" : "", std::abs(zero));
      const ReadEntry read = read_hand_entry(entry);
      ASSERT_TRUE(read.reading) << entry.reading << " less " << entry.zero;
      ASSERT_EQ(read.reading->value_mm, (reading - zero) / 100.0)
          << entry.reading << " less " << entry.zero;
      plain_differences_off += reading / 100.0 - zero / 100.0 != (reading - zero) / 100.0;
    }
  }
  // Without rounding many are off by the last binary digit.
  EXPECT_GT(plain_differences_off, 1000);
}

RC_GTEST_PROP(HandReadingTextProperty, ReadsAnyFractionOfAnInchAsTheSameDecimal, ()) {
  const int denominator = *rc::gen::element(2, 4, 8, 16, 32, 64);
  const int numerator = *rc::gen::inRange(1, 3 * denominator);
  const std::string fraction = fmt::format("{}/{} in", numerator, denominator);
  const std::string mixed =
      fmt::format("{} {}/{} in", numerator / denominator, numerator % denominator, denominator);
  const double mm = length_from_text(fraction).value_mm.value();
  RC_ASSERT(mm == length_from_text(mixed).value_mm.value());
  RC_ASSERT(std::abs(mm - 25.4 * numerator / denominator) < 1e-12);
}

}  // namespace
}  // namespace scantling
