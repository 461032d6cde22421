#include "planes/plane_photo.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <opencv2/core.hpp>

#include "camera/camera_shelf.h"
#include "unit/camera/sample_profile.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;

/// A blank photo by the profile's camera.
Photo blank() {
  const CameraProfile profile = sample_profile();
  Photo photo;
  photo.luma = cv::Mat(profile.camera.sensor.height_px, profile.camera.sensor.width_px, CV_8UC1,
                       cv::Scalar(120));
  photo.tags.make = profile.camera.make;
  photo.tags.model = profile.camera.model;
  photo.tags.focal_length_mm = profile.camera.focal_length_mm;
  photo.tags.focal_length_35mm = profile.camera.focal_length_35mm;
  photo.tags.exif_width_px = photo.width_px();
  photo.tags.exif_height_px = photo.height_px();
  return photo;
}

TEST(PlanePhoto, TakesTheLensFromAProfileThatFits) {
  CameraShelf shelf;
  shelf.profiles.push_back(sample_profile());
  const PlanePhoto by_profile = sight_pieces(blank(), "a.jpg", &shelf);
  EXPECT_DOUBLE_EQ(by_profile.prior.model.focal_px, sample_profile().model.focal_px);
  EXPECT_LT(by_profile.prior.k1_u, 0.01);
  const PlanePhoto by_tags = sight_pieces(blank(), "a.jpg");
  EXPECT_DOUBLE_EQ(by_tags.prior.focal_relative_u, 0.04);
  EXPECT_EQ(by_profile.camera_key, by_tags.camera_key);
}

TEST(PlanePhoto, SaysWhichPhotoANamedProfileDoesNotFit) {
  CameraShelf shelf;
  shelf.profiles.push_back(sample_profile());
  shelf.named_by_user = true;
  Photo other = blank();
  other.tags.model = "L9";
  const PlanePhoto photo = sight_pieces(other, "b.jpg", &shelf);
  ASSERT_EQ(photo.checks.size(), 1u);
  EXPECT_EQ(photo.checks[0].id, "camera_profile_unfit");
  EXPECT_THAT(photo.checks[0].message, HasSubstr("'b.jpg'"));
}

TEST(PlanePhoto, WidensTheLensOfACroppedPhoto) {
  Photo cropped = blank();
  cropped.luma = cropped.luma(cv::Rect(0, 0, 3000, 2000)).clone();
  const PlanePhoto photo = sight_pieces(cropped, "c.jpg");
  EXPECT_EQ(photo.checks.at(0).id, "photo_cropped");
  EXPECT_GT(photo.prior.centre_u_px, 200);
}

TEST(PlanePhoto, TellsCamerasApart) {
  CameraTags tags;
  tags.model = "L7";
  const std::string key = camera_key_of(tags, 4000, 3000);
  EXPECT_EQ(camera_key_of(tags, 3000, 4000), key) << "held upright";
  EXPECT_NE(camera_key_of(tags, 2000, 1500), key);
  tags.focal_length_mm = 2.2;  // its wide lens
  EXPECT_NE(camera_key_of(tags, 4000, 3000), key);
}

}  // namespace
}  // namespace scantling
