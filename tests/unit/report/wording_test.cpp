#include "report/wording.h"

#include <gtest/gtest.h>

namespace scantling {
namespace {

Quantity size(double value_mm, double u_mm) {
  return {value_mm, u_mm, kUnlimitedDegreesOfFreedom, {}};
}

TEST(Wording, DecimalsFollowTheUncertainty) {
  EXPECT_EQ(size_with_95(size(5.021, 0.03)), "5.02\u00A0±\u00A00.06\u00A0mm");
  EXPECT_EQ(size_with_95(size(5.0214, 0.002)), "5.021\u00A0±\u00A00.004\u00A0mm");
}

TEST(Wording, MinimumKeepsItsDigits) {
  EXPECT_EQ(minimum_number(2), "2.0\u00A0mm");
  EXPECT_EQ(minimum_number(22.4), "22.4\u00A0mm");
  EXPECT_EQ(minimum_number(1.625), "1.625\u00A0mm");
}

TEST(Wording, NamesPartsDatesAndDistances) {
  Part part;
  part.side = Side::right;
  part.place = PadPlace::outer;
  EXPECT_EQ(part_title(part, Axle::rear), "Rear right, outer pad");
  part.kind = PartKind::disc;
  EXPECT_EQ(part_title(part, Axle::front), "Front right, disc");
  EXPECT_EQ(date_title("2026-11-25"), "25 November 2026");
  EXPECT_EQ(date_title("soon"), "soon");
  EXPECT_EQ(time_title("2026-11-25T09:56:02Z"), "25 November 2026, 09:56 UTC");
  EXPECT_EQ(time_title("yesterday"), "yesterday");
  EXPECT_EQ(distance_title(81250.4), "81\u00A0250\u00A0km");
  EXPECT_EQ(distance_title(999), "999\u00A0km");
  EXPECT_EQ(distance_title(1234567), "1\u00A0234\u00A0567\u00A0km");
}

}  // namespace
}  // namespace scantling
