// The drawn photos are only worth as much as their truth: corners and edges must lie where it says.

#include "support/drawn_scene.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <opencv2/imgproc.hpp>

#include "camera/camera_prior.h"
#include "camera/card_pose.h"
#include "card/card_sighting.h"
#include "support/drawn_file.h"
#include "support/drawn_truth.h"

namespace scantling::drawn {
namespace {

/// No noise and nothing that a phone adds; the lens stays a little soft.
DrawnScene clean_scene() {
  DrawnScene scene;
  scene.camera.blur_px = 0.9;
  scene.camera.vignetting = 0;
  scene.camera.shot_electrons = 0;
  scene.camera.width_px = 1320;
  scene.camera.height_px = 900;
  scene.camera.focal_px = 2400;
  return scene;
}

cv::Mat luma_of(const DrawnScene& scene) {
  cv::Mat luma;
  cv::cvtColor(draw(scene), luma, cv::COLOR_RGB2GRAY);
  return luma;
}

struct CornerErrors {
  std::size_t count = 0;
  double mean_x = 0, mean_y = 0, mean_distance = 0;
};

CornerErrors corner_errors(const DrawnScene& scene) {
  const CardSearch search = find_card(luma_of(scene), notch_card());
  CornerErrors errors;
  if (!search.sighting) return errors;
  const auto truth = true_corners(scene);
  for (const SightedCorner& corner : search.sighting->corners)
    for (const TrueCorner& t : truth)
      if (t.id == corner.id) {
        ++errors.count;
        errors.mean_x += corner.photo_px.x - t.photo_px.x;
        errors.mean_y += corner.photo_px.y - t.photo_px.y;
        errors.mean_distance += distance_px(corner.photo_px, t.photo_px);
      }
  const double n = static_cast<double>(errors.count);
  errors.mean_x /= n;
  errors.mean_y /= n;
  errors.mean_distance /= n;
  return errors;
}

void expect_true_corners(const DrawnScene& scene) {
  const CornerErrors errors = corner_errors(scene);
  EXPECT_GE(errors.count, 70u);
  EXPECT_LT(errors.mean_distance, 0.05);
  EXPECT_LT(std::abs(errors.mean_x), 0.02);
  EXPECT_LT(std::abs(errors.mean_y), 0.02);
}

TEST(DrawnScene, ShowsTheCardsCornersWhereTheTruthSays) {
  expect_true_corners(clean_scene());
}

TEST(DrawnScene, KeepsTheTruthUnderTiltDistortionPrintScaleLeanAndBend) {
  DrawnScene scene = clean_scene();
  scene.camera.elevation_deg = 14;
  scene.camera.azimuth_deg = -11;
  scene.camera.roll_deg = 6;
  scene.camera.k1 = 0.06;
  scene.camera.k2 = -0.05;
  scene.camera.centre_dx_px = 12;
  scene.camera.centre_dy_px = -9;
  scene.card.scale_x = 1.012;
  scene.card.scale_y = 0.991;
  scene.card.lean_deg = 1.5;
  scene.card.bend_mm = -1.2;
  expect_true_corners(scene);
}

TEST(DrawnScene, HasTheCameraThatThePoseSolverFinds) {
  DrawnScene scene = clean_scene();
  scene.camera.elevation_deg = 12;
  scene.camera.azimuth_deg = 8;
  scene.camera.roll_deg = -4;
  scene.card.scale_x = 1.01;
  scene.card.scale_y = 1.006;
  const Photo photo = as_photo(scene, draw(scene));
  const CardSearch search = find_card(photo.luma, notch_card());
  ASSERT_TRUE(search.sighting);
  const PoseSolution solution = solve_card_pose(
      *search.sighting, camera_prior(photo.tags, photo.width_px(), photo.height_px()),
      {scene.card.scale_x, scene.card.scale_y});
  ASSERT_TRUE(solution.pose);
  EXPECT_LT(solution.pose->residual_px(), 0.06);
  // The printed scale grows from the notch's foot here and from the card's corner there: the
  // frames differ by a shift along the card's plane.
  const double dx = 64 * (scene.card.scale_x - 1), dy = 78 * (scene.card.scale_y - 1);
  const Camera camera(scene.camera);
  for (const Vec3 place : {Vec3{10, 20, 0}, Vec3{64, 60, 0}, Vec3{110, 10, 0}, Vec3{64, 70, 2}}) {
    const Point_px found = solution.pose->project({place.x + dx, place.y + dy, place.z});
    EXPECT_LT(distance_px(found, camera.project(place)), 0.08);
  }
}

TEST(DrawnScene, ProjectsWhatItsRaysMeet) {
  DrawnScene scene = clean_scene();
  scene.camera.k1 = -0.08;
  scene.camera.k2 = 0.03;
  scene.camera.roll_deg = -7;
  scene.camera.azimuth_deg = 9;
  const Camera camera(scene.camera);
  for (double x : {0.0, 417.3, 1319.0})
    for (double y : {0.0, 560.6, 899.0}) {
      const Ray ray = camera.ray(x, y);
      const Point_px back = camera.project(ray.origin + 317.0 * ray.direction);
      EXPECT_LT(distance_px(back, {x, y}), 1e-5);
    }
}

/// Where the grey changes along column `x` near row `y`, from the area under the step.
double step_row(const cv::Mat& light, int x, double y) {
  constexpr int kReach = 7, kSide = 3;
  const int middle = static_cast<int>(std::lround(y)), first = middle - kReach;
  double above = 0, below = 0, sum = 0;
  for (int i = 0; i < 2 * kReach; ++i) {
    const double v = light.at<cv::Vec3f>(first + i, x)[1];
    sum += v;
    if (i < kSide) above += v / kSide;
    if (i >= 2 * kReach - kSide) below += v / kSide;
  }
  return first - 0.5 + (sum - 2 * kReach * below) / (above - below);
}

TEST(DrawnScene, PutsTheStepBetweenTwoTonesWhereTheTruthSays) {
  DrawnScene scene = clean_scene();
  scene.camera.elevation_deg = 0.3;
  scene.camera.roll_deg = 1.3;
  scene.camera.distance_mm = 260;
  scene.place.sun_share = 0;
  scene.pad.texture = 0;
  scene.pad.setback_mm = 0;
  scene.pad.plate_edge_mm = 0;
  scene.pad.length_mm = 100;
  scene.pad.plate_mm = 16;  // far from the table, which shades its foot
  scene.pad.plate_albedo = 0.05;
  scene.pad.friction_albedo = 0.3;
  scene.pad.finish = PlateFinish::bare;
  scene.pad.taper_per_mm = 0.01;
  cv::Mat light = cast_light(scene);
  const auto edges = true_edges(scene);
  ASSERT_EQ(edges[1].name, "plate_friction");
  const Point_px a = edges[1].outer.front(), b = edges[1].outer.back();
  double sum = 0, square = 0;
  int count = 0;
  for (int x = static_cast<int>(a.x) + 4; x < b.x - 4; ++x, ++count) {
    const double row = a.y + (x - a.x) / (b.x - a.x) * (b.y - a.y);
    const double error = step_row(light, x, row) - row;
    sum += error;
    square += error * error;
  }
  EXPECT_GT(count, 250);
  EXPECT_LT(std::abs(sum / count), 0.02);
  EXPECT_LT(std::sqrt(square / count), 0.25);
}

TEST(DrawnScene, IsTheSameAgainForTheSameSeed) {
  const DrawnScene scene = random_scene(11, 0.8);
  const cv::Mat first = draw(scene), again = draw(random_scene(11, 0.8));
  EXPECT_EQ(cv::norm(first, again, cv::NORM_INF), 0);
  EXPECT_GT(cv::norm(first, draw(random_scene(12, 0.8)), cv::NORM_INF), 50);
}

TEST(DrawnScene, NeverPutsThePadInFrontOfTheCardOrTheCameraUnderTheTable) {
  for (std::uint32_t seed = 1; seed <= 1000; ++seed) {
    const DrawnScene scene = random_scene(seed, 4);
    EXPECT_GE(scene.pad.offset_mm, 0) << seed;
    const double height = 78 - Camera(scene.camera).position().y;
    EXPECT_TRUE(height > 0 || scene.place.table_front_mm > -25) << seed << ": " << height;
    EXPECT_LT(true_overall_mm(scene.pad, 0), 20) << seed;
    EXPECT_GT(true_friction_mm(scene.pad, -30), 0.3) << seed;
    EXPECT_GT(true_friction_mm(scene.pad, 30), 0.3) << seed;
  }
}

TEST(DrawnScene, WritesAFileThatOpensUprightWithItsTags) {
  DrawnScene scene = random_scene(3, 0.8);
  scene.camera.exif_orientation = 6;
  std::swap(scene.camera.width_px, scene.camera.height_px);
  const cv::Mat rgb = draw(scene);
  const auto bytes = jpeg_file(scene, rgb);
  const auto file = std::filesystem::path(testing::TempDir()) / "drawn_scene_test.jpg";
  {
    std::ofstream out(file, std::ios::binary);
    out.write(reinterpret_cast<const char*>(bytes.data()),
              static_cast<std::streamsize>(bytes.size()));
  }
  const PhotoLoad load = load_photo(file);
  std::filesystem::remove(file);
  ASSERT_TRUE(load.photo);
  const Photo straight = as_photo(scene, rgb);
  EXPECT_EQ(load.photo->luma.size(), straight.luma.size());
  // JPEG blocks fall differently on the turned picture, so not bit by bit.
  EXPECT_LT(cv::norm(load.photo->luma, straight.luma, cv::NORM_L1) /
                static_cast<double>(straight.luma.total()),
            1.5);
  EXPECT_EQ(load.photo->tags.focal_length_35mm, straight.tags.focal_length_35mm);
  EXPECT_EQ(load.photo->tags.focal_length_mm, straight.tags.focal_length_mm);
  EXPECT_EQ(load.photo->tags.exif_width_px, straight.tags.exif_width_px);
  EXPECT_EQ(load.photo->tags.make, straight.tags.make);
}

}  // namespace
}  // namespace scantling::drawn
