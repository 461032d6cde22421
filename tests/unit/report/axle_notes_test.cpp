#include "report/axle_notes.h"

#include <gmock/gmock.h>

namespace scantling {
namespace {

using ::testing::AllOf;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

/// The notes without those on which parts are judged.
std::vector<std::string> axle_notes(std::span<const PartSummary> parts, Axle axle) {
  std::vector<std::string> notes = axle_together(parts, axle).notes;
  std::erase_if(notes, [](const std::string& note) {
    return note.starts_with("The axle is judged") || note == "Every part judged may stay on.";
  });
  return notes;
}

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

/// Both discs and all pads, each read by hand.
std::vector<PartSummary> whole_axle() {
  std::vector<PartSummary> parts;
  for (const Side side : {Side::left, Side::right}) {
    parts.push_back(pad(side, PadPlace::inner, 9));
    parts.back().part.kind = PartKind::disc;
    for (const PadPlace place : {PadPlace::inner, PadPlace::outer})
      parts.push_back(pad(side, place, 6.0));
  }
  return parts;
}

TEST(AxleNotes, AWholeAxleThatMayStayOnSaysSo) {
  const AxleTogether together = axle_together(whole_axle(), Axle::front);
  EXPECT_EQ(together.state, VerdictState::keep);
  EXPECT_THAT(together.notes, ElementsAre("Every part judged may stay on."));
}

TEST(AxleNotes, AnIncompleteAxleIsNotDecidedAndNamesWhatIsMissing) {
  std::vector<PartSummary> parts = whole_axle();
  parts.pop_back();
  const AxleTogether together = axle_together(parts, Axle::front);
  EXPECT_EQ(together.state, VerdictState::gauge_it);
  EXPECT_THAT(together.notes,
              Contains(AllOf(HasSubstr("without: right outer pad"), HasSubstr("not at keep"))));
  // Nothing judged yet: nothing to say.
  EXPECT_THAT(axle_together(std::vector{summarise_part(Part{}, {}, {})}, Axle::front).notes,
              IsEmpty());
}

TEST(AxleNotes, DiscsAreSettledBeforeNewPadsGoOn) {
  std::vector<PartSummary> parts = whole_axle();
  parts[1] = pad(Side::left, PadPlace::inner, 1.5);
  parts[0] = pad(Side::left, PadPlace::inner, 2.01);
  parts[0].part.kind = PartKind::disc;
  const AxleTogether together = axle_together(parts, Axle::front);
  EXPECT_EQ(together.state, VerdictState::replace);
  EXPECT_EQ(together.part_states[2], VerdictState::replace);
  EXPECT_EQ(together.part_states[3], VerdictState::keep);
  EXPECT_THAT(together.notes, Contains(HasSubstr("Settle the discs before you fit new pads: left "
                                                 "disc stands at gauge it")));
  EXPECT_THAT(together.notes, Contains("Gauge it: left disc."));
  EXPECT_THAT(together.notes, Contains("Changed with the set: left outer pad (keep by itself), "
                                       "right inner pad (keep by itself), right outer pad (keep by "
                                       "itself)."));
}

TEST(AxleNotes, ADifferenceThatCommonPracticeLeavesAloneIsToldForInformation) {
  const std::vector<std::string> notes = axle_notes(
      std::vector{pad(Side::left, PadPlace::inner, 6.0), pad(Side::left, PadPlace::outer, 7.5),
                  pad(Side::right, PadPlace::inner, 6.02)},
      Axle::front);
  EXPECT_THAT(notes, ElementsAre(AllOf(
                         HasSubstr("left inner pad is thinner than the left outer pad by 1.50 mm"),
                         HasSubstr("For information"), Not(HasSubstr("Look for")))));
}

TEST(AxleNotes, OnePadToReplaceMeansTheSet) {
  EXPECT_THAT(
      axle_notes(
          std::vector{pad(Side::left, PadPlace::inner, 1.5), pad(Side::left, PadPlace::outer, 2.5)},
          Axle::rear),
      ElementsAre(HasSubstr("all pads of the rear axle, left and right"),
                  HasSubstr("Changed with the set: left outer pad"), HasSubstr("For information")));
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
              ElementsAre("Gauge it: left inner pad."));
}

}  // namespace
}  // namespace scantling
