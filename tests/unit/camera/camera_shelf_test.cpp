#include "camera/camera_shelf.h"

#include <gmock/gmock.h>

#include <fstream>

#include "camera/camera_profile_file.h"
#include "photo/orientation.h"
#include "support/temporary_folder.h"
#include "unit/camera/sample_profile.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;

Photo photo_of(const CameraProfile& profile) {
  Photo photo;
  photo.luma = cv::Mat(profile.camera.sensor.height_px, profile.camera.sensor.width_px, CV_8UC1);
  photo.tags.make = profile.camera.make;
  photo.tags.model = profile.camera.model;
  photo.tags.focal_length_mm = profile.camera.focal_length_mm;
  photo.tags.focal_length_35mm = profile.camera.focal_length_35mm;
  photo.tags.exif_width_px = profile.camera.sensor.width_px;
  photo.tags.exif_height_px = profile.camera.sensor.height_px;
  return photo;
}

TEST(SensorFrame, GoesWithThePixelsThroughEveryTurn) {
  // A picture whose pixels say where they are, turned by the code that turns photos.
  cv::Mat stored(5, 7, CV_8UC1);
  for (int y = 0; y < 5; ++y)
    for (int x = 0; x < 7; ++x) stored.at<uchar>(y, x) = static_cast<uchar>(10 * y + x);
  for (int orientation = 1; orientation <= 8; ++orientation) {
    const cv::Mat upright = turned_upright(stored, orientation);
    const SensorFromUpright frame = sensor_from_upright({upright.cols, upright.rows}, orientation);
    EXPECT_EQ(frame.sensor, (PictureSize{7, 5})) << orientation;
    for (int y = 0; y < upright.rows; ++y)
      for (int x = 0; x < upright.cols; ++x) {
        const Point_px place = frame.to_sensor({static_cast<double>(x), static_cast<double>(y)});
        EXPECT_EQ(10 * place.y + place.x, upright.at<uchar>(y, x)) << orientation;
        const Point_px back = frame.to_upright(place);
        EXPECT_EQ(back.x, x);
        EXPECT_EQ(back.y, y);
      }
  }
}

TEST(CameraProfile, GivesAPriorThatTurnsWithThePhoto) {
  const CameraProfile profile = sample_profile();
  const CameraPrior lying = camera_prior(profile, {4000, 3000}, 1);
  EXPECT_EQ(lying.model.focal_px, profile.model.focal_px);
  EXPECT_EQ(lying.model.centre_x_px, profile.model.centre_x_px);
  EXPECT_NEAR(lying.focal_relative_u, 0.01, 0.001);
  EXPECT_LT(lying.centre_u_px, 7);
  EXPECT_NEAR(lying.k1_u, std::hypot(0.002, 0.001), 1e-12);
  EXPECT_NEAR(lying.k1_k2_correlation * lying.k1_u * lying.k2_u, -0.93 * 0.002 * 0.006, 1e-12);
  EXPECT_THAT(lying.source, HasSubstr("profile of Lumenworks L7, made on 2026-11-25"));
  const CameraPrior upright = camera_prior(profile, {3000, 4000}, 6);
  EXPECT_NEAR(upright.model.centre_x_px, 2999 - profile.model.centre_y_px, 1e-9);
  EXPECT_NEAR(upright.model.centre_y_px, profile.model.centre_x_px, 1e-9);
  EXPECT_NEAR(upright.centre_u_px, lying.centre_u_px, 1e-9);
  const CameraPrior head_down = camera_prior(profile, {4000, 3000}, 3);
  EXPECT_NEAR(head_down.model.centre_x_px, 3999 - profile.model.centre_x_px, 1e-9);
  // Upright pixels without a tag: the centre lies on either side of the middle.
  const CameraPrior lost = camera_prior(profile, {3000, 4000}, 1);
  EXPECT_EQ(lost.model.centre_x_px, 1499.5);
  EXPECT_EQ(lost.model.centre_y_px, 1999.5);
  EXPECT_GT(lost.centre_u_px, 10);
}

