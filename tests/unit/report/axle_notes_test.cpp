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

Dimension with_u(const char* name, double value_mm, double u_mm) {
  Dimension d;
  d.name = name;
  d.quantity = combine_independent(value_mm, {{"edge", u_mm, kUnlimitedDegreesOfFreedom, ""}});
  d.confidence = 0.95;
  return d;
}

PhotoFinding measured(View view, std::vector<Dimension> dimensions) {
  PhotoFinding finding;
  finding.photo.view = view;
  finding.newest.emplace();
  finding.newest->measurement.view = view;
  finding.newest->measurement.dimensions = std::move(dimensions);
  return finding;
}

TEST(AxleNotes, ATaperAlongThePadIsToldWithItsCausesAndCautions) {
  const auto notes = [](double taper_mm) {
    Part part;
    return axle_notes(
        std::vector{summarise_part(part,
                                   {measured(View::pad, {with_u("friction_thickness", 6, 0.1),
                                                         with_u("friction_taper", taper_mm, 0.1)})},
                                   {})},
        Axle::front);
  };
  EXPECT_THAT(notes(0.15), IsEmpty());
  EXPECT_THAT(notes(-0.6), ElementsAre(::testing::AllOf(
                               HasSubstr("pad is tapered along, from end to end by 0.6"),
                               HasSubstr("Look for: "), HasSubstr("pin or slide seized"),
                               HasSubstr("compare with a new one"))));
}

TEST(AxleNotes, ATaperAcrossComesFromTheCardLyingOnThePad) {
  const auto notes = [](double across_mm) {
    Part part;
    return axle_notes(
        std::vector{summarise_part(
            part,
            {measured(View::pile,
                      {with_u("overall_thickness", 12, 0.05), with_u("friction_taper", 0.02, 0.05),
                       with_u("friction_taper_across", across_mm, 0.05)})},
            {})},
        Axle::front);
  };
  EXPECT_THAT(notes(0.08), IsEmpty());
  EXPECT_THAT(notes(0.4), ElementsAre(::testing::AllOf(
                              HasSubstr("tapered across, from rim to hub by 0.4"),
                              HasSubstr("calliper tilts"), HasSubstr("no common limit"))));
}

TEST(AxleNotes, OneFacesLipLargerIsTold) {
  const auto notes = [](double out_mm, double in_mm) {
    PartSummary disc;
    disc.part.kind = PartKind::disc;
    disc.worn.emplace();
    disc.worn->lip_out = with_u("lip_height_out", out_mm, 0.05);
    disc.worn->lip_in = with_u("lip_height_in", in_mm, 0.05);
    return axle_notes(std::vector{disc}, Axle::front);
  };
  EXPECT_THAT(notes(0.6, 0.7), IsEmpty());
  EXPECT_THAT(notes(0.4, 0.9),
              ElementsAre(::testing::AllOf(HasSubstr("disc is worn deeper on its inboard face"),
                                           HasSubstr("pins, slides and piston"),
                                           HasSubstr("gauge the track itself"))));
  EXPECT_THAT(notes(0.9, 0.4), ElementsAre(HasSubstr("deeper on its outboard face")));
}

TEST(AxleNotes, LeftAndRightDiscAreCompared) {
  PartSummary left = pad(Side::left, PadPlace::outer, 23.9),
              right = pad(Side::right, PadPlace::outer, 22.6);
  left.part.kind = right.part.kind = PartKind::disc;
  EXPECT_THAT(
      axle_notes(std::vector{left, right}, Axle::front),
      ElementsAre(::testing::AllOf(HasSubstr("right disc is thinner than the left disc by 1.30 mm"),
                                   HasSubstr("calliper sticking"))));
}

TEST(AxleNotes, ADifferenceWithinTheUncertaintyIsNotTold) {
  EXPECT_THAT(axle_notes(std::vector{pad(Side::left, PadPlace::inner, 4.0, 1.0),
                                     pad(Side::left, PadPlace::outer, 6.5, 1.0)},
                         Axle::front),
              IsEmpty());
}

}  // namespace
}  // namespace scantling
