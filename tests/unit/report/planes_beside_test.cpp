#include "report/planes_beside.h"

#include <gmock/gmock.h>

#include <cmath>
#include <cstdio>
#include <random>

#include "dimension/better_input.h"
#include "dimension/size_budget.h"
#include "report/summary.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;

Dimension dimension(const std::string& name, double value_mm, double u_mm) {
  Dimension d;
  d.name = name;
  d.quantity = combine_independent(value_mm, {{"edge", u_mm, kUnlimitedDegreesOfFreedom, ""}});
  d.confidence = 0.95;
  return d;
}

PhotoFinding photo(View view, std::vector<Dimension> dimensions) {
  PhotoFinding finding;
  finding.photo.view = view;
  finding.newest.emplace();
  finding.newest->measurement.view = view;
  finding.newest->measurement.dimensions = std::move(dimensions);
  return finding;
}

/// As if these had been solved together.
std::vector<PhotoFinding> together(std::vector<PhotoFinding> photos) {
  for (std::size_t i = 0; i < photos.size(); ++i) {
    photos[i].photo.sha256 = std::to_string(i);
    photos[i].newest->read_with.clear();
    for (std::size_t k = 0; k < photos.size(); ++k)
      if (k != i) photos[i].newest->read_with.push_back(std::to_string(k));
  }
  return photos;
}

/// Two photos a side, solved together.
std::vector<PhotoFinding> faces(double worn_mm, double u_mm) {
  return together(std::vector<PhotoFinding>(
      4, photo(View::faces, {dimension("worn_thickness", worn_mm, u_mm)})));
}

/// Rim and both lips, giving this worn thickness.
std::vector<PhotoFinding> edges(double worn_mm, double u_mm) {
  std::vector<PhotoFinding> photos = {
      photo(View::rim, {dimension("rim_thickness", worn_mm + 1, u_mm)})};
  for (const DiscFace face : {DiscFace::outboard, DiscFace::inboard}) {
    photos.push_back(photo(View::lip, {dimension("lip_height", 0.5, 0.02)}));
    photos.back().photo.face = face;
    LipFacts lip;
    lip.height_without_run_mm = 0.5;
    lip.elevation_deg = 60;
    lip.distance_mm = 300;
    lip.own_u_mm = 0.02;
    lip.own_dof = 50;
    photos.back().newest->measurement.lip = lip;
  }
  return photos;
}

