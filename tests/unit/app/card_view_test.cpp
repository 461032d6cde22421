#include "app/card_view.h"

#include <gtest/gtest.h>

#include <cmath>

namespace scantling {
namespace {

constexpr ScreenRect kLeft{0, 60, 500, 600};
constexpr ScreenRect kRight{503, 60, 500, 600};

/// 200 mm before the card's middle, a little to one side; 2000 px focal length.
CardPose pose(double turn = 0.08, double nearer_mm = 0) {
  CardPose::Vector p = CardPose::Vector::Zero();
  p << turn, -0.06, 0.3 * turn, -62, -43, 200 - nearer_mm, 2000, 2000, 1500, -0.1, 0, 0, 0;
  return CardPose(p);
}

TEST(CardView, ShowsARectangleWholeInTheMiddleOfThePane) {
  CardView view;
  view.show({20, 10}, {120, 60}, kLeft);
  EXPECT_DOUBLE_EQ(view.scale(), 5);
  EXPECT_NEAR(view.to_screen({20, 35}, kLeft).x, 0, 1e-9);
  EXPECT_NEAR(view.to_screen({120, 35}, kLeft).x, 500, 1e-9);
  EXPECT_NEAR(view.to_screen({70, 35}, kLeft).y, 360, 1e-9);
}

TEST(CardView, TheSameMillimetreLiesAtTheSamePlaceOfBothPanes) {
  CardView view;
  view.show({20, 10}, {120, 60}, kLeft);
  view.zoom_about({100, 200}, 2.3, kLeft);
  view.pan_by(17, -40);
  const Point_mm place{71.3, 22.9};
  const ScreenPoint left = view.to_screen(place, kLeft), right = view.to_screen(place, kRight);
  EXPECT_NEAR(right.x - kRight.x, left.x - kLeft.x, 1e-9);
  EXPECT_NEAR(right.y, left.y, 1e-9);
  // Two photos of other poses: each shows the place there.
  for (const CardPose& photo : {pose(), pose(-0.15, 60)}) {
    const auto seen = through_card(photo, view, kRight, photo.project({place.x, place.y, 0}));
    ASSERT_TRUE(seen);
    EXPECT_NEAR(seen->x, right.x, 1e-6);
    EXPECT_NEAR(seen->y, right.y, 1e-6);
  }
}

TEST(CardView, ZoomAndPanKeepWhatIsHeld) {
  CardView view;
  const ScreenPoint anchor{111, 222};
  const Point_mm held = view.to_card(anchor, kLeft);
  view.zoom_about(anchor, 3, kLeft);
  EXPECT_NEAR(view.to_card(anchor, kLeft).x, held.x, 1e-9);
  EXPECT_NEAR(view.to_card(anchor, kLeft).y, held.y, 1e-9);
  view.pan_by(30, -12);
  EXPECT_NEAR(view.to_card({anchor.x + 30, anchor.y - 12}, kLeft).x, held.x, 1e-9);
  view.zoom_about(anchor, 1e9, kLeft);
  EXPECT_DOUBLE_EQ(view.scale(), CardView::kLargest);
  view.pan_by(1e7, 1e7);
  view.keep_near({64, 45}, 150);
  EXPECT_DOUBLE_EQ(view.centre().x, 64 - 150);
}

TEST(CardView, BeyondThePlanesHorizonNothingIsShown) {
  // Looking along a lying card: the upper part of the photo shows what is beyond its horizon.
  CardPose::Vector p = CardPose::Vector::Zero();
  p << 1.2, 0, 0, -64, 0, 220, 2000, 2000, 1500, 0, 0, 0, 0;
  const CardPose lying(p);
  const CardView view;
  const Point_px on_card = lying.project({64, 45, 0});
  EXPECT_TRUE(through_card(lying, view, kLeft, on_card));
  int hidden = 0, shown = 0;
  for (double y = -3000; y < 6000; y += 50)
    through_card(lying, view, kLeft, {on_card.x, y}) ? ++shown : ++hidden;
  EXPECT_GT(hidden, 20);
  EXPECT_GT(shown, 5);
}

TEST(CardView, OnlyThePatchInSightIsAskedFor) {
  CardView view;
  view.show({54, 35}, {74, 55}, kLeft);
  const CardPose photo = pose();
  const PhotoPatch patch = patch_in_sight(photo, view, kLeft);
  for (const Point_mm place : {Point_mm{54, 35}, Point_mm{74, 55}, Point_mm{64, 45}}) {
    const Point_px p = photo.project({place.x, place.y, 0});
    EXPECT_GE(p.x, patch.from.x - 1e-6);
    EXPECT_LE(p.x, patch.to.x + 1e-6);
    EXPECT_GE(p.y, patch.from.y - 1e-6);
    EXPECT_LE(p.y, patch.to.y + 1e-6);
  }
  EXPECT_LT(patch.to.x - patch.from.x, 320);  // 20 mm at 10 px/mm, in perspective
  EXPECT_NEAR(photo_zoom(photo, view), view.scale() / 10, 0.2 * view.scale() / 10);
}

}  // namespace
}  // namespace scantling
