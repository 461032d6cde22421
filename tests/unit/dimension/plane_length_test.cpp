// Lengths measured freely in the card's plane, on a drawn photo whose true places are known.

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "camera/card_pose.h"
#include "dimension/analysis.h"
#include "support/drawn_camera.h"
#include "support/drawn_file.h"
#include "support/drawn_truth.h"

namespace scantling {
namespace {

constexpr double kPrintedScale = 1.012;

drawn::DrawnScene scene() {
  drawn::DrawnScene scene;
  scene.camera.width_px = 1840;
  scene.camera.height_px = 1240;
  scene.camera.focal_px = 2100;
  scene.camera.distance_mm = 260;
  scene.camera.elevation_deg = 9;
  scene.camera.azimuth_deg = -7;
  scene.card.scale_x = scene.card.scale_y = kPrintedScale;
  return scene;
}

Analysis analyse(const SheetScale& scale) {
  static const Photo photo = drawn::as_photo(scene(), drawn::draw(scene()));
  PhotoLoad load;
  load.photo = photo;
  MeasureOptions options;
  options.sheet_scale = scale;
  return Analysis::run(std::move(load), options);
}

const Analysis& checked() {
  static const Analysis analysis = analyse({kPrintedScale, kPrintedScale, 0.002, true, false});
  return analysis;
}

Point_px seen(double x_mm, double y_mm, double z_mm = 0) {
  return drawn::Camera(scene().camera).project({x_mm, y_mm, z_mm});
}

struct Length {
  Point_mm from, to;
};

TEST(PlaneLength, TrueLengthsLieInTheirIntervals) {
  for (const Length& l : {Length{{12, 60}, {112, 60}}, Length{{64, 10}, {64, 70}},
                          Length{{20, 15}, {95, 72}}, Length{{60, 40}, {66, 40}}}) {
    const double truth = std::hypot(l.to.x - l.from.x, l.to.y - l.from.y);
    const auto found =
        checked().length_in_card_plane(seen(l.from.x, l.from.y), seen(l.to.x, l.to.y));
    ASSERT_TRUE(found);
    const Quantity& length = found->length;
    std::printf("%.3f mm: measured %.3f +- %.3f\n", truth, length.value_mm,
                length.expanded_95_mm());
    EXPECT_NEAR(length.value_mm, truth, length.expanded_95_mm());
    EXPECT_NEAR(length.value_mm, truth, 0.004 * truth + 0.03);
    // A hand places each end to a good half of a pixel, of which there are about 8 to a millimetre.
    EXPECT_GT(length.standard_uncertainty_mm, 0.05);
    EXPECT_LT(length.standard_uncertainty_mm, 0.05 + 0.005 * truth + 0.1);
  }
}

TEST(PlaneLength, AnUncheckedPrintMakesItLessSure) {
  const Analysis unchecked = analyse({});
  const Point_px a = seen(12, 60), b = seen(112, 60);
  const auto sure = checked().length_in_card_plane(a, b),
             unsure = unchecked.length_in_card_plane(a, b);
  ASSERT_TRUE(sure && unsure);
  EXPECT_GT(unsure->length.standard_uncertainty_mm, 2 * sure->length.standard_uncertainty_mm);
  EXPECT_EQ(unsure->length.budget.front().source, "print scale of the sheet, unchecked");
  // The print is 1.2 % larger than the unchecked sheet says.
  EXPECT_NEAR(unsure->length.value_mm, 100 / kPrintedScale, 0.2);
  EXPECT_NEAR(unsure->length.value_mm, 100, unsure->length.expanded_95_mm());
}

TEST(PlaneLength, WhatLiesBehindTheCardReadsShortByTheShareItTells) {
  constexpr double kBehind_mm = 10;
  const auto found =
      checked().length_in_card_plane(seen(34, 50, kBehind_mm), seen(94, 50, kBehind_mm));
  ASSERT_TRUE(found);
  const double short_by = 1 - found->length.value_mm / 60;
  EXPECT_NEAR(short_by, kBehind_mm * found->short_per_mm_behind, 0.006);
  EXPECT_GT(short_by, 0.02);
}

TEST(PlaneLength, TheOrderOfTheEndsDoesNotMatter) {
  const Point_px a = seen(20, 15), b = seen(95, 72);
  const auto one = checked().length_in_card_plane(a, b),
             other = checked().length_in_card_plane(b, a);
  ASSERT_TRUE(one && other);
  EXPECT_DOUBLE_EQ(one->length.value_mm, other->length.value_mm);
  EXPECT_NEAR(one->length.standard_uncertainty_mm, other->length.standard_uncertainty_mm, 1e-9);
}

TEST(PlaneLength, WithoutACardThereIsNoLength) {
  PhotoLoad load;
  load.photo = Photo{};
  load.photo->luma = cv::Mat(600, 800, CV_8UC1, cv::Scalar(120));
  const Analysis nothing = Analysis::run(std::move(load), {});
  EXPECT_FALSE(nothing.length_in_card_plane({10, 10}, {300, 300}));
  EXPECT_EQ(nothing.card_pose(), nullptr);
}

TEST(PlaneLength, APlaceBeyondThePlanesHorizonHasNoLength) {
  const CardPose* pose = checked().card_pose();
  ASSERT_TRUE(pose);
  // The card is seen nearly from the front: its plane's horizon lies tens of picture heights away.
  EXPECT_FALSE(checked().length_in_card_plane({900, 600}, {900, -200000}));
  EXPECT_GT(pose->ahead_mm({64, 45, 0}), 200);
  EXPECT_LT(pose->ahead_mm({64, 45, -1000}), 0);
}

}  // namespace
}  // namespace scantling
