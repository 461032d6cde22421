#include "app/view_transform.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace scantling {
namespace {

constexpr ScreenRect kCanvas{300, 20, 640, 480};

TEST(ViewTransform, GoesThereAndBackExactly) {
  ViewTransform view = ViewTransform::fitted(4000, 3000, kCanvas);
  view.zoom_about({400, 100}, 3.7, 0.01);
  view.pan_by(-31.5, 12.25);
  const Point_px p{1234.5, 987.25};
  const Point_px back = view.to_photo(view.to_screen(p));
  EXPECT_NEAR(back.x, p.x, 1e-9);
  EXPECT_NEAR(back.y, p.y, 1e-9);
}

TEST(ViewTransform, FittedPhotoFillsTheCanvasAndPixelCentresAreWholeNumbers) {
  const ViewTransform view = ViewTransform::fitted(4000, 3000, kCanvas);
  EXPECT_DOUBLE_EQ(view.zoom(), 0.16);
  // The photo's outline runs half a pixel outside its outermost pixel centres.
  EXPECT_NEAR(view.to_screen({-0.5, -0.5}).x, 300, 1e-9);
  EXPECT_NEAR(view.to_screen({-0.5, -0.5}).y, 20, 1e-9);
  EXPECT_NEAR(view.to_screen({3999.5, 2999.5}).x, 940, 1e-9);
  EXPECT_NEAR(view.to_screen({3999.5, 2999.5}).y, 500, 1e-9);
}

TEST(ViewTransform, ZoomKeepsWhatIsUnderThePointer) {
  ViewTransform view = ViewTransform::fitted(4000, 3000, kCanvas);
  const ScreenPoint pointer{721, 133};
  const Point_px before = view.to_photo(pointer);
  view.zoom_about(pointer, 8, 0.01);
  EXPECT_NEAR(view.to_photo(pointer).x, before.x, 1e-9);
  EXPECT_NEAR(view.to_photo(pointer).y, before.y, 1e-9);
  EXPECT_NEAR(view.zoom(), 0.16 * 8, 1e-12);
}

TEST(ViewTransform, ZoomStopsAtItsLimits) {
  ViewTransform view = ViewTransform::fitted(4000, 3000, kCanvas);
  view.zoom_about({400, 100}, 1e9, 0.08);
  EXPECT_DOUBLE_EQ(view.zoom(), ViewTransform::kLargestZoom);
  view.zoom_about({400, 100}, 1e-9, 0.08);
  EXPECT_DOUBLE_EQ(view.zoom(), 0.08);
}

TEST(ViewTransform, PhotoNeverLeavesTheCanvas) {
  ViewTransform view = ViewTransform::fitted(4000, 3000, kCanvas);
  view.zoom_about(kCanvas.middle(), 10, 0.01);
  view.pan_by(1e6, -1e6);
  view.keep_in_sight(4000, 3000, kCanvas);
  const ScreenPoint left = view.to_screen({-0.5, -0.5});
  const ScreenPoint right = view.to_screen({3999.5, 2999.5});
  EXPECT_NEAR(left.x, kCanvas.x + kCanvas.width * 2 / 3, 1e-6);
  EXPECT_NEAR(right.y, kCanvas.y + kCanvas.height / 3, 1e-6);
}

TEST(ViewTransform, AQuarterTurnIsClockwiseAndExactThereAndBack) {
  for (int turns = 0; turns < 4; ++turns) {
    ViewTransform view = ViewTransform::fitted(4000, 3000, kCanvas, turns);
    view.zoom_about({400, 100}, 3.7, 0.01);
    view.pan_by(-31.5, 12.25);
    EXPECT_EQ(view.quarter_turns(), turns);
    const Point_px p{1234.5, 987.25};
    const Point_px back = view.to_photo(view.to_screen(p));
    EXPECT_NEAR(back.x, p.x, 1e-9) << turns;
    EXPECT_NEAR(back.y, p.y, 1e-9) << turns;
  }
  const ViewTransform right = ViewTransform::fitted(4000, 3000, kCanvas, 1);
  const ScreenPoint middle = right.to_screen({2000, 1500});
  // What pointed right in the photo points down; what pointed up points right.
  EXPECT_GT(right.to_screen({2100, 1500}).y, middle.y + 1);
  EXPECT_NEAR(right.to_screen({2100, 1500}).x, middle.x, 1e-9);
  EXPECT_GT(right.to_screen({2000, 1400}).x, middle.x + 1);
}

TEST(ViewTransform, ATurnedPhotoIsFittedByItsTurnedSides) {
  const ViewTransform view = ViewTransform::fitted(4000, 3000, kCanvas, 1);
  EXPECT_DOUBLE_EQ(view.zoom(), 0.12);  // 480 screen pixels over the photo's 4000
  EXPECT_NEAR(view.to_screen({-0.5, -0.5}).x, 620 + 180, 1e-9);  // its first corner: top right
  EXPECT_NEAR(view.to_screen({-0.5, -0.5}).y, 20, 1e-9);
  EXPECT_NEAR(view.to_screen({3999.5, 2999.5}).x, 620 - 180, 1e-9);
  EXPECT_NEAR(view.to_screen({3999.5, 2999.5}).y, 500, 1e-9);
}

TEST(ViewTransform, TurningKeepsWhatLiesUnderTheAnchor) {
  ViewTransform view = ViewTransform::fitted(4000, 3000, kCanvas);
  view.zoom_about({500, 200}, 5, 0.01);
  const ScreenPoint anchor{333, 222};
  const Point_px held = view.to_photo(anchor);
  view.turn_about(anchor, -1);
  EXPECT_EQ(view.quarter_turns(), 3);
  EXPECT_NEAR(view.to_photo(anchor).x, held.x, 1e-9);
  EXPECT_NEAR(view.to_photo(anchor).y, held.y, 1e-9);
}

TEST(ViewTransform, ArrowKeysPointOnTheTurnedPhotoWhereTheyPointOnTheScreen) {
  for (int turns = 0; turns < 4; ++turns) {
    const ViewTransform view = ViewTransform::fitted(4000, 3000, kCanvas, turns);
    const ScreenPoint down = view.direction_on_photo({0, 1});
    const ScreenPoint from = view.to_screen({2000, 1500});
    const ScreenPoint to = view.to_screen({2000 + down.x, 1500 + down.y});
    EXPECT_NEAR(to.x, from.x, 1e-9) << turns;
    EXPECT_NEAR(to.y, from.y + view.zoom(), 1e-9) << turns;
  }
}

TEST(ViewTransform, ATurnedPhotoNeverLeavesTheCanvas) {
  for (int turns = 1; turns < 4; ++turns) {
    ViewTransform view = ViewTransform::fitted(4000, 3000, kCanvas, turns);
    view.zoom_about(kCanvas.middle(), 10, 0.01);
    view.pan_by(1e6, -1e6);
    view.keep_in_sight(4000, 3000, kCanvas);
    const ScreenPoint a = view.to_screen({-0.5, -0.5}), b = view.to_screen({3999.5, 2999.5});
    EXPECT_NEAR(std::min(a.x, b.x), kCanvas.x + kCanvas.width * 2 / 3, 1e-6) << turns;
    EXPECT_NEAR(std::max(a.y, b.y), kCanvas.y + kCanvas.height / 3, 1e-6) << turns;
  }
}

}  // namespace
}  // namespace scantling
