// NIST Special Publication 811, appendix B.8: the inch is 25.4 mm exactly (value from memory,
// certain).

#include <gtest/gtest.h>

#include "reference/printed.h"
#include "verdict/forecast.h"
#include "verdict/hand_reading_text.h"
#include "verdict/tightening.h"

namespace scantling {
namespace {

double mm_of(const char* text) {
  return length_from_text(text).value_mm.value();
}

TEST(NistSp811, TheInchIsExact) {
  EXPECT_EQ(mm_of("1 in"), 25.4);
  EXPECT_EQ(mm_of("1 thou"), 0.0254);
}

TEST(NistSp811, FractionsOfAnInchAreExact) {
  EXPECT_EQ(mm_of("1/32 in"), 0.79375);
  EXPECT_EQ(mm_of("1/16 in"), 1.5875);
  EXPECT_EQ(mm_of("1/8 in"), 3.175);
  EXPECT_EQ(mm_of("3/16 in"), 4.7625);
  EXPECT_EQ(mm_of("1/4 in"), 6.35);
}

// A rule's "1.6 mm (1/16 inch)" is two different numbers.
TEST(NistSp811, ARoundedMetricFigureIsNotTheFraction) {
  EXPECT_GT(mm_of("1.6 mm"), mm_of("1/16 in"));
  EXPECT_GT(mm_of("3.2 mm"), mm_of("1/8 in"));
}

// B.8: pound-force foot to newton metre, printed 1.355 818; the product of
// exact definitions.
TEST(NistSp811, ThePoundForceFoot) {
  expect_printed(kNewtonMetresInPoundForceFoot, "1.355818");
  EXPECT_NEAR(kNewtonMetresInPoundForceFoot, 1.3558179483314004, 1e-15);
  EXPECT_NEAR(newton_metres({100, TighteningUnit::pound_force_foot}), 135.5818, 5e-5);
}

// B.8: the international mile, 1.609 344 km exactly.
TEST(NistSp811, TheMile) {
  EXPECT_EQ(kKilometresInMile, 1.609344);
}

}  // namespace
}  // namespace scantling
