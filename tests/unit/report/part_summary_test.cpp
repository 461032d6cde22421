#include "report/part_summary.h"

#include <gmock/gmock.h>

#include <cmath>
#include <limits>

namespace scantling {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::Field;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

Part pad_with_minimum(std::optional<double> minimum_mm) {
  Part part;
  part.kind = PartKind::pad;
  part.minimum_mm = minimum_mm;
  return part;
}

Dimension dimension(const std::string& name, double value_mm, double u_mm) {
  Dimension d;
  d.name = name;
  d.quantity = combine_independent(value_mm, {{"edge", u_mm, kUnlimitedDegreesOfFreedom, ""}});
  d.confidence = 0.95;
  return d;
}

MeasuredEdge edge(const std::string& name, double confidence) {
  MeasuredEdge e;
  e.name = name;
  e.points_px = {{0, 0}, {100, 0}};
  e.confidence = confidence;
  return e;
}

PhotoFinding pad_photo(double value_mm, double u_mm, double confidence = 0.95) {
  PhotoFinding finding;
  finding.newest.emplace();
  Measurement& m = finding.newest->measurement;
  m.dimensions = {dimension("friction_thickness", value_mm, u_mm)};
  m.edges = {edge("plate_outer", 0.2), edge("plate_friction", confidence),
             edge("friction_outer", 0.95)};
  return finding;
}

HandReadingEntry reading(double value_mm) {
  HandReadingEntry r;
  r.value_mm = value_mm;
  r.standard_uncertainty_mm = 0.01;
  return r;
}

TEST(PartSummary, WithoutAnythingItAsksForAPhoto) {
  const PartSummary s = summarise_part(pad_with_minimum(2), {}, {});
  EXPECT_EQ(s.standing, PartStanding::nothing_yet);
  EXPECT_EQ(s.state, "not measured");
  EXPECT_FALSE(s.verdict);
  EXPECT_FALSE(s.size);
}

TEST(PartSummary, ASurePhotoIsJudged) {
  EXPECT_EQ(summarise_part(pad_with_minimum(2), {pad_photo(5.02, 0.03)}, {}).state, "keep");
  EXPECT_EQ(summarise_part(pad_with_minimum(2), {pad_photo(1.9, 0.03)}, {}).state, "replace");
  EXPECT_EQ(summarise_part(pad_with_minimum(2), {pad_photo(2.01, 0.03)}, {}).state, "gauge it");
}

TEST(PartSummary, WithoutAMinimumThereIsASizeAndNoVerdict) {
  const PartSummary s = summarise_part(pad_with_minimum({}), {pad_photo(5.02, 0.03)}, {});
  EXPECT_EQ(s.standing, PartStanding::no_minimum);
  EXPECT_FALSE(s.verdict);
  ASSERT_TRUE(s.size);
  EXPECT_EQ(s.size->quantity.value_mm, 5.02);
}

TEST(PartSummary, ADoubtfulEdgeIsNoResultUntilSomebodyConfirmsIt) {
  PhotoFinding doubtful = pad_photo(5.02, 0.03, 0.5);
  PartSummary s = summarise_part(pad_with_minimum(2), {doubtful}, {});
  EXPECT_EQ(s.standing, PartStanding::confirm_first);
  EXPECT_EQ(s.state, "confirm the edges first");
  EXPECT_FALSE(s.verdict);
  EXPECT_FALSE(s.size) << "an unconfirmed size is not shown as a result";
  EXPECT_THAT(s.photos[0].edges_to_confirm, ElementsAre("plate_friction"))
      << "the plate's back is doubtful too, but the size does not rest on it";
  EXPECT_THAT(s.because, ElementsAre(HasSubstr("plate to friction material")));

  doubtful.confirmations = {{1, "plate_friction", "Ása", "now"}};
  EXPECT_EQ(summarise_part(pad_with_minimum(2), {doubtful}, {}).state, "keep");

  doubtful.confirmations.clear();
  doubtful.newest->measurement.edges[1].origin = EdgeOrigin::moved;
  EXPECT_EQ(summarise_part(pad_with_minimum(2), {doubtful}, {}).state, "keep");

  doubtful = pad_photo(5.02, 0.03, std::numeric_limits<double>::quiet_NaN());
  EXPECT_EQ(summarise_part(pad_with_minimum(2), {doubtful}, {}).state, "confirm the edges first");
}

TEST(PartSummary, ASecondPhotoDoesNotHideAnUnconfirmedOne) {
  const PartSummary s =
      summarise_part(pad_with_minimum(2), {pad_photo(5.02, 0.03), pad_photo(3, 0.03, 0.5)}, {});
  EXPECT_EQ(s.state, "confirm the edges first");
  EXPECT_FALSE(s.verdict);
}

TEST(PartSummary, AReadingByHandOutranksAnUnconfirmedPhoto) {
  const PartSummary s =
      summarise_part(pad_with_minimum(2), {pad_photo(5.02, 0.03, 0.5)}, {reading(1.95)});
  EXPECT_EQ(s.state, "replace");
  EXPECT_THAT(s.because, Contains(HasSubstr("confirm it or drag it")));
}

TEST(PartSummary, AStopCheckGivesNoSizeAndItsSentence) {
  PhotoFinding finding = pad_photo(5.02, 0.03);
  finding.newest->measurement.checks = {{"blurred", Severity::stop, "Blurred: hold still."}};
  const PartSummary s = summarise_part(pad_with_minimum(2), {finding}, {});
  EXPECT_EQ(s.standing, PartStanding::photo_unusable);
  EXPECT_EQ(s.state, "gauge it");
  EXPECT_FALSE(s.verdict);
  EXPECT_THAT(s.because, Contains("Blurred: hold still."));
}

TEST(PartSummary, ATaperedPadIsJudgedAtItsThinnestPlace) {
  PhotoFinding finding = pad_photo(2.5, 0.03);
  Measurement& m = finding.newest->measurement;
  m.dimensions[0].stations = {{-20, 3.1}, {0, 2.5}, {20, 1.9}};
  m.dimensions.push_back(dimension("friction_taper", -1.2, 0.05));
  const PartSummary s = summarise_part(pad_with_minimum(2), {finding}, {});
  EXPECT_EQ(s.state, "replace");
  ASSERT_TRUE(s.size);
  EXPECT_EQ(s.size->quantity.value_mm, 1.9);
  // The slope's 0.05 mm from end to end is 0.025 mm from the middle to an end.
  EXPECT_NEAR(s.size->quantity.standard_uncertainty_mm, std::hypot(0.03, 0.025), 1e-12);
  EXPECT_EQ(s.size->at_mm, 20);
  EXPECT_THAT(s.because, Contains(HasSubstr("thinnest place counts")));
}

TEST(PartSummary, ATaperWithinItsUncertaintyIsNoTaper) {
  PhotoFinding finding = pad_photo(2.5, 0.03);
  Measurement& m = finding.newest->measurement;
  m.dimensions[0].stations = {{-20, 2.54}, {20, 2.46}};
  m.dimensions.push_back(dimension("friction_taper", -0.08, 0.05));
  const PartSummary s = summarise_part(pad_with_minimum(2), {finding}, {});
  EXPECT_EQ(s.size->quantity.value_mm, 2.5);
  EXPECT_FALSE(s.size->at_mm);
}

PhotoFinding tapered(double taper_u_mm, double end_mm = 2.2) {
  PhotoFinding finding = pad_photo(2.5, 0.10);
  Measurement& m = finding.newest->measurement;
  m.dimensions[0].stations = {{-20, 5 - end_mm}, {0, 2.5}, {20, end_mm}};
  m.dimensions.push_back(dimension("friction_taper", 2 * (end_mm - 2.5), taper_u_mm));
  return finding;
}

// The thin end counts though its taper is not significant: a vaguer taper makes no pad thicker.
TEST(PartSummary, ATaperCountsHoweverUnsureItIs) {
  for (const double u : {0.05, 0.29, 0.30, 0.31, 0.60, 3.0}) {
    const PartSummary s = summarise_part(pad_with_minimum(2), {tapered(u)}, {});
    EXPECT_EQ(s.state, "gauge it") << u;
    EXPECT_EQ(s.size->at_mm, 20) << u;
    EXPECT_NEAR(s.size->quantity.standard_uncertainty_mm, std::hypot(0.10, u / 2), 1e-12);
    EXPECT_NEAR(*s.verdict->probability_below, probability_below(s.size->quantity, 2), 1e-12);
  }
  const PartSummary s = summarise_part(pad_with_minimum(2), {tapered(0.31)}, {});
  EXPECT_THAT(s.because, Contains(HasSubstr("may be tapered")));
  // Far from the minimum the middle stays the size that is shown.
  const PartSummary thick = summarise_part(pad_with_minimum(1), {tapered(0.31)}, {});
  EXPECT_EQ(thick.state, "keep");
  EXPECT_FALSE(thick.size->at_mm);
}

TEST(PartSummary, AStationIsNoSurerThanWhatItIsMadeOf) {
  PhotoFinding finding = tapered(0.30);
  for (Dimension& d : finding.newest->measurement.dimensions)
    d.quantity.degrees_of_freedom = d.name == "friction_taper" ? 4 : 30;
  const GoverningSize size =
      governing_size(PartKind::pad, finding.newest->measurement, 2.0).value();
  EXPECT_EQ(size.at_mm, 20);
  EXPECT_EQ(size.quantity.degrees_of_freedom, 4);
  double squares = 0;
  for (const BudgetLine& line : size.quantity.budget)
    squares += std::pow(line.standard_uncertainty_mm, 2);
  EXPECT_NEAR(std::sqrt(squares), size.quantity.standard_uncertainty_mm, 1e-12);
}

TEST(PartSummary, TheSurestPhotoGovernsWherePhotosAgree) {
  const PartSummary s =
      summarise_part(pad_with_minimum(2), {pad_photo(2.8, 0.3), pad_photo(2.6, 0.03)}, {});
  EXPECT_EQ(s.governing_photo, 1u);
  EXPECT_EQ(s.state, "keep");
  EXPECT_THAT(s.cautions, IsEmpty());
}

PhotoFinding named(PhotoFinding finding, const std::string& name) {
  finding.photo.original_name = name;
  return finding;
}

// 2.10 mm is 2 (or 1.4) times its uncertainty above the minimum; 2.20 mm more than 3 times.
TEST(PartSummary, NoPhotoHidesAnotherThatCannotClearThePart) {
  for (const double u : {0.05, 0.07, 0.2}) {
    const std::vector<PhotoFinding> photos = {named(pad_photo(2.10, u), "a.jpg"),
                                              named(pad_photo(2.20, 0.06), "b.jpg")};
    const PartSummary s = summarise_part(pad_with_minimum(2), photos, {});
    EXPECT_EQ(s.state, "gauge it") << u;
    if (u <= 0.06) continue;  // the surest photo governs, and says so itself
    EXPECT_EQ(s.governing_photo, 1u);
    EXPECT_THAT(s.because.front(), HasSubstr("The photo a.jpg alone cannot clear the part"));
    EXPECT_THAT(s.because.front(), HasSubstr("remove it; or gauge the part"));
    EXPECT_EQ(summarise_part(pad_with_minimum(2), photos, {reading(2.2)}).state, "keep");
  }
  const std::vector<PhotoFinding> clear = {pad_photo(2.20, 0.07), pad_photo(2.20, 0.06)};
  EXPECT_EQ(summarise_part(pad_with_minimum(2), clear, {}).state, "keep");
  EXPECT_EQ(summarise_part(pad_with_minimum(2), clear, {}, true).state, "keep, due soon");
  const std::vector<PhotoFinding> doubted = {pad_photo(2.10, 0.07), pad_photo(2.20, 0.06)};
  EXPECT_EQ(summarise_part(pad_with_minimum(2), doubted, {}, true).state, "gauge it");
}

TEST(PartSummary, APhotoMeasuredWithAnotherScaleDoesNotCount) {
  PhotoFinding stale = named(pad_photo(5.02, 0.03), "old.jpg");
  stale.scale_changed = true;
  const PartSummary alone = summarise_part(pad_with_minimum(2), {stale}, {});
  EXPECT_EQ(alone.state, "gauge it");
  EXPECT_FALSE(alone.size);
  EXPECT_FALSE(alone.verdict);
  EXPECT_THAT(alone.because.front(), HasSubstr("old.jpg was measured with another print scale"));

  // Beside a photo that counts it clears nothing, and takes no "replace" back.
  EXPECT_EQ(summarise_part(pad_with_minimum(2), {stale, pad_photo(5.0, 0.03)}, {}).state,
            "gauge it");
  EXPECT_EQ(summarise_part(pad_with_minimum(2), {stale, pad_photo(1.5, 0.03)}, {}).state,
            "replace");
  EXPECT_EQ(summarise_part(pad_with_minimum(2), {stale}, {reading(2.5)}).state, "keep");
}

TEST(PartSummary, TheThinnestPhotoGovernsWherePhotosContradict) {
  const PartSummary s = summarise_part(
      pad_with_minimum(2), {pad_photo(2.6, 0.03), pad_photo(1.5, 0.05), pad_photo(3.5, 0.1)}, {});
  EXPECT_EQ(s.governing_photo, 1u);
  EXPECT_EQ(s.state, "replace");
  EXPECT_THAT(s.cautions, Contains(Field(&Check::id, "photos_disagree")));
}

PhotoFinding rim_photo(double rim_mm, double confidence = 0.95) {
  PhotoFinding finding;
  finding.newest.emplace();
  finding.newest->measurement.view = View::rim;
  finding.newest->measurement.dimensions = {dimension("rim_thickness", rim_mm, 0.05)};
  finding.newest->measurement.edges = {edge("face_a", confidence), edge("face_b", 0.9)};
  return finding;
}

TEST(PartSummary, ARimNeverClearsADisc) {
  Part disc = pad_with_minimum(22);
  disc.kind = PartKind::disc;
  const PartSummary s = summarise_part(disc, {rim_photo(30)}, {});
  EXPECT_EQ(s.state, "gauge it");
  EXPECT_FALSE(s.size);
  EXPECT_FALSE(s.verdict);
  EXPECT_THAT(s.because, Contains(HasSubstr("over its lips")));
  EXPECT_EQ(summarise_part(disc, {rim_photo(30)}, {reading(22.5)}).state, "keep");
}

PhotoFinding lip_photo(DiscFace face, double height_mm, double elevation_deg) {
  PhotoFinding finding;
  finding.photo.view = View::lip;
  finding.photo.face = face;
  finding.newest.emplace();
  Measurement& m = finding.newest->measurement;
  m.view = View::lip;
  m.dimensions = {dimension("lip_height", height_mm, 0.05)};
  m.edges = {edge("wall_foot", 0.95), edge("wall_top", 0.95)};
  // A wall without run looks as high from everywhere.
  m.lip = LipFacts{};
  m.lip->height_without_run_mm = height_mm;
  m.lip->run_share = std::tan(elevation_deg * 3.14159265358979 / 180);
  m.lip->elevation_deg = elevation_deg;
  m.lip->own_u_mm = 0.03;
  m.lip->own_dof = 30;
  return finding;
}

TEST(PartSummary, ADiscsPhotosTogetherGiveTheWornThickness) {
  Part disc = pad_with_minimum(22);
  disc.kind = PartKind::disc;
  const std::vector<PhotoFinding> photos = {
      rim_photo(26), lip_photo(DiscFace::outboard, 0.6, 20), lip_photo(DiscFace::outboard, 0.6, 40),
      lip_photo(DiscFace::inboard, 0.8, 20), lip_photo(DiscFace::inboard, 0.8, 40)};
  const PartSummary s = summarise_part(disc, photos, {});
  ASSERT_TRUE(s.size);
  EXPECT_EQ(s.size->dimension, "worn_thickness");
  // The usual run of a wall, which the two heights must overrule, still pulls a little.
  EXPECT_NEAR(s.size->quantity.value_mm, 24.6, 0.12);
  EXPECT_EQ(s.state, "keep");
  EXPECT_THAT(s.because, Contains(HasSubstr("less the outboard lip")));
  disc.minimum_mm = 25.5;  // over the lips it would pass
  EXPECT_EQ(summarise_part(disc, photos, {}).state, "replace");
}

std::vector<PhotoFinding> both_lips() {
  return {lip_photo(DiscFace::outboard, 0.6, 20), lip_photo(DiscFace::outboard, 0.6, 40),
          lip_photo(DiscFace::inboard, 0.8, 20), lip_photo(DiscFace::inboard, 0.8, 40)};
}

PhotoFinding rim_of(double rim_mm, double u_mm, const std::string& name) {
  PhotoFinding finding = named(rim_photo(rim_mm), name);
  finding.newest->measurement.dimensions = {dimension("rim_thickness", rim_mm, u_mm)};
  return finding;
}

TEST(PartSummary, NoRimPhotoHidesAnotherThatCannotClearTheDisc) {
  Part disc = pad_with_minimum(22);
  disc.kind = PartKind::disc;
  const auto with_rims = [&](std::vector<PhotoFinding> photos) {
    for (const PhotoFinding& lip : both_lips()) photos.push_back(lip);
    return summarise_part(disc, std::move(photos), {});
  };
  EXPECT_EQ(with_rims({rim_of(24.6, 0.05, "a.jpg"), rim_of(24.6, 0.04, "b.jpg")}).state, "keep");
  const PartSummary s = with_rims({rim_of(23.5, 0.06, "a.jpg"), rim_of(24.6, 0.05, "b.jpg")});
  EXPECT_EQ(s.state, "gauge it");
  EXPECT_THAT(s.because.front(), HasSubstr("The photo a.jpg alone cannot clear"));
}

TEST(PartSummary, ADiscsPhotosMeasuredWithAnotherScaleDoNotCount) {
  Part disc = pad_with_minimum(22);
  disc.kind = PartKind::disc;
  std::vector<PhotoFinding> photos = both_lips();
  photos.push_back(rim_photo(26));
  ASSERT_EQ(summarise_part(disc, photos, {}).state, "keep");
  for (PhotoFinding& photo : photos) {
    photo.scale_changed = true;
    EXPECT_EQ(summarise_part(disc, photos, {}).state, "gauge it");
    photo.scale_changed = false;
  }
  photos.back() = rim_photo(21.5);
  photos.back().scale_changed = true;
  EXPECT_EQ(summarise_part(disc, photos, {}).state, "gauge it") << "nor do they condemn it";
}

TEST(PartSummary, ARimThinOverItsLipsCondemnsADisc) {
  Part disc = pad_with_minimum(22);
  disc.kind = PartKind::disc;
  EXPECT_EQ(summarise_part(disc, {rim_photo(21.5)}, {}).state, "replace");
  EXPECT_EQ(summarise_part(disc, {rim_photo(22.02)}, {}).state, "gauge it");
  EXPECT_EQ(summarise_part(disc, {rim_photo(21.5, 0.3)}, {}).state, "confirm the edges first");
}

}  // namespace
}  // namespace scantling
