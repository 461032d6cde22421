#include "report/improvements.h"

#include <gmock/gmock.h>

#include <cmath>

#include "dimension/better_input.h"

namespace scantling {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

BudgetLine scale_line(double u_mm, double checked_mm) {
  return {"print scale of the sheet, unchecked", u_mm, kUnlimitedDegreesOfFreedom, "check it",
          Remedy{kCheckedScale, checked_mm}};
}

Measurement with(View view, const char* name, double value_mm, std::vector<BudgetLine> lines) {
  Measurement m;
  m.view = view;
  Dimension d;
  d.name = name;
  d.quantity = combine_independent(value_mm, std::move(lines));
  d.confidence = 0.95;
  m.dimensions = {d};
  return m;
}

PhotoFinding photo(Measurement measurement, std::optional<DiscFace> face = {}) {
  PhotoFinding finding;
  finding.photo.original_name = "photo.jpg";
  finding.photo.view = measurement.view;
  finding.photo.face = face;
  finding.newest.emplace();
  finding.newest->measurement = std::move(measurement);
  return finding;
}

PhotoFinding lip(DiscFace face, double height_mm, double elevation_deg) {
  Measurement m = with(View::lip, "lip_height", height_mm,
                       {{"run of the lip's wall, assumed", 0.08, kUnlimitedDegreesOfFreedom, ""},
                        {"placing the foot", 0.03, 20, ""}});
  LipFacts facts;
  facts.elevation_deg = elevation_deg;
  facts.run_share = std::tan(elevation_deg * M_PI / 180);
  facts.height_without_run_mm = height_mm + 0.15 * facts.run_share;
  // A place on the track stands for a height by the tangent of the elevation.
  const double steeper = facts.run_share / std::tan(30 * M_PI / 180);
  facts.own_u_mm = 0.03 * steeper;
  facts.own_dof = 20;
  facts.shared_u_mm = 0.02 * steeper;
  m.lip = facts;
  return photo(std::move(m), face);
}

std::vector<std::string> inputs_of(const std::vector<Improvement>& list) {
  std::vector<std::string> inputs;
  for (const Improvement& improvement : list) inputs.push_back(improvement.better.input);
  return inputs;
}

Part pad(double minimum_mm) {
  Part part;
  part.minimum_mm = minimum_mm;
  return part;
}

TEST(Improvements, OfAPadAreItsBudgetsAndTheCalliper) {
  const PartSummary part =
      summarise_part(pad(5.8),
                     {photo(with(View::pad, "friction_thickness", 6,
                                 {scale_line(0.10, 0.01), {"edge", 0.04, 20, ""}}))},
                     {});
  const std::vector<Improvement> list = improvements(part);
  EXPECT_THAT(inputs_of(list), ElementsAre(kCheckedScale, kByHand));
  EXPECT_EQ(part.state, "gauge it");
  // 0.2 mm above the minimum: out of doubt once u is 0.041 mm.
  EXPECT_EQ(list[0].state_then, VerdictState::keep);
  EXPECT_THAT(list[0].sentence,
              HasSubstr("Check the sheet's print scale with a calliper: \u00B1 0.21 mm to \u00B1 "
                        "0.09 mm. If the size stays as it is: keep."));
  EXPECT_THAT(list[1].sentence, HasSubstr("Gauge it with a calliper"));
}

TEST(Improvements, AReadingByHandLeavesNothingToImprove) {
  HandReadingEntry reading;
  reading.value_mm = 6;
  reading.standard_uncertainty_mm = 0.03;
  EXPECT_THAT(improvements(summarise_part(
                  pad(2), {photo(with(View::pad, "friction_thickness", 6, {scale_line(0.1, 0)}))},
                  {reading})),
              IsEmpty());
  EXPECT_THAT(improvements(summarise_part(pad(2), {}, {})), IsEmpty());
}

TEST(Improvements, UnconfirmedEdgesComeFirstAndAlone) {
  Measurement m = with(View::pad, "friction_thickness", 6, {scale_line(0.1, 0.01)});
  MeasuredEdge edge;
  edge.name = "friction_outer";
  edge.confidence = 0.4;
  m.edges = {edge};
  const auto list = improvements(summarise_part(pad(2), {photo(std::move(m))}, {}));
  EXPECT_THAT(inputs_of(list), ElementsAre(kConfirmEdges));
  EXPECT_THAT(list[0].sentence, HasSubstr("photo.jpg and confirm them: its size counts then, "
                                          "\u00B1 0.20 mm"));
}

TEST(Improvements, OfADiscAreTheMissingLipAnotherHeightAndThePlanes) {
  Part disc;
  disc.kind = PartKind::disc;
  disc.minimum_mm = 22;
  const Measurement rim =
      with(View::rim, "rim_thickness", 24, {scale_line(0.05, 0.02), {"edge", 0.05, 20, ""}});
  const auto one_face =
      improvements(summarise_part(disc, {photo(rim), lip(DiscFace::outboard, 0.6, 30)}, {}));
  EXPECT_THAT(inputs_of(one_face), Contains(kFromPlanes));
  EXPECT_THAT(inputs_of(one_face), Contains(kOtherLip));
  EXPECT_EQ(one_face.back().better.input, kByHand);
  const PartSummary both = summarise_part(
      disc, {photo(rim), lip(DiscFace::outboard, 0.6, 30), lip(DiscFace::inboard, 0.7, 30)}, {});
  const auto two_faces = improvements(both);
  EXPECT_THAT(inputs_of(two_faces), Not(Contains(kOtherLip)));
  EXPECT_THAT(inputs_of(two_faces), Contains(kAnotherHeight));
  // With that photo really taken, as it was foretold.
  const PartSummary after =
      summarise_part(disc,
                     {photo(rim), lip(DiscFace::outboard, 0.6, 30),
                      lip(DiscFace::outboard, 0.6, 50), lip(DiscFace::inboard, 0.7, 30)},
                     {});
  for (const Improvement& improvement : two_faces)
    if (improvement.better.words.find("outboard") != std::string::npos) {
      EXPECT_NEAR(improvement.better.then_95_mm() / after.size->quantity.expanded_95_mm(), 1, 0.05);
    }
}

}  // namespace
}  // namespace scantling