std::vector<PhotoFinding> both(std::vector<PhotoFinding> a, const std::vector<PhotoFinding>& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

PartSummary disc(std::vector<PhotoFinding> photos, std::vector<HandReadingEntry> readings = {}) {
  Part part;
  part.kind = PartKind::disc;
  part.minimum_mm = 20;
  return summarise_part(part, std::move(photos), std::move(readings));
}

TEST(PlanesBeside, AgreeingSizesLetTheSurerOneCount) {
  const PartSummary s = disc(both(edges(22.0, 0.1), faces(22.05, 0.03)));
  ASSERT_TRUE(s.worn && s.worn->worn);
  const PlanesBeside beside = planes_beside(s);
  ASSERT_TRUE(beside.normalised_error);
  EXPECT_LT(*beside.normalised_error, 1);
  EXPECT_THAT(beside.sentence, HasSubstr("agree"));
  ASSERT_TRUE(s.size);
  EXPECT_DOUBLE_EQ(s.size->quantity.value_mm, 22.05);
  EXPECT_EQ(s.state, "keep");
  EXPECT_TRUE(planes_govern(s));

  const PartSummary other = disc(both(edges(22.0, 0.01), faces(22.05, 0.2)));
  EXPECT_NEAR(other.size->quantity.value_mm, 22.0, 0.2);
  EXPECT_NE(other.size->quantity.value_mm, 22.05);
  EXPECT_FALSE(planes_govern(other));
}

// Sheet and cards come from one print: what both scales do is one error for all that is measured
// with it.
TEST(PlanesBeside, ShareThePrintsScaleWithOtherSizes) {
  std::vector<PhotoFinding> photos = faces(22.05, 0.03);
  for (PhotoFinding& f : photos) {
    f.sheet = Sheet{};
    f.sheet->id = 3;
    f.newest->measurement.dimensions[0].quantity =
        combine_independent(22.05, {{"corners in the photos", 0.02, 200, ""},
                                    {"print scale of the ground sheet", 0.03, 8, ""},
                                    {"print scale of the cards", 0.04, 8, ""}});
  }
  const SharedError shared = shared_error(disc(photos));
  EXPECT_NEAR(shared.standard_uncertainty_mm, 0.05, 1e-12);
  EXPECT_NEAR(shared.degrees_of_freedom,
              8 * std::pow(0.05, 4) / (std::pow(0.03, 4) + std::pow(0.04, 4)), 1e-9);
  EXPECT_FALSE(shared.with.empty());
  for (PhotoFinding& f : photos) f.sheet->id = 4;
  EXPECT_NE(shared_error(disc(photos)).with, shared.with);
  EXPECT_TRUE(shared_error(disc(faces(22.05, 0.03))).with.empty());
}

TEST(PlanesBeside, DisagreeingSizesAreToldAndTheThinnerOneCounts) {
  for (const double planes_mm : {20.5, 23.5}) {
    const PartSummary s = disc(both(edges(22.0, 0.05), faces(planes_mm, 0.03)));
    const PlanesBeside beside = planes_beside(s);
    EXPECT_TRUE(beside.disagree());
    EXPECT_NEAR(*beside.normalised_error, std::abs(beside.difference_mm) / beside.joint_95_mm,
                1e-12);
    EXPECT_THAT(beside.sentence, HasSubstr("one of them is wrong"));
    ASSERT_FALSE(s.cautions.empty());
    EXPECT_EQ(s.cautions.front().id, "planes_disagree");
    EXPECT_NEAR(s.size->quantity.value_mm, std::min(planes_mm, 22.0), 0.1);
  }
}

TEST(PlanesBeside, PlanesAloneMayCondemnButNeverClear) {
  EXPECT_EQ(disc(faces(19.5, 0.03)).state, "replace");
  const PartSummary thick = disc(faces(23.0, 0.03));
  EXPECT_EQ(thick.state, "gauge it");
  EXPECT_DOUBLE_EQ(thick.size->quantity.value_mm, 23.0);
  EXPECT_THAT(thick.because.front(), HasSubstr("clears no part"));
  HandReadingEntry reading;
  reading.value_mm = 22.98;
  reading.standard_uncertainty_mm = 0.01;
  EXPECT_EQ(disc(faces(23.0, 0.03), {reading}).state, "keep");
}

// Edges say 20.1 +- 0.3 against a minimum of 20: better than one chance in three that it is worn.
TEST(PlanesBeside, PlanesClearNoDiscThatTheEdgesDoubt) {
  const PartSummary doubted = disc(both(edges(20.1, 0.3), faces(20.4, 0.03)));
  ASSERT_TRUE(doubted.worn && doubted.worn->worn);
  EXPECT_GT(probability_below(doubted.worn->worn->quantity, 20), kEdgesMayDoubt);
  EXPECT_TRUE(planes_govern(doubted));
  EXPECT_EQ(doubted.state, "gauge it");
  EXPECT_THAT(doubted.because.front(), HasSubstr("Only the planes are sure"));
  EXPECT_THAT(doubted.because.front(), HasSubstr("again, surer"));

  const PartSummary backed = disc(both(edges(20.6, 0.3), faces(20.4, 0.03)));
  EXPECT_LT(probability_below(backed.worn->worn->quantity, 20), kEdgesMayDoubt);
  EXPECT_TRUE(planes_govern(backed));
  EXPECT_EQ(backed.state, "keep");
}

TEST(PlanesBeside, WhereNobodyHasLookedAtTheRimLookingIsAskedForFirstAndHelps) {
  std::vector<PhotoFinding> photos = both(edges(20.6, 0.1), faces(20.4, 0.03));
  Quantity& rim = photos.front().newest->measurement.dimensions.front().quantity;
  rim.budget.push_back({mistaken_source("face_a"), 0.9, 20, "", Remedy{kEdgesLookedAt, 0}});
  rim = combine_independent(rim.value_mm, rim.budget);
  const PartSummary unseen = disc(photos);
  EXPECT_EQ(unseen.state, "gauge it");
  EXPECT_THAT(unseen.because.front(), HasSubstr("Look at the rim's edges"));
  photos.front().confirmations = {{0, "face_a", "Sam", ""}};
  EXPECT_EQ(disc(photos).state, "keep");
}

TEST(PlanesBeside, EdgesClearNoDiscThatThePlanesDoubt) {
  for (const double u : {0.19, 0.25, 0.5}) {
    const PartSummary s = disc(both(edges(20.5, 0.05), faces(20.35, u)));
    EXPECT_FALSE(planes_govern(s)) << u;
    EXPECT_EQ(s.state, "gauge it") << u;
    EXPECT_THAT(s.because.front(), HasSubstr("the planes are not")) << u;
  }
  EXPECT_EQ(disc(both(edges(20.5, 0.05), faces(20.6, 0.15))).state, "keep");
}

/// How discs are measured that all lie a hair below their minimum.
struct Worn {
  const char* name;
  double rim_u_mm;        ///< what makes the edges unsure
  double planes_u_mm;     ///< of planes that are not misled
  double shared_u_mm;     ///< of one print scale's error in both
  double misled_mm;       ///< by how much one solution in twenty reads too thick
  bool misled_by_chance;  ///< half-normal of that size, else just that
};

double share_kept(const Worn& worn, int discs) {
  constexpr double kMinimum_mm = 20;
  const PartSummary probe = disc(edges(kMinimum_mm, worn.rim_u_mm));
  const double edges_u_mm = probe.worn_by_edges->standard_uncertainty_mm;
  const double offset_mm = probe.worn_by_edges->value_mm - kMinimum_mm;
  std::mt19937_64 random(19);
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> chance;
  int keeps = 0;
  for (int i = 0; i < discs; ++i) {
    const double shared_mm = worn.shared_u_mm * normal(random);
    const auto read = [&](double u_mm) {
      return kMinimum_mm - 1e-6 + shared_mm +
             std::sqrt(u_mm * u_mm - worn.shared_u_mm * worn.shared_u_mm) * normal(random);
    };
    const double by_edges_mm = read(edges_u_mm) - offset_mm;
    double by_planes_mm = read(worn.planes_u_mm);
    if (chance(random) < 0.05)
      by_planes_mm += worn.misled_mm * (worn.misled_by_chance ? std::abs(normal(random)) : 1);
    keeps += disc(both(edges(by_edges_mm, worn.rim_u_mm), faces(by_planes_mm, worn.planes_u_mm)))
                 .state == "keep";
  }
  const double share = static_cast<double>(keeps) / discs;
  std::printf(
      "%s: edges u %.3f mm, planes u %.3f mm: %d of %d discs just below their minimum "
      "called keep (%.2f %%)\n",
      worn.name, edges_u_mm, worn.planes_u_mm, keeps, discs, 100 * share);
  return share;
}

TEST(PlanesBeside, KeepsAtMostOneInAHundredDiscsJustBelowTheirMinimum) {
  constexpr int kDiscs = 100'000;
  const Worn list[] = {
      {"as in the demo, misled by chance", 0.25, 0.085, 0.05, 0.30, true},
      {"as in the demo, misled by the worst", 0.25, 0.085, 0.05, 0.40, false},
      {"sure planes, misled by chance", 0.25, 0.03, 0.02, 0.30, true},
      {"sure planes, misled by the worst", 0.25, 0.03, 0.02, 0.27, false},
      {"sure edges and planes, misled by the worst", 0.08, 0.03, 0.02, 0.15, false},
  };
  for (const Worn& worn : list) EXPECT_LE(share_kept(worn, kDiscs), 0.01) << worn.name;
}

TEST(PlanesBeside, EveryRimPhotoIsHeardBesideThePlanes) {
  std::vector<PhotoFinding> photos = both(edges(20.6, 0.2), faces(20.5, 0.03));
  ASSERT_EQ(disc(photos).state, "keep");
  photos.push_back(photo(View::rim, {dimension("rim_thickness", 21.1, 0.3)}));
  const PartSummary s = disc(photos);
  EXPECT_TRUE(planes_govern(s));
  EXPECT_EQ(s.state, "gauge it");
  EXPECT_THAT(s.because.front(), HasSubstr("alone cannot clear"));
}

TEST(PlanesBeside, ASheetMeasuredAnewUnsettlesWhatItsOldScaleGave) {
  std::vector<PhotoFinding> photos = faces(19.5, 0.03);
  EXPECT_TRUE(planes_settled(disc(photos)));
  photos[2].scale_changed = true;
  EXPECT_FALSE(planes_settled(disc(photos)));
  EXPECT_FALSE(disc(photos).size);
}

TEST(PlanesBeside, NothingCountsUntilAllPhotosAreSolvedTogether) {
  std::vector<PhotoFinding> photos = faces(19.5, 0.03);
  photos.push_back(photo(View::faces, {}));
  photos.back().newest.reset();  // just added
  EXPECT_FALSE(planes_settled(disc(photos)));
  EXPECT_FALSE(disc(photos).size);

  photos = faces(19.5, 0.03);
  photos.pop_back();  // taken off since
  EXPECT_FALSE(planes_settled(disc(photos)));
  EXPECT_FALSE(disc(photos).size);

  photos = faces(19.5, 0.03);
  photos[1].newest->measurement = {};
  photos[1].newest->measurement.view = View::faces;
  photos[1].newest->measurement.checks = {{kPlanesUnsolved, Severity::info, ""}};
  EXPECT_FALSE(planes_settled(disc(photos)));
  EXPECT_FALSE(disc(photos).size);

  photos = faces(19.5, 0.03);
  for (PhotoFinding& f : photos)
    f.newest->measurement.checks = {{"moved_between_photos", Severity::stop, "It moved."}};
  EXPECT_TRUE(planes_settled(disc(photos)));
  EXPECT_FALSE(disc(photos).size) << "a stop check leaves no size";
}

TEST(PlanesBeside, APileIsComparedWithTheWholePadAndNeverJudged) {
  Part part;
  part.kind = PartKind::pad;
  part.minimum_mm = 2;
  const std::vector<PhotoFinding> pile = together(std::vector<PhotoFinding>(
      3, photo(View::pile, {dimension("overall_thickness", 14.0, 0.02)})));
  EXPECT_EQ(summarise_part(part, pile, {}).standing, PartStanding::nothing_yet);

  PhotoFinding pad = photo(View::pad, {dimension("friction_thickness", 8.0, 0.05),
                                       dimension("overall_thickness", 14.6, 0.08)});
  for (const char* name : {"plate_outer", "plate_friction", "friction_outer"}) {
    MeasuredEdge edge;
    edge.name = name;
    edge.points_px = {{0, 0}, {9, 0}};
    edge.confidence = edge.name == "plate_outer" ? 0.4 : 0.9;
    pad.newest->measurement.edges.push_back(edge);
  }
  PartSummary s = summarise_part(part, both(pile, {pad}), {});
  EXPECT_DOUBLE_EQ(s.size->quantity.value_mm, 8.0);
  EXPECT_FALSE(planes_beside(s).edges) << "the plate's bare side wants a look first";
  pad.confirmations = {{0, "plate_outer", "Sam", ""}};
  s = summarise_part(part, both(pile, {pad}), {});
  EXPECT_TRUE(planes_beside(s).disagree());
  EXPECT_THAT(planes_beside(s).sentence, HasSubstr("calliper"));
  EXPECT_DOUBLE_EQ(s.size->quantity.value_mm, 8.0);
}

}  // namespace
}  // namespace scantling
