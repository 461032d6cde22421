#include "report/length_unit.h"

#include <gtest/gtest.h>

namespace scantling {
namespace {

std::string inches(std::string_view text) {
  return in_unit(text, LengthUnit::inch);
}

TEST(LengthUnit, MillimetresStayAsTheyAre) {
  EXPECT_EQ(in_unit("5.02 ± 0.06 mm", LengthUnit::millimetre), "5.02 ± 0.06 mm");
  EXPECT_STREQ(unit_word(LengthUnit::millimetre), "mm");
  EXPECT_STREQ(unit_word(LengthUnit::inch), "in");
}

// 25.4 mm to the inch, exactly (NIST SP 811, B.8).
TEST(LengthUnit, AnInchIsTwentyFivePointFourMillimetres) {
  EXPECT_EQ(inches("25.4 mm"), "1.000 in");
  EXPECT_EQ(inches("22 mm"), "0.866 in");
  EXPECT_EQ(inches("5.02\u00A0±\u00A00.06\u00A0mm"), "0.198\u00A0±\u00A00.002\u00A0in");
  EXPECT_EQ(inches("0.024 mm"), "0.0009 in");
  EXPECT_EQ(inches("± 0.010 mm."), "± 0.0004 in.");
  EXPECT_EQ(inches("0.001 mm"), "0.00004 in");  // small, but not nothing
  EXPECT_EQ(inches("0 mm"), "0 in");
}

TEST(LengthUnit, PairsAndRangesAreConvertedWhole) {
  EXPECT_EQ(inches("between 4.90 and 5.10 mm, or so"), "between 0.193 and 0.201 in, or so");
  EXPECT_EQ(inches("between -0.012 and +0.034 mm of the reading"),
            "between -0.0005 and +0.0013 in of the reading");
  EXPECT_EQ(inches("2 to 3 mm"), "0.079 to 0.118 in");
  EXPECT_EQ(inches("0.039 mm per 1 000 km (0.062 mm per 1 000 miles)"),
            "0.0015 in per 1 000 km (0.0024 in per 1 000 miles)");
}

TEST(LengthUnit, WhatIsNoLengthStays) {
  for (const char* text :
       {"12.4 px per mm", "3 mmHg", "81 250 km", "35 N m", "0.31 px", "Maker 2000, 4 photos", "mm",
        "a photo of 5 and 6 parts", "12.5 mm2", "photo5.02 mm", "1.2.3 mm"})
    EXPECT_EQ(inches(text), text);
}

TEST(LengthUnit, InstrumentsKeepTheirNamesAndTheLawItsInches) {
  EXPECT_EQ(inches("By hand: 1.68 mm vernier calliper, 0.02 mm; 2.00 mm micrometer"),
            "By hand: 0.066 in vernier calliper, 0.02 mm; 0.079 in micrometer");
  EXPECT_EQ(inches("less than 3.2 mm (1/8 in)"), "less than 3.2 mm (1/8 in)");
  EXPECT_EQ(inches("5.0 mm (thin)"), "0.197 in (thin)");
}

}  // namespace
}  // namespace scantling
