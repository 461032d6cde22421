#include "report/figure_style.h"

#include <gtest/gtest.h>

namespace scantling {
namespace {

constexpr FigureStyle kMiles{LengthUnit::millimetre, DistanceUnit::mile, DecimalMark::point};
constexpr FigureStyle kInches{LengthUnit::inch, DistanceUnit::mile, DecimalMark::point};
constexpr FigureStyle kComma{LengthUnit::millimetre, DistanceUnit::kilometre, DecimalMark::comma};

TEST(FigureStyle, LeavesATextAloneWhereNothingElseIsWanted) {
  EXPECT_EQ(in_style("5.02 ± 0.06 mm at 81 250 km", {}), "5.02 ± 0.06 mm at 81 250 km");
}

// One mile is 1.609344 km exactly (NIST SP 811 B.8).
TEST(FigureStyle, PutsDistancesIntoMiles) {
  EXPECT_EQ(in_style("25 November 2026, 81\u00A0250\u00A0km.", kMiles),
            "25 November 2026, 50\u00A0486\u00A0miles.");
  EXPECT_EQ(in_style("in 5 000 km", kMiles), "in 3\u00A0107\u00A0miles");
  EXPECT_EQ(in_style("at 40 km/h", kMiles), "at 40 km/h");
  EXPECT_EQ(in_style("2 kmx, A3 km", kMiles), "2 kmx, A3 km");
}

TEST(FigureStyle, KeepsTheMilesAloneWhereBothStandThere) {
  EXPECT_EQ(in_style("About 28\u00A0000\u00A0km (17398 miles) left until 2.0 mm.", kMiles),
            "About 17398 miles left until 2.0 mm.");
  EXPECT_EQ(in_style("it wears 0.039 mm per 1 000 km (0.062 mm per 1 000 miles), standard", kMiles),
            "it wears 0.062 mm per 1 000 miles, standard");
  EXPECT_EQ(
      in_style("it wears 0.039 mm per 1 000 km (0.062 mm per 1 000 miles), standard", kInches),
      "it wears 0.0024 in per 1 000 miles, standard");
}

TEST(FigureStyle, WritesADecimalCommaInNumbersOnly) {
  EXPECT_EQ(in_style("5.02\u00A0±\u00A00.06\u00A0mm (95%).", kComma),
            "5,02\u00A0±\u00A00,06\u00A0mm (95%).");
  EXPECT_EQ(in_style("IMG_1.2.jpg and pad1.5.jpg and 2.5.jpg, version 1.86.2", kComma),
            "IMG_1.2.jpg and pad1.5.jpg and 2.5.jpg, version 1.86.2");
  EXPECT_EQ(in_style("It is 3. Then 4.", kComma), "It is 3. Then 4.");
  EXPECT_EQ(in_style("2026-11-25 at 10.5", kComma), "2026-11-25 at 10,5");
}

TEST(FigureStyle, ReadsDistancesAsPeopleTypeThem) {
  EXPECT_EQ(km_from_text("83 210", DistanceUnit::kilometre), 83210);
  EXPECT_EQ(km_from_text("83,210 km", DistanceUnit::mile), 83210);
  EXPECT_EQ(km_from_text("83.210", DistanceUnit::kilometre), 83210);
  EXPECT_NEAR(*km_from_text("51 704", DistanceUnit::mile), 51704 * 1.609344, 1e-6);
  EXPECT_NEAR(*km_from_text("51,704 mi", DistanceUnit::kilometre), 51704 * 1.609344, 1e-6);
  EXPECT_EQ(km_from_text("12,5", DistanceUnit::kilometre), 12.5);
  for (const char* bad : {"", "km", "-5", "many", "5 6 x", "inf", "nan"})
    EXPECT_FALSE(km_from_text(bad, DistanceUnit::kilometre)) << bad;
}

TEST(FigureStyle, WhatIsShownForTypingReadsBack) {
  for (const DistanceUnit unit : {DistanceUnit::kilometre, DistanceUnit::mile})
    for (const double km : {0.0, 12.0, 83210.0, 199999.5})
      EXPECT_NEAR(*km_from_text(distance_for_typing(km, unit), unit), km, 0.1);
  // What was typed in whole miles is shown in whole miles.
  EXPECT_EQ(distance_for_typing(*km_from_text("51704", DistanceUnit::mile), DistanceUnit::mile),
            "51704");
  EXPECT_EQ(length_for_typing(22.4, LengthUnit::millimetre), "22.4");
  EXPECT_EQ(length_for_typing(25.4, LengthUnit::inch), "1.0");
  EXPECT_EQ(length_as_typed("0.881", LengthUnit::inch), "0.881 in");
  EXPECT_EQ(length_as_typed("22.4 mm", LengthUnit::inch), "22.4 mm");
  EXPECT_EQ(length_as_typed("7/8\"", LengthUnit::inch), "7/8\"");
  EXPECT_EQ(length_as_typed("0.881", LengthUnit::millimetre), "0.881");
  EXPECT_EQ(length_as_typed(" ", LengthUnit::inch), " ");
  // A pasted no-break space or a minus sign is no unit.
  EXPECT_EQ(length_as_typed("0.881\xC2\xA0", LengthUnit::inch), "0.881\xC2\xA0 in");
}

}  // namespace
}  // namespace scantling
