#include "app/scene_view.h"

#include <gtest/gtest.h>

#include <cmath>

namespace scantling {
namespace {

constexpr ScreenRect kArea{100, 50, 800, 600};
const ScreenPoint kMiddle = kArea.middle();

/// As one stands at the sheet's lower edge and looks over it.
SceneView straight() {
  SceneView view;
  view.turn(view.turned_deg(), -view.elevation_deg());
  view.look_at({10, 20, -30}, 200);
  return view;
}

TEST(SceneView, ShowsItsMiddleInTheMiddleHoweverItIsTurned) {
  SceneView view = straight();
  for (int i = 0; i < 7; ++i) {
    const ScreenPoint at = view.seen({10, 20, -30}, kArea).at;
    EXPECT_NEAR(at.x, kMiddle.x, 1e-9);
    EXPECT_NEAR(at.y, kMiddle.y, 1e-9);
    view.turn(57, 11);
    view.zoom_by(1.2);
  }
}

TEST(SceneView, StandsTheSheetsUpWaysUp) {
  const SceneView view = straight();
  EXPECT_GT(view.seen({60, 20, -30}, kArea).at.x, kMiddle.x) << "x runs right";
  EXPECT_LT(view.seen({10, 20, -80}, kArea).at.y, kMiddle.y) << "what stands on it is higher";
  EXPECT_LT(view.seen({10, 70, -30}, kArea).distance_mm,
            view.seen({10, -30, -30}, kArea).distance_mm)
      << "the lower edge is near";
}

TEST(SceneView, KeepsLengthsSquareToTheViewAndMakesFarThingsSmaller) {
  const SceneView view = straight();
  // The radius reaches half the smaller side: 200 mm are 300 window pixels.
  EXPECT_NEAR(view.seen({50, 20, -30}, kArea).at.x - kMiddle.x, 40 * 1.5, 1e-9);
  EXPECT_NEAR(view.seen({10, 20, -70}, kArea).at.y - kMiddle.y, -40 * 1.5, 1e-9);
  // 200 mm further away at an eye distance of 800 mm: four fifths.
  EXPECT_NEAR(view.seen({50, -180, -30}, kArea).at.x - kMiddle.x, 40 * 1.5 * 0.8, 1e-9);
}

TEST(SceneView, ADragMovesTheNearSideWithThePointer) {
  const World3 near{10, 120, -30};
  SceneView view = straight();
  const ScreenPoint before = view.seen(near, kArea).at;
  view.turn(10, 0);
  EXPECT_GT(view.seen(near, kArea).at.x, before.x + 1);
  view.turn(0, 10);
  EXPECT_GT(view.seen(near, kArea).at.y, before.y + 1);
}

TEST(SceneView, AFullTurnComesBackAndTheElevationHasItsLimits) {
  SceneView view;
  const double turned = view.turned_deg();
  for (int i = 0; i < 24; ++i) view.turn(15, 0);
  EXPECT_NEAR(view.turned_deg(), turned, 1e-9);
  view.turn(0, 500);
  EXPECT_EQ(view.elevation_deg(), SceneView::kHighest_deg);
  view.turn(0, -500);
  EXPECT_EQ(view.elevation_deg(), SceneView::kLowest_deg);
}

TEST(SceneView, ResetTakesTurningAndZoomBackButKeepsWhatIsLookedAt) {
  SceneView view;
  view.look_at({5, 6, 7}, 90);
  const ScreenPoint before = view.seen({20, 30, -40}, kArea).at;
  view.turn(80, 20);
  view.zoom_by(3);
  EXPECT_NE(view.seen({20, 30, -40}, kArea).at.x, before.x);
  view.reset();
  EXPECT_NEAR(view.seen({20, 30, -40}, kArea).at.x, before.x, 1e-9);
  EXPECT_NEAR(view.seen({20, 30, -40}, kArea).at.y, before.y, 1e-9);
}

TEST(SceneView, FitsAllPlacesIntoTheAreaAsSeenFromHome) {
  SceneView view;
  view.look_at({0, 0, 0}, 200);
  const std::vector<World3> places = {{300, 0, -100}, {-250, 80, -200}, {0, 400, 0}};
  for (const ScreenRect& area : {kArea, ScreenRect{0, 0, 300, 900}}) {
    view.fit(places, area);
    double reach = 0;
    for (const World3& place : places) {
      const ScreenPoint at = view.seen(place, area).at;
      reach = std::max({reach, std::abs(at.x - area.middle().x) / (area.width / 2),
                        std::abs(at.y - area.middle().y) / (area.height / 2)});
    }
    EXPECT_NEAR(reach, 0.88, 1e-9);
  }
  const ScreenPoint before = view.seen(places[0], kArea).at;
  view.turn(40, 0);
  view.fit(places, {0, 0, 300, 900});
  view.reset();
  EXPECT_NEAR(view.seen(places[0], kArea).at.x, before.x, 1e-9) << "turning does not zoom";
}

TEST(SceneView, GoesHomeUntilSomebodyTurnsIt) {
  SceneView view;
  view.set_home(-20);
  EXPECT_NEAR(view.turned_deg(), 340, 1e-9);
  view.turn(30, 0);
  view.set_home(70);
  EXPECT_NEAR(view.turned_deg(), 310, 1e-9);
  view.reset();
  EXPECT_NEAR(view.turned_deg(), 70, 1e-9);
}

TEST(SceneView, NothingBehindTheEyeTurnsInsideOut) {
  SceneView view = straight();
  view.zoom_by(1e6);
  const SceneView::Seen behind = view.seen({10, 5000, -30}, kArea);
  EXPECT_GT(behind.distance_mm, 0);
  EXPECT_TRUE(std::isfinite(behind.at.x) && std::isfinite(behind.at.y));
}

}  // namespace
}  // namespace scantling
