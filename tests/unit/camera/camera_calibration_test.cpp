#include "camera/camera_calibration.h"

#include <gmock/gmock.h>

#include <cstdio>

#include "camera/camera_profile_file.h"
#include "unit/camera/sheet_sightings.h"

namespace scantling {
namespace {

using ::testing::AllOf;
using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

CalibrationProgress calibrate(const std::vector<CalibrationPhoto>& photos) {
  CameraCalibration calibration("2026-11-25");
  for (const CalibrationPhoto& photo : photos) calibration.add(photo);
  return calibration.progress();
}

std::vector<CalibrationPhoto> photos_of(const MadeSheetCamera& camera,
                                        const std::vector<MadeView>& views, unsigned seed) {
  std::mt19937 random(seed);
  std::vector<CalibrationPhoto> photos;
  for (const MadeView& view : views)
    photos.push_back(
        made_photo(camera, view, random, "photo " + std::to_string(photos.size() + 1)));
  return photos;
}

// The standard deviations that are stated must be those that the errors have.
TEST(CameraCalibration, FindsKnownCamerasWithinItsStandardDeviations) {
  constexpr int kSeeds = 60;
  double square[5] = {}, u_mean[5] = {}, residual = 0;
  for (unsigned seed = 1; seed <= kSeeds; ++seed) {
    std::mt19937 random(1000 + seed);
    std::normal_distribution<double> normal;
    MadeSheetCamera camera;
    camera.model.focal_px *= 1 + 0.03 * normal(random);
    camera.model.centre_x_px += 15 * normal(random);
    camera.model.centre_y_px += 15 * normal(random);
    camera.model.k1 += 0.05 * normal(random);
    camera.model.k2 += 0.03 * normal(random);
    camera.aspect = 0.01 * normal(random);
    camera.curl_mm = 0.2 * normal(random);
    std::vector<MadeView> views = good_views();
    for (MadeView& view : views) {
      view.left_deg += 3 * normal(random);
      view.far_deg += 3 * normal(random);
      view.distance_mm *= 1 + 0.03 * normal(random);
    }
    const CalibrationProgress progress = calibrate(photos_of(camera, views, seed));
    ASSERT_TRUE(progress.profile);
    ASSERT_EQ(progress.used, 12);
    const CameraProfile& p = *progress.profile;
    const auto u = p.standard_deviations();
    const double truth[5] = {camera.model.focal_px, camera.model.centre_x_px,
                             camera.model.centre_y_px, camera.model.k1, camera.model.k2};
    for (int k = 0; k < 5; ++k) {
      square[k] += std::pow((p.parameters()[k] - truth[k]) / u[k], 2) / kSeeds;
      u_mean[k] += u[k] / kSeeds;
    }
    residual += p.residual_px / kSeeds;
  }
  std::printf("rms error over stated standard deviation, and that (mean of %d seeds):\n", kSeeds);
  const char* names[5] = {"focal length", "centre x", "centre y", "k1", "k2"};
  double all = 0;
  for (int k = 0; k < 5; ++k) {
    std::printf("  %-12s %.2f   %.5f\n", names[k], std::sqrt(square[k]), u_mean[k]);
    all += square[k] / 5;
    // 60 seeds know an rms to 9 %.
    EXPECT_GT(std::sqrt(square[k]), 0.75) << names[k];
    EXPECT_LT(std::sqrt(square[k]), 1.25) << names[k];
  }
  std::printf("  all five     %.2f\nresidual %.3f px of 0.100\n", std::sqrt(all), residual);
  EXPECT_GT(std::sqrt(all), 0.9);
  EXPECT_LT(std::sqrt(all), 1.1);
  EXPECT_NEAR(residual, 0.1, 0.005);
}

TEST(CameraCalibration, AcceptsGoodPhotosAndItsProfileCanBeKept) {
  const CalibrationProgress progress = calibrate(photos_of({}, good_views(), 1));
  EXPECT_THAT(progress.missing, IsEmpty());
  EXPECT_TRUE(progress.accepted);
  EXPECT_THAT(progress.checks, IsEmpty());
  ASSERT_TRUE(progress.profile);
  EXPECT_EQ(progress.profile->photos, 12);
  EXPECT_EQ(progress.profile->made_on, "2026-11-25");
  EXPECT_GT(progress.profile->coverage.picture_share, 0.8);
  EXPECT_NEAR(progress.profile->distance_mm, 252, 15);
  const CameraProfileLoad back = profile_from_text(profile_to_text(*progress.profile), "p");
  ASSERT_TRUE(back.profile) << back.checks.at(0).message;
  EXPECT_EQ(back.profile->parameters(), progress.profile->parameters());
}

TEST(CameraCalibration, GivesTheSameCameraHoweverThePhoneWasHeld) {
  std::mt19937 random(5), again(5);
  std::vector<CalibrationPhoto> plain, turned;
  const int orientations[] = {1, 6, 3, 8};
  const std::vector<MadeView> views = good_views();
  for (std::size_t i = 0; i < views.size(); ++i) {
    plain.push_back(made_photo({}, views[i], random, "p"));
    turned.push_back(made_photo({}, views[i], again, "p", orientations[i % 4]));
  }
  const CalibrationProgress a = calibrate(plain), b = calibrate(turned);
  ASSERT_TRUE(a.profile && b.profile);
  EXPECT_EQ(b.used, 12);
  EXPECT_LT((a.profile->parameters() - b.profile->parameters()).cwiseAbs().maxCoeff(), 1e-4);
}

TEST(CameraCalibration, SaysWhatIsMissing) {
  EXPECT_THAT(calibrate({}).missing, Contains(HasSubstr("8 or more photos")));
  const auto missing = [](const std::vector<MadeView>& views) {
    const CalibrationProgress progress = calibrate(photos_of({}, views, 3));
    EXPECT_FALSE(progress.accepted);
    return progress.missing;
  };
  std::vector<MadeView> views = good_views();
  views.resize(7);
  EXPECT_THAT(missing(views), Contains("One more photo is wanted."));

  views = good_views();
  for (MadeView& view : views)
    if (view.roll_deg < 45 && view.left_deg > 0) view.left_deg = -view.left_deg;
  for (MadeView& view : views)
    if (std::abs(view.roll_deg) > 45) view = {-20, 8, 2, 400};
  EXPECT_THAT(missing(views), Contains(HasSubstr("from further to the left")));
  EXPECT_THAT(missing(views), testing::Not(Contains(HasSubstr("from further to the right"))));

  views = good_views();
  for (MadeView& view : views) view.far_deg = -std::abs(view.far_deg) - 5, view.roll_deg = 0;
  EXPECT_THAT(missing(views), Contains(HasSubstr("phone turned upside down")));

  // The sheet far away and in the left half: nothing near the right edge.
  views = good_views();
  for (MadeView& view : views) view.distance_mm = 500, view.aim_x_mm = 110, view.roll_deg = 0;
  EXPECT_THAT(missing(views), Contains(HasSubstr("near the right edge of the picture")));

  views.assign(10, MadeView{});
  for (std::size_t i = 0; i < views.size(); ++i)
    views[i].distance_mm = 330 + 10.0 * static_cast<double>(i);
  EXPECT_THAT(missing(views), Contains(HasSubstr("The focal length is still unsure by")));
}

TEST(CameraCalibration, LeavesOutByNameWhatDoesNotBelong) {
  std::mt19937 random(9);
  std::vector<CalibrationPhoto> photos = photos_of({}, good_views(), 9);
  const auto add = [&](const MadeSheetCamera& camera, const char* name) {
    photos.push_back(made_photo(camera, {12, 6, 0, 360}, random, name));
    return photos.end() - 1;
  };
  MadeSheetCamera other;
  other.identity.model = "L8";
  add(other, "other phone");
  other = {};
  other.identity.sensor = {2000, 1500};
  other.model = {1510, 1005, 743, -0.07, 0.035};
  add(other, "other size");
  other = {};
  other.identity.focal_length_35mm = 52;
  add(other, "other zoom");
  add({}, "blurred")->blur_px = 5;
  other = {};
  other.curl_mm = 6;
  add(other, "moved");
  photos.push_back(photos[0]);
  photos.back().name = "double";
  add({}, "unreadable")->unusable = "It can't be read.";
  add({}, "empty")->sighting.reset();
  const CalibrationProgress progress = calibrate(photos);
  EXPECT_TRUE(progress.accepted);
  EXPECT_EQ(progress.used, 12);
  const std::pair<const char*, const char*> expected[] = {
      {"other phone", "taken by Lumenworks L8"},
      {"other size", "2000 x 1500 pixels"},
      {"other zoom", "another lens or zoom"},
      {"blurred", "It is blurred"},
      {"moved", "It disagrees with the other photos"},
      {"double", "It is the same photo as photo 1"},
      {"unreadable", "It can't be read"},
      {"empty", "Too little of the sheet"}};
  for (std::size_t i = 0; i < std::size(expected); ++i) {
    const CalibrationPhotoState& state = progress.photos[12 + i];
    EXPECT_EQ(state.name, expected[i].first);
    EXPECT_FALSE(state.used) << state.name;
    EXPECT_THAT(state.why, HasSubstr(expected[i].second)) << state.name;
  }
}

TEST(CameraCalibration, TellsALensThatItsModelDoesNotCover) {
  const MadeSheetCamera plain;
  MadeSheetCamera strong;
  strong.decentred_px = 5;
  const CalibrationProgress good = calibrate(photos_of(plain, good_views(), 4));
  const CalibrationProgress odd = calibrate(photos_of(strong, good_views(), 4));
  ASSERT_TRUE(good.profile && odd.profile);
  std::printf("centre x known to %.2f px with the plain lens, %.2f px with the odd one (%.3f px)\n",
              good.profile->standard_deviations()[1], odd.profile->standard_deviations()[1],
              odd.profile->residual_px);
  EXPECT_THAT(good.checks, IsEmpty());
  ASSERT_EQ(odd.checks.size(), 1u);
  EXPECT_EQ(odd.checks[0].id, "lens_pattern");
  EXPECT_THAT(odd.checks[0].message, AllOf(HasSubstr("px near the picture's"), HasSubstr("lens")));
  EXPECT_GT(odd.profile->standard_deviations()[1], 1.5 * good.profile->standard_deviations()[1]);
}

TEST(CameraCalibration, FollowsPhotosAsTheyComeAndGo) {
  const std::vector<CalibrationPhoto> photos = photos_of({}, good_views(), 2);
  CameraCalibration calibration("2026-11-25");
  double share = 0;
  for (std::size_t i = 0; i < photos.size(); ++i) {
    calibration.add(photos[i]);
    const CalibrationProgress& progress = calibration.progress();
    EXPECT_EQ(progress.used, static_cast<int>(i) + 1);
    EXPECT_EQ(progress.profile.has_value(), i >= 2);
    EXPECT_GE(progress.coverage.picture_share, share);
    share = progress.coverage.picture_share;
  }
  EXPECT_TRUE(calibration.progress().accepted);
  for (int i = 0; i < 5; ++i) calibration.remove(0);
  EXPECT_EQ(calibration.size(), 7u);
  EXPECT_FALSE(calibration.progress().accepted);
  calibration.clear();
  EXPECT_EQ(calibration.progress().used, 0);
}

}  // namespace
}  // namespace scantling
