#include "report/axle_notes.h"

#include <gmock/gmock.h>

namespace scantling {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

PartSummary pad(Side side, PadPlace place, double reading_mm, double u_mm = 0.02) {
  Part part;
  part.side = side;
  part.place = place;
  part.minimum_mm = 2;
  HandReadingEntry reading;
  reading.value_mm = reading_mm;
  reading.standard_uncertainty_mm = u_mm;
  return summarise_part(part, {}, {reading});
}

TEST(AxleNotes, EvenWearSaysNothing) {
  EXPECT_THAT(axle_notes(std::vector{pad(Side::left, PadPlace::inner, 6.0),
                                     pad(Side::left, PadPlace::outer, 7.5),
                                     pad(Side::right, PadPlace::inner, 6.5)},
                         Axle::front),
              IsEmpty());
}

TEST(AxleNotes, OnePadToReplaceMeansTheSet) {
  EXPECT_THAT(axle_notes(std::vector{pad(Side::left, PadPlace::inner, 1.5),
                                     pad(Side::left, PadPlace::outer, 2.5)},
                         Axle::rear),
              ElementsAre(HasSubstr("all pads of the rear axle, left and right")));
}

TEST(AxleNotes, OneDiscToReplaceMeansBothAndAllPads) {
  PartSummary disc = pad(Side::left, PadPlace::inner, 1.5);
  disc.part.kind = PartKind::disc;
  EXPECT_THAT(axle_notes(std::vector{disc}, Axle::front),
              ElementsAre(HasSubstr("both discs of the front axle, with new pads")));
}

TEST(AxleNotes, InnerAgainstOuterNamesThePinsAndLeftAgainstRightTheHose) {
  EXPECT_THAT(axle_notes(std::vector{pad(Side::left, PadPlace::inner, 4.0),
                                     pad(Side::left, PadPlace::outer, 6.5)},
                         Axle::front),
              ElementsAre(::testing::AllOf(
                  HasSubstr("left inner pad is thinner than the left outer pad by 2.50 mm"),
                  HasSubstr("guide pins"), HasSubstr("piston"))));
  EXPECT_THAT(axle_notes(std::vector{pad(Side::left, PadPlace::outer, 6.5),
                                     pad(Side::right, PadPlace::outer, 4.0)},
                         Axle::front),
              ElementsAre(::testing::AllOf(
                  HasSubstr("right outer pad is thinner than the left outer pad by 2.50 mm"),
                  HasSubstr("hose"))));
}

TEST(AxleNotes, ADifferenceWithinTheUncertaintyIsNotTold) {
  EXPECT_THAT(axle_notes(std::vector{pad(Side::left, PadPlace::inner, 4.0, 1.0),
                                     pad(Side::left, PadPlace::outer, 6.5, 1.0)},
                         Axle::front),
              IsEmpty());
}

}  // namespace
}  // namespace scantling
