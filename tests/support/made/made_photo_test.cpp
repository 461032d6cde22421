#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <exiv2/exiv2.hpp>
#include <filesystem>
#include <fstream>

#include "made_camera.h"
#include "made_develop.h"
#include "made_mesh.h"
#include "made_truth.h"

namespace scantling::made {
namespace {

Scene oblique_scene() {
  Scene scene;
  scene.name = "oblique";
  scene.photo.k1 = -0.09;
  scene.photo.k2 = 0.03;
  scene.photo.cx_offset_px = 11;
  scene.camera.elevation_deg = 9;
  scene.camera.azimuth_deg = -12;
  scene.camera.roll_deg = 7;
  scene.part.offset_mm = 0.3;
  scene.part.friction.taper_per_mm = -0.03;
  return scene;
}

Vec2 px(const nlohmann::ordered_json& point) {
  return {point[0].get<double>(), point[1].get<double>()};
}

/// Where the ray through a photo position meets the plane at z behind the card, card frame.
Vec3 on_plane(const nlohmann::ordered_json& truth, const Scene& scene, const Vec2& at, double z) {
  const Camera camera(scene);
  const Vec2 u = camera.undistorted(at);
  Eigen::Matrix3d r;
  Vec3 t;
  for (int i = 0; i < 3; ++i) {
    for (int j = 0; j < 3; ++j) {
      r(i, j) = truth["pose"]["camera_from_card_rotation"][static_cast<size_t>(i)]
                     [static_cast<size_t>(j)];
    }
    t[i] = truth["pose"]["camera_from_card_translation_mm"][static_cast<size_t>(i)];
  }
  const Vec3 ray = r.transpose() * Vec3(u.x(), u.y(), 1);
  const Vec3 eye = -r.transpose() * t;
  return eye + (z - eye.z()) / ray.z() * ray;
}

TEST(MadeCamera, UndistortedTakesBackTheLens) {
  for (const double k1 : {-0.1, 0.0, 0.1}) {
    Scene scene = oblique_scene();
    scene.photo.k1 = k1;
    const Camera camera(scene);
    for (const Vec3& point : {Vec3(0, 0, 0), Vec3(128, 0, 0), Vec3(64, 78, 10), Vec3(-60, 90, 5)}) {
      const Vec3 seen = camera.camera_from_world() * (point - camera.position_mm());
      const Vec2 back = camera.undistorted(camera.project(point));
      EXPECT_NEAR(back.x(), seen.x() / seen.z(), 1e-11);
      EXPECT_NEAR(back.y(), seen.y() / seen.z(), 1e-11);
    }
  }
}

TEST(MadeCard, IsSeenFromItsPrintedFace) {
  Scene scene = oblique_scene();
  scene.camera.roll_deg = 0;
  const Camera camera(scene);
  const CardPlace card(scene);
  EXPECT_LT(camera.project(card.world(8, 8)).x(), camera.project(card.world(120, 8)).x());
  EXPECT_LT(camera.project(card.world(8, 8)).y(), camera.project(card.world(8, 72)).y());
  scene.card.mirrored = true;
  const CardPlace mirrored(scene);
  EXPECT_GT(camera.project(mirrored.world(8, 8)).x(), camera.project(mirrored.world(120, 8)).x());
}

TEST(MadeCard, CurlingAndLeaningKeepLengthsOnThePaper) {
  Scene scene;
  scene.card.curl_mm = 3;
  scene.card.lean_deg = 2;
  const CardPlace card(scene);
  double length = 0;
  for (int i = 0; i < 1400; ++i) {
    length += (card.world(-6 + 0.1 * (i + 1), 20) - card.world(-6 + 0.1 * i, 20)).norm();
  }
  EXPECT_NEAR(length, 140, 1e-4);
  const double straight = (card.world(134, 20) - card.world(-6, 20)).norm();
  EXPECT_NEAR(straight, 140 - 8 * 3 * 3 / (3 * 140.0), 0.02);  // sagitta 3 mm of a 140 mm arc
  EXPECT_NEAR((card.world(20, -6) - card.world(20, 78)).norm(), 84, 1e-9);
}

TEST(MadePad, FillsExactlyTheSizesOfItsScene) {
  Scene scene;
  scene.part.friction.crumbs = 5;
  scene.part.friction.ragged_mm = 0.08;
  const auto mesh = pad_mesh(scene);
  const auto height = [](const Mesh& m, bool highest) {
    const auto by_y = [](const Vec3& a, const Vec3& b) { return a.y() < b.y(); };
    return 78 - (highest ? std::min_element(m.points.begin(), m.points.end(), by_y)
                         : std::max_element(m.points.begin(), m.points.end(), by_y))
                    ->y();
  };
  const auto front = [](const Mesh& m) {
    return std::min_element(m.points.begin(), m.points.end(),
                            [](const Vec3& a, const Vec3& b) { return a.z() < b.z(); })
        ->z();
  };
  EXPECT_NEAR(height(mesh.plate, false), 0, 1e-9);
  EXPECT_NEAR(height(mesh.plate, true), scene.part.plate.thickness_mm, 1e-9);
  EXPECT_NEAR(height(mesh.friction, true), 5.5 + 6, 1e-9);
  EXPECT_NEAR(front(mesh.plate), scene.part.offset_mm, 1e-9);
  EXPECT_NEAR(front(mesh.friction), scene.part.friction.setback_mm, 1e-9);
}

/// The lines of the truth, taken back through lens and pose, must give the sizes of the truth.
TEST(MadeTruth, LinesAndPoseGiveTheThicknessBack) {
  for (const char* pose : {"lying", "friction_down", "standing_left", "standing_right"}) {
    Scene scene = oblique_scene();
    scene.part.pose = pose;
    scene.card.lean_deg = 0;
    if (std::string(pose) != "lying") scene.part.friction.taper_per_mm = 0;
    const auto truth = truth_of(scene);
    const double z = scene.part.offset_mm;
    const auto& edges = truth["edges_px"];
    const PadShape shape(scene);
    for (const size_t i : {size_t{0}, size_t{12}, size_t{24}}) {
      const Vec3 outer = on_plane(truth, scene, px(edges["plate_outer"]["nominal"][i]), z);
      const Vec3 middle = on_plane(truth, scene, px(edges["plate_friction"]["nominal"][i]), z);
      const Vec3 top = on_plane(truth, scene, px(edges["friction_outer"]["nominal"][i]), z);
      const double u = shape.u_of(outer);
      EXPECT_NEAR((middle - outer).norm(), shape.plate_mm(), 2e-4) << pose;
      EXPECT_NEAR((top - middle).norm(), shape.friction_mm(u), 2e-4) << pose;
    }
  }
}

TEST(MadePhoto, IsTurnedSoThatItsOrientationShowsItUpright) {
  for (const int orientation : {1, 3, 6, 8}) {
    Scene scene;
    scene.photo.orientation = orientation;
    cv::Mat upright = cv::Mat::zeros(48, 80, CV_8UC3);
    const auto file = std::filesystem::temp_directory_path() /
                      ("made_photo_test_" + std::to_string(orientation) + ".jpg");
    write_photo(scene, upright, file);
    auto image = Exiv2::ImageFactory::open(file.string());
    image->readMetadata();
    const bool turned = orientation == 6 || orientation == 8;
    EXPECT_EQ(image->pixelWidth(), turned ? 48 : 80);
    EXPECT_EQ(image->exifData()["Exif.Image.Orientation"].toLong(), orientation);
    EXPECT_EQ(image->exifData()["Exif.Photo.PixelXDimension"].toLong(), turned ? 48 : 80);
    EXPECT_NE(image->exifData()["Exif.Image.Software"].toString().find("not a photograph"),
              std::string::npos);
    std::filesystem::remove(file);
  }
}

TEST(MadeFocus, WhatIsInFocusStaysAndDoesNotBleedIntoTheBackground) {
  cv::Mat light(60, 120, CV_32FC3, cv::Scalar(0.2, 0.2, 0.2));
  cv::Mat depth(60, 120, CV_32F, cv::Scalar(900));
  light(cv::Rect(0, 0, 60, 60)).setTo(cv::Scalar(0.8, 0.8, 0.8));
  depth(cv::Rect(0, 0, 60, 60)).setTo(cv::Scalar(300));
  const cv::Mat photo = out_of_focus(light, depth, 9000, 300);
  EXPECT_NEAR(photo.at<cv::Vec3f>(30, 59)[1], 0.8, 1e-5);
  EXPECT_NEAR(photo.at<cv::Vec3f>(30, 60)[1], 0.2, 1e-5);
}

TEST(MadeFocus, EvenLightStaysEvenAtEveryDistance) {
  cv::Mat light(60, 400, CV_32FC3, cv::Scalar(0.4, 0.4, 0.4));
  cv::Mat depth(60, 400, CV_32F);
  for (int x = 0; x < 400; ++x) depth.col(x).setTo(150.0f + static_cast<float>(x));
  const cv::Mat photo = out_of_focus(light, depth, 9000, 300);
  double low = 0, high = 0;
  cv::minMaxLoc(photo.reshape(1), &low, &high);
  EXPECT_NEAR(low, 0.4, 1e-4);
  EXPECT_NEAR(high, 0.4, 1e-4);
}

TEST(MadeScene, RefusesANameItDoesNotKnow) {
  const auto file = std::filesystem::temp_directory_path() / "made_scene_test.json";
  std::ofstream(file) << R"({"part": {"plate": {"thicknes_mm": 5}}})";
  EXPECT_THROW(read_scene(file), std::runtime_error);
  std::ofstream(file) << R"({"part": {"plate": {"thickness_mm": 5.25}}})";
  EXPECT_DOUBLE_EQ(read_scene(file).part.plate.thickness_mm, 5.25);
  std::filesystem::remove(file);
}

}  // namespace
}  // namespace scantling::made
