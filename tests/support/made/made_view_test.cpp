// The truth of the disc, faces and pile views, held against plain geometry.

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>

#include "made_placement.h"
#include "made_truth.h"

namespace scantling::made {
namespace {

using Json = nlohmann::ordered_json;

Scene scene_of(const std::string& view) {
  Scene scene;
  scene.name = view;
  scene.view = view;
  scene.photo.k1 = 0.03;
  scene.card.scale_x = 1.004;
  scene.card.scale_y = 0.998;
  scene.camera.from_mm = {0, 0, 0};
  scene.camera.look_mm = {0, -10, 0};
  scene.camera.elevation_deg = 30;
  scene.camera.distance_mm = 200;
  return scene;
}

struct Pose {
  Eigen::Matrix3d r;
  Vec3 t;
};

Pose pose_of(const Json& card) {
  Pose pose;
  for (int i = 0; i < 3; ++i) {
    for (int j = 0; j < 3; ++j)
      pose.r(i, j) =
          card["camera_from_card_rotation"][static_cast<size_t>(i)][static_cast<size_t>(j)];
    pose.t[i] = card["camera_from_card_translation_mm"][static_cast<size_t>(i)];
  }
  return pose;
}

/// Where the ray through a photo position meets the plane z in a card's frame.
Vec3 on_plane(const Scene& scene, const Pose& pose, const Json& px, double z) {
  const Vec2 u = Camera(scene).undistorted({px[0].get<double>(), px[1].get<double>()});
  const Vec3 ray = pose.r.transpose() * Vec3(u.x(), u.y(), 1);
  const Vec3 eye = -pose.r.transpose() * pose.t;
  return eye + (z - eye.z()) / ray.z() * ray;
}

TEST(MadeViews, LipHeightFollowsFromTheLinesAndThePose) {
  for (const bool inboard : {false, true}) {
    Scene scene = scene_of("lip");
    scene.disc.inboard_up = inboard;
    scene.disc.lip_outboard_mm = 0.9;
    scene.disc.lip_inboard_mm = 0.7;
    scene.disc.card_yaw_deg = 3;
    scene.disc.card_aside_mm = 2;
    scene.camera.azimuth_deg = 12;
    const Json truth = truth_of(scene);
    const Pose pose = pose_of(truth["cards"][0]);
    constexpr double kTrack_mm = 0.25;  // below the printed face
    const Vec3 axis(truth["axis_on_card_mm"][0], truth["axis_on_card_mm"][1],
                    truth["axis_on_card_mm"][2]);
    EXPECT_NEAR(axis.z(), kTrack_mm, 1e-5);
    const double height = inboard ? 0.7 : 0.9;
    for (const Json& px : truth["edges_px"]["wall_foot"]["nominal"]) {
      const Vec3 foot = on_plane(scene, pose, px, kTrack_mm);
      EXPECT_NEAR((foot - axis).norm(), wall_foot_radius_mm(scene.disc), 0.002);
    }
    for (const Json& px : truth["edges_px"]["wall_top"]["nominal"]) {
      const Vec3 top = on_plane(scene, pose, px, kTrack_mm - height);
      EXPECT_NEAR(std::hypot(top.x() - axis.x(), top.y() - axis.y()),
                  wall_top_radius_mm(scene.disc), 0.002);
    }
    EXPECT_NEAR(truth["lip_height_mm"], height, 1e-9);
  }
}

TEST(MadeViews, RimThicknessIsTheDistanceOfTheFacesLines) {
  Scene scene = scene_of("rim");
  scene.camera.elevation_deg = 4;
  scene.disc.offset_mm = 0.4;
  const Json truth = truth_of(scene);
  const Pose pose = pose_of(truth["cards"][0]);
  const auto middle = [&](const char* face) {
    const Json& line = truth["edges_px"][face]["nominal"];
    return on_plane(scene, pose, line[line.size() / 2], 0.4);
  };
  EXPECT_NEAR(middle("face_b").y() - middle("face_a").y(), scene.disc.rim_thickness_mm, 0.002);
  EXPECT_NEAR(middle("face_a").x(), 64 * 1.004, 0.01);
}

/// One card's pose in another's frame.
Pose seen_from(const Pose& base, const Pose& other) {
  return {base.r.transpose() * other.r, base.r.transpose() * (other.t - base.t)};
}

TEST(MadeViews, TheCardsOnBothFacesStandTheWornThicknessApart) {
  Scene scene = scene_of("faces");
  scene.disc.yaw_deg = 3;
  scene.disc.lean_deg = 1;
  scene.disc.card_turn_deg = 4;
  const Json truth = truth_of(scene);
  const Pose ground = pose_of(truth["cards"][0]);
  const Pose a = seen_from(ground, pose_of(truth["cards"][1]));
  const Pose b = seen_from(ground, pose_of(truth["cards"][2]));
  EXPECT_NEAR(a.r.col(2).dot(b.r.col(2)), -1, 1e-7);
  constexpr double kCards_mm = 2 * 0.25;
  EXPECT_NEAR(a.r.col(2).dot(b.t - a.t) - kCards_mm, truth["worn_thickness_mm"], 1e-4);
}

TEST(MadeViews, TheCardOnThePadLiesAtItsOverallThickness) {
  Scene scene = scene_of("pile");
  scene.part.friction.taper_per_mm = -0.03;
  scene.pile.pad_yaw_deg = 7;
  scene.pile.card_yaw_deg = 5;
  const Json truth = truth_of(scene);
  const Pose ground = pose_of(truth["cards"][0]);
  const Pose card = seen_from(ground, pose_of(truth["cards"][1]));
  const Vec3 middle = card.r * Vec3(20 * 1.004, 12.5 * 0.998, 0.25) + card.t;
  EXPECT_NEAR(-middle.z(), truth["overall_thickness_mm"], 1e-3);
  EXPECT_NEAR(std::acos(card.r(2, 2)), std::atan(0.03), 1e-5);
}

TEST(MadeViews, CornersBehindThePartAreNotSaidToBeSeen) {
  Scene scene = scene_of("faces");
  scene.camera.azimuth_deg = 90;
  scene.camera.distance_mm = 330;
  const Json truth = truth_of(scene);
  const auto seen = [&](size_t card) { return truth["cards"][card]["corners_px"].size(); };
  EXPECT_GT(seen(0), 40u);
  EXPECT_LT(seen(0), 120u);  // the disc hides the sheet's other half
  EXPECT_EQ(seen(1), 28u);
  EXPECT_EQ(seen(2), 0u);
}

}  // namespace
}  // namespace scantling::made
