// Drawn photos of discs are only worth as much as their truth: card and edges lie where it says.

#include "support/drawn_disc.h"

#include <gtest/gtest.h>

#include <opencv2/imgproc.hpp>

#include "card/card_sighting.h"
#include "support/drawn_disc_truth.h"
#include "support/drawn_lots.h"

namespace scantling::drawn {
namespace {

/// Nothing that a phone adds and no texture; the lens stays a little soft.
DrawnDiscScene clean(DrawnDiscScene scene) {
  scene.camera.blur_px = 0.9;
  scene.camera.vignetting = 0;
  scene.camera.shot_electrons = 0;
  scene.camera.sharpen = 0;
  scene.camera.mirrored = false;
  scene.camera.paper_level = 0.6;
  scene.card.finger.reset();
  DrawnDisc& disc = scene.disc;
  disc.texture = disc.grooves = disc.shine = disc.dirt = 0;
  disc.rust_edge_mm = disc.band_mm = disc.seam_mm = 0;
  scene.place.sun_share = 0;
  return scene;
}

DrawnDiscScene rim_scene() {
  DrawnDiscScene scene;
  scene.camera.width_px = 1320;
  scene.camera.height_px = 900;
  scene.camera.focal_px = 2400;
  scene.camera.elevation_deg = 0.2;
  scene.camera.roll_deg = 1.4;
  scene.camera.target = {64, 55};
  scene.disc.vented = false;
  scene.disc.bell_mm = 0;
  scene.disc.edge_a_mm = scene.disc.edge_b_mm = 0.6;
  scene.disc.offset_mm = 0.8;
  scene.disc.tilt_deg = 0.4;
  scene.disc.roll_deg = -0.6;
  scene.disc.rim_albedo = scene.disc.lip_albedo = 0.1;
  scene.place.wall_albedo = 0.7;
  scene.place.clutter = 0;
  scene.place.wall_mm = 900;
  scene.ground_mm = 500;
  return clean(scene);
}

DrawnDiscScene lip_scene() {
  DrawnDiscScene scene;
  scene.view = DiscView::lip;
  scene.camera.width_px = 1320;
  scene.camera.height_px = 900;
  scene.camera.focal_px = 2400;
  scene.camera.distance_mm = 150;
  scene.camera.elevation_deg = 30;
  scene.camera.azimuth_deg = 9;
  scene.camera.roll_deg = -2;
  scene.camera.target = {0, 0};
  scene.camera.k1 = 0.03;
  scene.disc.lip_a_mm = 1.6;
  scene.disc.wall_run_mm = 0.3;
  scene.disc.card_yaw_deg = 2;
  scene.disc.card_aside_mm = 1;
  scene.disc.wall_albedo = 0.08;
  scene.disc.lip_albedo = 0.4;
  scene.disc.finish = DiscFinish::bare;
  return clean(scene);
}

void expect_true_corners(const DrawnDiscScene& scene, const CardDefinition& card,
                         std::size_t least) {
  cv::Mat luma;
  cv::cvtColor(draw(scene), luma, cv::COLOR_RGB2GRAY);
  const CardSearch search = find_card(luma, card);
  ASSERT_TRUE(search.sighting);
  const auto truth = true_corners(scene);
  double x = 0, y = 0, distance = 0;
  std::size_t count = 0;
  for (const SightedCorner& corner : search.sighting->corners)
    for (const TrueCorner& t : truth)
      if (t.id == corner.id) {
        ++count;
        x += corner.photo_px.x - t.photo_px.x;
        y += corner.photo_px.y - t.photo_px.y;
        distance += distance_px(corner.photo_px, t.photo_px);
      }
  const double n = static_cast<double>(count);
  EXPECT_GE(count, least);
  EXPECT_LT(distance / n, 0.06);
  EXPECT_LT(std::abs(x / n), 0.03);
  EXPECT_LT(std::abs(y / n), 0.03);
}

TEST(DrawnDisc, ShowsTheNotchCardBeforeTheRimWhereTheTruthSays) {
  expect_true_corners(rim_scene(), notch_card(), 70);
}

TEST(DrawnDisc, ShowsTheTrackCardOnTheTrackWhereTheTruthSays) {
  expect_true_corners(lip_scene(), track_card(), 26);
}

/// Where the light changes along the photo's column `x` near row `y`: the middle of a step between
/// the levels `side` px away.
double step_row(const cv::Mat& light, int x, double y, int reach) {
  const int middle = static_cast<int>(std::lround(y)), first = middle - reach;
  double above = 0, below = 0, sum = 0;
  for (int i = 0; i < 2 * reach; ++i) {
    const double v = light.at<cv::Vec3f>(first + i, x)[1];
    sum += v;
    if (i < 2) above += v / 2;
    if (i >= 2 * reach - 2) below += v / 2;
  }
  return first - 0.5 + (sum - 2 * reach * below) / (above - below);
}

struct StepErrors {
  double mean = 0;
  int count = 0;
};

/// How far the picture's steps lie from a true line, down the columns.
StepErrors step_errors(const cv::Mat& light, const std::vector<Point_px>& line, int reach) {
  StepErrors errors;
  for (std::size_t i = 1; i < line.size(); ++i) {
    const Point_px a = line[i - 1].x < line[i].x ? line[i - 1] : line[i];
    const Point_px b = line[i - 1].x < line[i].x ? line[i] : line[i - 1];
    for (int x = static_cast<int>(std::ceil(a.x)); x < b.x; ++x) {
      if (x < 1 || x >= light.cols - 1) continue;
      const double row = a.y + (x - a.x) / (b.x - a.x) * (b.y - a.y);
      if (row < reach + 1 || row > light.rows - reach - 2) continue;
      errors.mean += step_row(light, x, row, reach) - row;
      ++errors.count;
    }
  }
  errors.mean /= std::max(1, errors.count);
  return errors;
}

TEST(DrawnDisc, EndsTheRimWhereItsFlatsBegin) {
  const DrawnDiscScene scene = rim_scene();
  const auto edges = true_edges(scene);
  ASSERT_EQ(edges[0].name, "face_a");
  const cv::Mat light = cast_light(scene);
  // Face b is turned away, so that its flat's beginning is the outline against the wall.
  const StepErrors errors = step_errors(light, edges[1].outer, 3);
  EXPECT_GT(errors.count, 300);
  EXPECT_LT(std::abs(errors.mean), 0.05);
  // A plain measure of the sizes: the flats' distance in the middle, by the card's own scale there.
  const double px_per_mm = scene.camera.focal_px / (scene.camera.distance_mm + 0.8 + 0.6);
  const Point_px a = edges[0].outer[14], b = edges[1].outer[14];
  EXPECT_NEAR(distance_px(a, b) / px_per_mm, scene.disc.rim_thickness_mm, 0.02);
}

TEST(DrawnDisc, PutsTheWallBetweenFootAndTop) {
  const DrawnDiscScene scene = lip_scene();
  const auto edges = true_edges(scene);
  ASSERT_EQ(edges[0].name, "wall_foot");
  ASSERT_EQ(edges[1].name, "wall_top");
  const cv::Mat light = cast_light(scene);
  for (const TrueEdge& edge : edges) {
    const StepErrors errors = step_errors(light, edge.outer, 3);
    EXPECT_GT(errors.count, 300) << edge.name;
    EXPECT_LT(std::abs(errors.mean), 0.08) << edge.name;
  }
}

TEST(DrawnDisc, SaysWhereTheAxisLiesOnTheCard) {
  DrawnDiscScene scene = lip_scene();
  scene.disc.card_yaw_deg = 0;
  const Vec3 axis = true_axis_on_card(scene);
  EXPECT_NEAR(axis.x, 20 - scene.disc.card_aside_mm, 1e-9);
  EXPECT_NEAR(axis.y, -3 - scene.disc.card_gap_mm + scene.disc.wall_foot_radius_mm(), 1e-9);
  EXPECT_NEAR(axis.z, track_card().thickness_mm, 1e-9);
}

TEST(DrawnDisc, IsTheSameAgainForTheSameSeed) {
  const auto lips = random_lip_scenes(5, 0.5, Difficulty::normal, 2);
  ASSERT_EQ(lips.size(), 2u);
  const cv::Mat first = draw(lips[0]), second = draw(lips[1]);
  EXPECT_EQ(
      cv::norm(first, draw(random_lip_scenes(5, 0.5, Difficulty::normal, 2)[0]), cv::NORM_INF), 0);
  EXPECT_GT(cv::norm(first, second, cv::NORM_INF), 50);
  const cv::Mat rim = draw(random_rim_scene(5, 0.5, Difficulty::hard));
  EXPECT_EQ(cv::norm(rim, draw(random_rim_scene(5, 0.5, Difficulty::hard)), cv::NORM_INF), 0);
}

TEST(DrawnDisc, KeepsToWhatIsAskedOfARandomScene) {
  for (std::uint32_t seed = 1; seed <= 600; ++seed) {
    const Difficulty d = random_difficulty(seed);
    const DrawnDiscScene rim = random_rim_scene(seed, 4, d);
    const double half = rim.disc.rim_thickness_mm / 2;
    EXPECT_GT(rim.disc.middle_mm - half, 34) << seed;
    EXPECT_LT(rim.disc.middle_mm + half, 76) << seed;
    EXPECT_GT(rim.disc.worn_thickness_mm(), 4) << seed;
    EXPECT_LE(rim.disc.offset_mm, 1.5) << seed;
    const auto lips = random_lip_scenes(seed, 4, d, 2);
    EXPECT_EQ(lips[0].disc.lip_a_mm, lips[1].disc.lip_a_mm) << seed;
    EXPECT_EQ(lips[0].disc.bell_mm, lips[1].disc.bell_mm) << seed;
    EXPECT_GT(std::abs(lips[0].camera.elevation_deg - lips[1].camera.elevation_deg), 9.9) << seed;
    for (const DrawnDiscScene& lip : lips) {
      EXPECT_GT(lip.disc.lip_width_mm, lip.disc.edge_a_mm) << seed;
      for (const TrueCorner& corner : true_corners(lip)) {
        EXPECT_GT(corner.photo_px.x, 0) << seed;
        EXPECT_LT(corner.photo_px.x, lip.camera.width_px) << seed;
        EXPECT_GT(corner.photo_px.y, 0) << seed;
        EXPECT_LT(corner.photo_px.y, lip.camera.height_px) << seed;
      }
    }
  }
}

}  // namespace
}  // namespace scantling::drawn