TEST(CameraShelf, MatchesByCameraZoomAndSize) {
  const CameraProfile profile = sample_profile();
  const Photo taken = photo_of(profile);
  EXPECT_TRUE(match_profile(profile, taken, false).fits);
  Photo photo = taken;
  photo.luma = turned_upright(taken.luma, 6);
  photo.exif_orientation = 6;
  EXPECT_TRUE(match_profile(profile, photo, false).fits);
  photo.exif_orientation = 1;  // turned by a program that forgot to say so
  EXPECT_TRUE(match_profile(profile, photo, false).fits);
  const auto why = [&](auto change) {
    Photo other = taken;
    change(other);
    const ProfileMatch match = match_profile(profile, other, true);
    EXPECT_FALSE(match.fits);
    return match.why;
  };
  EXPECT_THAT(why([](Photo& p) { p.tags.model = "L8"; }), HasSubstr("taken by Lumenworks L8"));
  EXPECT_THAT(why([](Photo& p) { p.tags.make = p.tags.model = ""; }), HasSubstr("original"));
  EXPECT_THAT(why([](Photo& p) { p.tags.focal_length_35mm = 52; }), HasSubstr("zoom"));
  EXPECT_THAT(why([](Photo& p) { p.tags.focal_length_35mm = {}; }), HasSubstr("zoom"));
  EXPECT_THAT(why([](Photo& p) { p.tags.focal_length_mm = 2.2; }), HasSubstr("lens"));
  EXPECT_THAT(why([](Photo& p) { p.luma = p.luma(cv::Rect(0, 0, 3000, 2250)).clone(); }),
              HasSubstr("cropped or resized"));
  EXPECT_THAT(why([](Photo& p) {
                p.luma = p.luma(cv::Rect(0, 0, 2000, 1500)).clone();
                p.tags.exif_width_px = 2000;
                p.tags.exif_height_px = 1500;
              }),
              HasSubstr("2000 x 1500 pixels and the profile's photos 4000 x 3000"));
  EXPECT_THAT(why([](Photo& p) { p.exif_orientation = 2; }), HasSubstr("mirrored"));
}

TEST(CameraShelf, ServesANamelessCameraOnlyWhenTheUserNamesTheProfile) {
  CameraProfile profile = sample_profile();
  profile.camera = {"", "", {}, {}, {640, 480}};
  const Photo photo = photo_of(profile);
  EXPECT_TRUE(match_profile(profile, photo, true).fits);
  EXPECT_FALSE(match_profile(profile, photo, false).fits);
}

TEST(CameraShelf, TakesTheNewestFittingProfileElseWhatExifSays) {
  CameraShelf shelf;
  shelf.profiles = {sample_profile(), sample_profile(), sample_profile()};
  shelf.profiles[1].made_on = "2026-12-01";
  shelf.profiles[1].model.focal_px = 3020;
  shelf.profiles[2].made_on = "2027-01-01";
  shelf.profiles[2].camera.model = "L8";
  Photo photo = photo_of(sample_profile());
  CameraKnowledge known = camera_knowledge(photo, &shelf);
  EXPECT_TRUE(known.from_profile);
  EXPECT_EQ(known.prior.model.focal_px, 3020);
  EXPECT_THAT(known.checks, testing::IsEmpty());

  photo.tags.model = "L9";
  known = camera_knowledge(photo, &shelf);
  EXPECT_FALSE(known.from_profile);
  EXPECT_THAT(known.checks, testing::IsEmpty());
  EXPECT_EQ(known.prior.source, camera_knowledge(photo, nullptr).prior.source);
  shelf.profiles.resize(1);
  shelf.named_by_user = true;
  known = camera_knowledge(photo, &shelf);
  EXPECT_FALSE(known.from_profile);
  ASSERT_EQ(known.checks.size(), 1u);
  EXPECT_EQ(known.checks[0].id, "camera_profile_unfit");
  EXPECT_THAT(known.checks[0].message, HasSubstr("does not fit this photo: it was taken by"));
  photo.tags = {};
  EXPECT_EQ(camera_knowledge(photo, nullptr).checks.at(0).id, "camera_unknown");
}

TEST(CameraShelf, ReadsItsFolderAndNamesWhatItCannotUse) {
  const TemporaryFolder folder;
  EXPECT_TRUE(load_camera_shelf(folder / "none").shelf.profiles.empty());
  EXPECT_TRUE(load_camera_shelf(folder / "none").checks.empty());
  const std::string name = profile_file_name(sample_profile().camera);
  EXPECT_EQ(name, "lumenworks-l7-26mm-4000x3000.json");
  folder.file(name, profile_to_text(sample_profile()));
  folder.file("broken.json", "{");
  folder.file("notes.txt", "not looked at");
  const CameraShelfLoad load = load_camera_shelf(folder / ".");
  EXPECT_EQ(load.shelf.profiles.size(), 1u);
  ASSERT_EQ(load.checks.size(), 1u);
  EXPECT_EQ(load.checks[0].severity, Severity::warn);
  EXPECT_THAT(load.checks[0].message, HasSubstr("broken.json can't be used"));
}

TEST(CameraShelf, MakesFileNamesOfAnyCameraName) {
  EXPECT_EQ(profile_file_name({"", "", {}, {}, {640, 480}}), "camera-640x480.json");
  EXPECT_EQ(profile_file_name({"A/B", "../../x y", {}, {}, {640, 480}}), "a-b-x-y-640x480.json");
  EXPECT_EQ(profile_file_name({"\xc3\xa9", "\xc3\xa9", {}, {}, {640, 480}}), "640x480.json");
}

}  // namespace
}  // namespace scantling
