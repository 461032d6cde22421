// Profiles kept with a record's cameras.

#include "report/record_cameras.h"

#include <gmock/gmock.h>

#include "camera/camera_profile_file.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

CameraProfile profile_with(double focal_px) {
  CameraProfile profile;
  profile.camera = {"Fable", "F-5", 5.4, 26.0, {4000, 3000}};
  profile.model = {focal_px, 2004, 1489, -0.08, 0.04};
  profile.covariance.diagonal() << 16, 6, 9, 4e-6, 3.6e-5;
  profile.residual_px = 0.1;
  profile.photos = 12;
  profile.corners = 1500;
  profile.distance_mm = 300;
  profile.coverage = {0.9, 30, 30, 30, 30};
  profile.made_on = "2026-05-16";
  return profile;
}

TEST(RecordCameras, TheNewestKeptProfileOfACameraCounts) {
  const TemporaryFolder folder;
  Record record(folder / "record.sqlite");
  EXPECT_THAT(recorded_cameras(record).shelf.profiles, IsEmpty());
  keep_in_record(record, profile_with(3010));
  keep_in_record(record, profile_with(3016));
  const CameraShelfLoad load = recorded_cameras(record);
  EXPECT_THAT(load.checks, IsEmpty());
  ASSERT_THAT(load.shelf.profiles, SizeIs(1));
  EXPECT_EQ(load.shelf.profiles[0].model.focal_px, 3016);
  EXPECT_EQ(load.shelf.profiles[0].camera.model, "F-5");
  EXPECT_FALSE(load.shelf.named_by_user) << "it serves only photos that name the same camera";
}

TEST(RecordCameras, OneThatCannotBeReadIsLeftOutAndTold) {
  const TemporaryFolder folder;
  Record record(folder / "record.sqlite");
  record.keep_camera({0, "Fable", "F-4", R"({"focal_px": 3000})"});
  record.keep_camera({0, "Fable", "F-6", ""});
  keep_in_record(record, profile_with(3016));
  const CameraShelfLoad load = recorded_cameras(record);
  EXPECT_THAT(load.shelf.profiles, SizeIs(1));
  ASSERT_THAT(load.checks, SizeIs(1));
  EXPECT_EQ(load.checks[0].severity, Severity::warn);
  EXPECT_THAT(load.checks[0].message, HasSubstr("F-4"));
}

}  // namespace
}  // namespace scantling
