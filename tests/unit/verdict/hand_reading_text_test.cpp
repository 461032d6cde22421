#include "verdict/hand_reading_text.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace scantling {
namespace {

double mm_of(const std::string& text) {
  const LengthText length = length_from_text(text);
  EXPECT_TRUE(length.value_mm.has_value()) << text << ": " << length.problem;
  return length.value_mm.value_or(-1);
}

TEST(LengthFromText, ReadsMillimetresWithPointOrComma) {
  EXPECT_DOUBLE_EQ(mm_of("22.4"), 22.4);
  EXPECT_DOUBLE_EQ(mm_of("22,4"), 22.4);
  EXPECT_DOUBLE_EQ(mm_of("  22.4 mm "), 22.4);
  EXPECT_DOUBLE_EQ(mm_of("22,40MM"), 22.4);
  EXPECT_DOUBLE_EQ(mm_of("8"), 8);
  EXPECT_DOUBLE_EQ(mm_of("8."), 8);
  EXPECT_DOUBLE_EQ(mm_of(",5"), 0.5);
  EXPECT_DOUBLE_EQ(mm_of("+2.5 mm"), 2.5);
  EXPECT_DOUBLE_EQ(mm_of("2.24 cm"), 22.4);
  EXPECT_DOUBLE_EQ(mm_of("0"), 0) << "a bare backing plate has no friction material left";
}

// A no-break and a narrow no-break space, as pasted from a page or a table.
TEST(LengthFromText, TakesPastedSpacesForPlainOnes) {
  EXPECT_DOUBLE_EQ(mm_of("22.4\xC2\xA0mm"), 22.4);
  EXPECT_DOUBLE_EQ(mm_of("\xC2\xA0"
                         "22,4\xE2\x80\xAFmm\xC2\xA0"),
                   22.4);
  EXPECT_DOUBLE_EQ(mm_of("1\xC2\xA0"
                         "1/8\xE2\x80\x89in"),
                   28.575);
  // Between digits they group, and could be a slip: refused as a plain one is.
  EXPECT_FALSE(length_from_text("22\xC2\xA0"
                                "4")
                   .value_mm.has_value());
}

TEST(UnitNamedIn, IsTheWordAtTheEnd) {
  EXPECT_EQ(unit_named_in(".881 IN"), "in");
  EXPECT_EQ(unit_named_in("57/64\""), "\"");
  EXPECT_EQ(unit_named_in("22.4\xC2\xA0mm "), "mm");
  EXPECT_EQ(unit_named_in("22.4"), "");
  EXPECT_EQ(unit_named_in("22.4\xC2\xA0"), "");
  EXPECT_EQ(with_unit_of(".881 in", ".001"), ".001 in");
  EXPECT_EQ(with_unit_of(".881 in", ".001 mm"), ".001 mm");
  EXPECT_EQ(with_unit_of(".881 in", " "), " ");
  EXPECT_EQ(with_unit_of("22.4", ".02"), ".02");
}

TEST(LengthFromText, ReadsInchesExactly) {
  EXPECT_DOUBLE_EQ(mm_of(".881 in"), 22.3774);
  EXPECT_DOUBLE_EQ(mm_of("0,881\""), 22.3774);
  EXPECT_DOUBLE_EQ(mm_of("881 thou"), 22.3774);
  EXPECT_DOUBLE_EQ(mm_of("1 inch"), 25.4);
  EXPECT_DOUBLE_EQ(mm_of("0.5 inches"), 12.7);
  EXPECT_DOUBLE_EQ(mm_of("0.5 in."), 12.7);
  EXPECT_DOUBLE_EQ(mm_of("0.5\xE2\x80\xB3"), 12.7);
  EXPECT_TRUE(length_from_text(".881 in").in_inches);
  EXPECT_FALSE(length_from_text("22.4").in_inches);
}

TEST(LengthFromText, ReadsFractionsOfAnInchExactly) {
  EXPECT_EQ(mm_of("57/64 in"), 22.621875);
  EXPECT_EQ(mm_of("7/8\""), 22.225);
  EXPECT_EQ(mm_of("1 1/8 in"), 28.575);
  EXPECT_EQ(mm_of("1-1/8in"), 28.575);
  EXPECT_EQ(mm_of("1/32 in"), 0.79375);
  EXPECT_EQ(mm_of("3/16\""), 4.7625);
}

TEST(LengthFromText, KeepsTheTwoMeaningsOfASixteenthApart) {
  EXPECT_EQ(mm_of("1/16 in"), 1.5875);
  EXPECT_EQ(mm_of("1.6 mm"), 1.6);
}

TEST(LengthFromText, RefusesWithOneSentence) {
  for (const char* text : {"",
                           "   ",
                           "mm",
                           "in",
                           "abc",
                           "22.4.1",
                           "22,400.5",
                           "22 4",
                           "2e1",
                           "0x16",
                           "nan",
                           "inf",
                           "-22.4",
                           "\xE2\x88\x92"
                           "22",
                           "7/8",
                           "7/8 mm",
                           "7/0 in",
                           "/8 in",
                           "7/ in",
                           "1/2/3 in",
                           "1.5/8 in",
                           "x 1/8 in",
                           "224",
                           "22.4 in",
                           "22.4 mm mm",
                           "22.4 kg",
                           "1234567890123",
                           "99999999/1 in"}) {
    const LengthText length = length_from_text(text);
    EXPECT_FALSE(length.value_mm.has_value()) << text;
    EXPECT_TRUE(length.problem.ends_with('.')) << text << ": " << length.problem;
  }
}

TEST(LengthFromText, SaysWhatToDo) {
  EXPECT_THAT(length_from_text("7/8").problem, testing::HasSubstr("7/8 in"));
  EXPECT_THAT(length_from_text("22.4 in").problem, testing::HasSubstr("569.0 mm"));
  EXPECT_THAT(length_from_text("-3").problem, testing::HasSubstr("minus"));
}

}  // namespace
}  // namespace scantling
