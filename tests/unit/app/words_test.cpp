#include "app/words.h"

#include <gtest/gtest.h>

namespace scantling {
namespace {

TEST(Words, NumbersWithPointCommaBlanksAndUnit) {
  EXPECT_EQ(number_from("3"), 3.0);
  EXPECT_EQ(number_from(" 2.5 "), 2.5);
  EXPECT_EQ(number_from("2,5", "mm"), 2.5);
  EXPECT_EQ(number_from("2.5 mm", "mm"), 2.5);
  EXPECT_EQ(number_from("2.5mm", "mm"), 2.5);
  EXPECT_EQ(number_from("83 210", "km"), 83210.0);
  EXPECT_EQ(number_from("-1.5"), -1.5);
}

TEST(Words, WhatIsNoNumberIsNone) {
  for (const char* text :
       {"", " ", "mm", "three", "3.5 inch", "1.2.3", "inf", "nan", "3x", "1e999"})
    EXPECT_EQ(number_from(text, "mm"), std::nullopt) << text;
}

TEST(Words, AnotherLineLiesSomewhereOnItsOwnPart) {
  EXPECT_EQ(shift_words("friction_outer", -0.3), "nearer the plate");
  EXPECT_EQ(shift_words("plate_friction", 0.3), "further from the plate");
  // Across a rim lengths grow from face a to face b.
  EXPECT_EQ(shift_words("face_a", 0.3), "towards the other face");
  EXPECT_EQ(shift_words("face_a", -0.3), "away from the other face");
  EXPECT_EQ(shift_words("face_b", 0.3), "away from the other face");
  EXPECT_EQ(shift_words("face_b", -0.3), "towards the other face");
  EXPECT_EQ(shift_words("wall_top", 0.3), "nearer the rim");
  EXPECT_EQ(shift_words("wall_foot", -0.3), "nearer the worn track");
}

TEST(Words, DatesAreCalendarDates) {
  EXPECT_TRUE(is_iso_date("2026-11-25"));
  EXPECT_TRUE(is_iso_date("2024-02-29"));
  for (const char* text :
       {"2026-02-29", "2026-13-01", "25.11.2026", "2026-11-5", "2026-11-25 ", ""})
    EXPECT_FALSE(is_iso_date(text)) << text;
}

TEST(Words, NumberWordsReadBack) {
  EXPECT_EQ(number_words(3), "3");
  EXPECT_EQ(number_words(2.5), "2.5");
  EXPECT_EQ(number_from(number_words(0.1 + 0.2)), 0.1 + 0.2);
}

TEST(Words, WhoConfirmed) {
  const std::vector<EdgeConfirmation> confirmations = {{1, "friction_outer", "Sam", "2026-11-25"}};
  EXPECT_EQ(confirmed_by(confirmations, "friction_outer"), "Sam");
  EXPECT_EQ(confirmed_by(confirmations, "plate_outer"), "");
}

TEST(Words, TheIntervalReadsAsInTheReport) {
  const Quantity size{5.02, 0.03, kUnlimitedDegreesOfFreedom, {}};
  EXPECT_EQ(figure_words(size), "5.02");
  EXPECT_EQ(interval_words(size), "±\u00A00.06\u00A0mm");
}

TEST(Words, Capitalised) {
  EXPECT_EQ(capitalised("gauge it"), "Gauge it");
  EXPECT_EQ(capitalised(""), "");
}

}  // namespace
}  // namespace scantling
