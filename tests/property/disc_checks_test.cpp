// What can be wrong with a disc's photo must be noticed and said in a sentence; where it says stop
// there must be no size.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "dimension/analysis.h"
#include "dimension/lip_sizes.h"
#include "support/drawn_disc.h"
#include "support/drawn_file.h"

namespace scantling {
namespace {

using drawn::DrawnDiscScene;

DrawnDiscScene lip_scene(double elevation_deg, double distance_mm) {
  DrawnDiscScene scene = drawn::random_lip_scenes(3, 1.6, drawn::Difficulty::easy, 1)[0];
  drawn::DrawnCamera& camera = scene.camera;
  camera.width_px = 1500;
  camera.height_px = 1000;
  camera.focal_px = 2400;
  camera.exif_orientation = 1;
  camera.centre_dx_px = camera.centre_dy_px = 0;
  camera.azimuth_deg = camera.roll_deg = 0;
  camera.elevation_deg = elevation_deg;
  camera.distance_mm = distance_mm;
  camera.blur_px = 0.6;
  scene.disc.lip_a_mm = 1.0;
  return scene;
}

Measurement measure(const DrawnDiscScene& scene, View view) {
  PhotoLoad load;
  load.photo = drawn::as_photo(scene.camera, drawn::draw(scene));
  MeasureOptions options;
  options.view = view;
  options.sheet_scale = {scene.declared.scale_x, scene.declared.scale_y, 0.002, true};
  return Analysis::run(std::move(load), options).measurement();
}

const Check* find(const Measurement& m, const std::string& id) {
  for (const Check& check : m.checks)
    if (check.id == id) return &check;
  return nullptr;
}

struct LipTrouble {
  const char* id;
  Severity severity;
  double elevation_deg, distance_mm;
};

class LipChecks : public testing::TestWithParam<LipTrouble> {};

TEST_P(LipChecks, AreToldInASentence) {
  const LipTrouble& trouble = GetParam();
  const Measurement m = measure(lip_scene(trouble.elevation_deg, trouble.distance_mm), View::lip);
  const Check* check = find(m, trouble.id);
  std::string all;
  for (const Check& c : m.checks) all += c.id + " ";
  ASSERT_TRUE(check) << "got: " << all;
  EXPECT_EQ(check->severity, trouble.severity);
  EXPECT_GT(check->message.size(), 40u);
  EXPECT_EQ(check->message.back(), '.');
  EXPECT_EQ(m.usable(), trouble.severity != Severity::stop) << all;
}

INSTANTIATE_TEST_SUITE_P(All, LipChecks,
                         testing::Values(LipTrouble{"too_steep", Severity::stop, 68, 190},
                                         LipTrouble{"steep", Severity::warn, 52, 190},
                                         LipTrouble{"too_far", Severity::stop, 35, 620},
                                         LipTrouble{"far", Severity::warn, 40, 290}),
                         [](const auto& parameter) { return std::string(parameter.param.id); });

TEST(DiscChecks, ThePadsCardIsNotTheLips) {
  const Measurement m =
      measure(lip_scene(30, 190), View::rim);  // the track card, not the notch card
  EXPECT_FALSE(m.usable());
  EXPECT_TRUE(find(m, "card_missing"));
}

TEST(DiscChecks, PhotosFromOneHeightAskForAnother) {
  const Measurement m = measure(lip_scene(30, 190), View::lip);
  ASSERT_TRUE(m.usable());
  const std::vector<Measurement> twice{m, m};
  const Measurement joint = solve_lip_together(twice);
  const Check* check = find(joint, "same_elevation");
  ASSERT_TRUE(check);
  EXPECT_THAT(check->message, testing::HasSubstr("higher up"));
}

TEST(DiscChecks, ABadPhotoAmongSeveralIsLeftOut) {
  const Measurement good = measure(lip_scene(30, 190), View::lip);
  Measurement bad;
  bad.view = View::lip;
  bad.checks.push_back({"card_missing", Severity::stop, "No card."});
  const std::vector<Measurement> photos{good, bad};
  const Measurement joint = solve_lip_together(photos);
  EXPECT_TRUE(joint.usable());
  EXPECT_TRUE(find(joint, "photo_left_out"));
  EXPECT_NEAR(joint.dimension("lip_height")->quantity.value_mm,
              good.dimension("lip_height")->quantity.value_mm, 1e-12);
}

TEST(DiscChecks, ADraggedCurveMovesTheHeight) {
  const DrawnDiscScene scene = lip_scene(28, 190);
  PhotoLoad load;
  load.photo = drawn::as_photo(scene.camera, drawn::draw(scene));
  MeasureOptions options;
  options.view = View::lip;
  options.sheet_scale = {scene.declared.scale_x, scene.declared.scale_y, 0.002, true};
  const Analysis analysis = Analysis::run(std::move(load), options);
  ASSERT_TRUE(analysis.measurement().usable());
  const MeasuredEdge* top = analysis.measurement().edge("wall_top");
  ASSERT_TRUE(top);
  // The whole curve 6 px away from the foot: the lip gains what 6 px are worth.
  const MeasuredEdge* foot = analysis.measurement().edge("wall_foot");
  const std::size_t middle = top->points_px.size() / 2;
  const double way = top->points_px[middle].y < foot->points_px[middle].y ? -6 : 6;
  const Point_px a = top->points_px.front(), b = top->points_px.back();
  const MovedEdge moved{"wall_top", {{a.x, a.y + way}, {b.x, b.y + way}}};
  const Measurement after = analysis.with_edges(std::span(&moved, 1));
  const double before_mm = analysis.measurement().dimension("lip_height")->quantity.value_mm;
  const double after_mm = after.dimension("lip_height")->quantity.value_mm;
  const double mm_per_px = 1 / (scene.camera.focal_px / 190 * std::cos(28 * M_PI / 180));
  EXPECT_NEAR(after_mm - before_mm, 6 * mm_per_px, 0.25 * 6 * mm_per_px);
  EXPECT_EQ(after.edge("wall_top")->origin, EdgeOrigin::moved);
}

}  // namespace
}  // namespace scantling
