// What tells a drawn rim from all that runs beside it: the bell's foot, its shadow, the table.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "dimension/rim_evidence.h"
#include "support/drawn_disc.h"
#include "support/drawn_disc_truth.h"
#include "support/drawn_file.h"

namespace scantling {
namespace {

/// The disc hangs from its bell over a dark table: the shadow under it was once read as the rim.
struct DiscOverItsShadow : testing::Test {
  drawn::DrawnDiscScene drawn = drawn::random_rim_scene(2022, 4, drawn::Difficulty::easy);
  MeasureOptions options;
  std::optional<PlaneScene> scene;
  std::vector<RimView> views;
  RimEvidence evidence;
  double low_mm = 0, high_mm = 0;  ///< the true faces, as seen across the rim

  void SetUp() override {
    options.view = View::rim;
    options.sheet_scale = {drawn.declared.scale_x, drawn.declared.scale_y, 0.002, true};
    options.part_offset = {drawn.declared.offset_mm, drawn.declared.offset_u};
    options.disc_diameter_mm = 2 * drawn.disc.radius_mm;
    PhotoLoad load;
    load.photo = drawn::as_photo(drawn.camera, drawn::draw(drawn));
    scene = set_up_plane_scene(std::move(load), notch_card(), options).scene;
    ASSERT_TRUE(scene);
    views = unroll_rim(*scene, options);
    ASSERT_FALSE(views.front().upright);
    LineFits fits(lying().lanes, lying().lines, scene->card_blur_px);
    evidence = rim_evidence(*scene, lying(), options, fits);
    std::vector<double> faces;
    for (const drawn::TrueEdge& edge : drawn::true_edges(drawn)) {
      const Point_px middle = edge.outer[edge.outer.size() / 2];
      faces.push_back(lying().frame.seen(scene->pose, middle).y);
    }
    low_mm = std::min(faces[0], faces[1]);
    high_mm = std::max(faces[0], faces[1]);
  }
  const RimView& lying() const { return views.front(); }
};

// One drawing, which takes seconds, for all three.
TEST_F(DiscOverItsShadow, IsToldFromItByStraightEdgesThatComeOutFromBehindTheCard) {
  int own = 0, bent = 0;
  for (std::size_t i = 0; i < lying().lines.size(); ++i) {
    const double at = lying().at(static_cast<int>(i));
    if (std::min(std::abs(at - low_mm), std::abs(at - high_mm)) < 0.3) {
      ++own;
      EXPECT_LT(std::abs(evidence.bent[i]), 3) << at;
    } else if ((at < low_mm - 3 || at > high_mm + 3) && std::abs(evidence.bent[i]) > 4) {
      ++bent;
    }
  }
  EXPECT_GE(own, 2);
  EXPECT_GE(bent, 1);

  ASSERT_EQ(evidence.beyond_card.size(), 2u);
  for (const RimEvidence::Strip& strip : evidence.beyond_card) {
    EXPECT_GT(std::abs(strip.middle_mm), 64 + 10) << "beyond half of the card's width";
    double nearest = 99;
    for (const LineCandidate& a : strip.lines)
      for (const LineCandidate& b : strip.lines)
        nearest = std::min(
            nearest, std::abs(b.at(strip.middle_mm) - a.at(strip.middle_mm) - (high_mm - low_mm)));
    EXPECT_LT(nearest, 0.4);
  }

  const Analysis found = Analysis::run({scene->photo, {}}, options);
  const Measurement& m = found.measurement();
  ASSERT_TRUE(m.dimension("rim_thickness"));
  EXPECT_NEAR(m.dimension("rim_thickness")->quantity.value_mm, drawn.disc.rim_thickness_mm, 0.5);

  // Each face put on the other's line by hand: the rim is as thick as before, not as thick below 0.
  const auto ends = [&](const char* name) {
    const MeasuredEdge& edge = *m.edge(name);
    return EdgeSegment{edge.points_px.front(), edge.points_px.back()};
  };
  const std::vector<MovedEdge> exchanged{{"face_a", ends("face_b")}, {"face_b", ends("face_a")}};
  EXPECT_NEAR(found.with_edges(exchanged).dimension("rim_thickness")->quantity.value_mm,
              m.dimension("rim_thickness")->quantity.value_mm, 0.2);
}

// Bell and rim of one tone, the shadow beneath nearly so: what ends the rim is a line within what
// was taken for it.
TEST(RimCrossedByALine, IsReadRightlyOrAsksForALook) {
  const drawn::DrawnDiscScene drawn = drawn::random_rim_scene(2082, 4, drawn::Difficulty::easy);
  MeasureOptions options;
  options.view = View::rim;
  options.sheet_scale = {drawn.declared.scale_x, drawn.declared.scale_y, 0.002, true};
  PhotoLoad load;
  load.photo = drawn::as_photo(drawn.camera, drawn::draw(drawn));
  const Measurement m = Analysis::run(std::move(load), options).measurement();
  const Dimension* rim = m.dimension("rim_thickness");
  ASSERT_TRUE(rim);
  const bool right = std::abs(rim->quantity.value_mm - drawn.disc.rim_thickness_mm) <
                     rim->quantity.expanded_95_mm();
  EXPECT_TRUE(right || rim->confidence < kConfirmBelow)
      << rim->quantity.value_mm << " of " << drawn.disc.rim_thickness_mm << ", confidence "
      << rim->confidence;
}

}  // namespace
}  // namespace scantling
