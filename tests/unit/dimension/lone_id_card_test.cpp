// An ID-1 card (ISO/IEC 7810) beside the part as the only thing of known size.
#include "dimension/lone_id_card.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "dimension/analysis.h"
#include "support/drawn_disc.h"
#include "support/drawn_file.h"
#include "support/drawn_truth.h"

namespace scantling {
namespace {

drawn::DrawnScene scene_of(std::uint32_t seed, bool upright) {
  drawn::DrawnScene scene;
  scene.seed = seed;
  scene.camera.width_px = 3200;
  scene.camera.height_px = 2400;
  scene.camera.focal_px = 2400;
  scene.camera.distance_mm = 300;
  scene.camera.elevation_deg = 2.5 + 0.5 * (seed % 4);
  scene.camera.azimuth_deg = -4.0 + seed % 5;
  scene.camera.roll_deg = 1.5 - 0.5 * (seed % 5);
  scene.camera.target = {30, 45};
  scene.card.id_card = true;
  scene.card.id_card_upright = upright;
  scene.card.paper = 0.55 + 0.06 * (seed % 4);
  scene.pad.plate_mm = 5.4 + 0.3 * (seed % 3);
  scene.pad.friction_mm = 3.5 + 0.8 * (seed % 6);
  scene.pad.length_mm = 60;
  scene.pad.shift_mm = 10;
  scene.place.table_albedo = 0.3;
  scene.place.wall_albedo = 0.2;
  return scene;
}

MeasureOptions by_id_card() {
  MeasureOptions options;
  options.sheet_scale.id_card = true;
  return options;
}

bool says(const Measurement& m, const char* id) {
  for (const Check& check : m.checks)
    if (check.id == id) return true;
  return false;
}

class BesideAnIdCard : public testing::TestWithParam<std::tuple<std::uint32_t, bool>> {};

TEST_P(BesideAnIdCard, APadIsMeasuredWithinItsInterval) {
  const drawn::DrawnScene scene = scene_of(std::get<0>(GetParam()), std::get<1>(GetParam()));
  PhotoLoad load;
  load.photo = drawn::as_photo(scene, drawn::draw(scene));
  const Measurement m = Analysis::run(std::move(load), by_id_card()).measurement();
  for (const Check& check : m.checks)
    EXPECT_NE(check.severity, Severity::stop) << check.id << ": " << check.message;
  ASSERT_TRUE(m.card);
  EXPECT_EQ(m.card->name, "id1");
  EXPECT_TRUE(says(m, "id_card_reference"));
  const Dimension* overall = m.dimension("overall_thickness");
  ASSERT_TRUE(overall);
  const double truth = drawn::true_overall_mm(
      scene.pad, overall->stations[overall->stations.size() / 2].position_mm);
  const Quantity& q = overall->quantity;
  std::printf("overall %.3f, true %.3f, 95 %% +- %.3f, certain %.2f, %.2f px/mm, tilt %.1f\n",
              q.value_mm, truth, q.expanded_95_mm(), overall->confidence, m.card->px_per_mm,
              m.card->tilt_deg);
  EXPECT_LT(std::abs(q.value_mm - truth), q.expanded_95_mm());
  EXPECT_LT(std::abs(q.value_mm - truth), 0.35);
  EXPECT_LE(overall->confidence, 0.85);
  bool names_the_card = false;
  for (const BudgetLine& line : q.budget)
    names_the_card = names_the_card || line.source.find("ID-1") != std::string::npos;
  EXPECT_TRUE(names_the_card);
}

INSTANTIATE_TEST_SUITE_P(Scenes, BesideAnIdCard,
                         testing::Combine(testing::Values(1u, 2u, 3u), testing::Bool()));

// The same disc in the same light, once with either card.
TEST(LoneIdCard, GivesADiscsRimAsThePrintedCardDoes) {
  drawn::DrawnDiscScene scene;
  scene.view = drawn::DiscView::rim;
  scene.camera = scene_of(2, false).camera;
  scene.camera.elevation_deg = 2;
  scene.camera.target = {30, 50};
  scene.card.paper = 0.7;
  scene.place = scene_of(2, false).place;
  scene.place.wall_albedo = 0.3;
  const auto rim = [&](bool id_card) {
    scene.card.id_card = id_card;
    PhotoLoad load;
    load.photo = drawn::as_photo(scene.camera, drawn::draw(scene));
    MeasureOptions options;
    options.sheet_scale = {1, 1, 0.001, true, id_card};
    options.view = View::rim;
    options.disc_diameter_mm = 2 * scene.disc.radius_mm;
    const Measurement m = Analysis::run(std::move(load), options).measurement();
    const Dimension* d = m.dimension("rim_thickness");
    EXPECT_TRUE(d) << (m.checks.empty() ? "" : m.checks[0].message);
    return d ? *d : Dimension{};
  };
  const Dimension printed = rim(false), by_card = rim(true);
  std::printf("true %.3f; printed card %.3f +- %.3f, ID-1 card %.3f +- %.3f, certain %.2f\n",
              scene.disc.rim_thickness_mm, printed.quantity.value_mm,
              printed.quantity.expanded_95_mm(), by_card.quantity.value_mm,
              by_card.quantity.expanded_95_mm(), by_card.confidence);
  EXPECT_NEAR(by_card.quantity.value_mm, scene.disc.rim_thickness_mm,
              by_card.quantity.expanded_95_mm());
  EXPECT_NEAR(by_card.quantity.value_mm, printed.quantity.value_mm, 0.2);
  EXPECT_LT(by_card.confidence, printed.confidence + 1e-9);
}

TEST(LoneIdCard, AnotherRectangleIsNoIdCard) {
  // The same proportions, but square corners: a business card cut from paper, a phone's picture.
  cv::Mat luma(1500, 2000, CV_8UC1, cv::Scalar(60));
  luma(cv::Rect(400, 400, 856, 540)).setTo(200);
  const LoneIdCardSearch search = find_lone_id_card(luma);
  EXPECT_FALSE(search.card);
  ASSERT_FALSE(search.checks.empty());
  EXPECT_EQ(search.checks[0].id, "id_card_missing");
  EXPECT_NE(search.checks[0].message.find("payment card"), std::string::npos);
}

TEST(LoneIdCard, ALipWantsThePrintedCard) {
  const drawn::DrawnScene scene = scene_of(1, false);
  PhotoLoad load;
  load.photo = drawn::as_photo(scene, drawn::draw(scene));
  MeasureOptions options = by_id_card();
  options.view = View::lip;
  const Measurement m = Analysis::run(std::move(load), options).measurement();
  EXPECT_TRUE(m.dimensions.empty());
  EXPECT_TRUE(says(m, "id_card_not_here"));
}

}  // namespace
}  // namespace scantling
