#include "app/edge_drag.h"

#include <gtest/gtest.h>

#include <cmath>

namespace scantling {
namespace {

constexpr EdgeSegment kLevel{{100, 200}, {300, 200}};

TEST(EdgeDrag, AnEndMovesAloneTheMiddleCarriesBoth) {
  const EdgeSegment end = dragged(kLevel, EdgeHandle::first_end, 5, -7);
  EXPECT_EQ(end.a.x, 105);
  EXPECT_EQ(end.a.y, 193);
  EXPECT_EQ(end.b.x, 300);
  EXPECT_EQ(end.b.y, 200);
  const EdgeSegment whole = dragged(kLevel, EdgeHandle::middle, 5, -7);
  EXPECT_EQ(whole.a.y, 193);
  EXPECT_EQ(whole.b.x, 305);
  EXPECT_EQ(whole.b.y, 193);
}

TEST(EdgeDrag, NudgeMovesAcrossTheEdgeTowardsTheArrow) {
  EXPECT_DOUBLE_EQ(nudged(kLevel, 0, 1, 1).a.y, 201);
  EXPECT_DOUBLE_EQ(nudged(kLevel, 0, -1, 10).b.y, 190);
  // Drawn the other way round, down is still down.
  const EdgeSegment reversed{kLevel.b, kLevel.a};
  EXPECT_DOUBLE_EQ(nudged(reversed, 0, 1, 0.1).a.y, 200.1);
}

TEST(EdgeDrag, NudgeOfASlantedEdgeIsPerpendicular) {
  const EdgeSegment slanted{{0, 0}, {100, 100}};
  const EdgeSegment moved = nudged(slanted, 1, 0, 1);
  EXPECT_NEAR(moved.a.x, std::sqrt(0.5), 1e-12);
  EXPECT_NEAR(moved.a.y, -std::sqrt(0.5), 1e-12);
}

TEST(EdgeDrag, NudgeAlongTheEdgeMovesNothing) {
  const EdgeSegment moved = nudged(kLevel, 1, 0, 10);
  EXPECT_EQ(moved.a.x, kLevel.a.x);
  EXPECT_EQ(moved.a.y, kLevel.a.y);
}

TEST(EdgeDrag, NudgeOfAPointMovesNothing) {
  const EdgeSegment point{{5, 5}, {5, 5}};
  EXPECT_EQ(nudged(point, 0, 1, 1).a.y, 5);
}

TEST(EdgeDrag, TheNearestHandleWithinReachIsHeld) {
  const ViewTransform view = ViewTransform::centred({200, 200}, {400, 300}, 0.5);
  const ScreenPoint end = view.to_screen(kLevel.b);
  EXPECT_EQ(handle_at(kLevel, view, {end.x + 3, end.y - 4}, 14), EdgeHandle::second_end);
  EXPECT_EQ(handle_at(kLevel, view, view.to_screen({200, 200}), 14), EdgeHandle::middle);
  EXPECT_EQ(handle_at(kLevel, view, {end.x + 30, end.y}, 14), std::nullopt);
}

TEST(EdgeDrag, TheMiddleHandleOfAnArcLiesOnTheArc) {
  const EdgeCurve arc = {{0, 0}, {50, -40}, {100, -50}, {150, -40}, {200, 0}};
  EXPECT_EQ(handle_place(arc, EdgeHandle::middle).y, -50);
  EXPECT_EQ(handle_place(arc, EdgeHandle::second_end).x, 200);
  EXPECT_EQ(place_on(arc, 0.125).x, 25);
  EXPECT_EQ(place_on(arc, 0.125).y, -20);
  EXPECT_EQ(place_on({}, 0.5).x, 0);
  const ViewTransform view = ViewTransform::centred({0, 0}, {0, 0}, 1);
  EXPECT_EQ(handle_at(arc, view, view.to_screen({100, -45}), 14), EdgeHandle::middle);
  EXPECT_EQ(handle_at(arc, view, view.to_screen({100, 0}), 14), std::nullopt);
  EXPECT_NEAR(screen_distance(arc, view, view.to_screen({100, -60})), 10, 1e-9);
  EXPECT_NEAR(screen_distance(segment_of(MeasuredEdge{"", arc, 1, EdgeOrigin::found, 0, 0, {}}),
                              view, view.to_screen({100, -60})),
              60, 1e-9);
}

TEST(EdgeDrag, DistanceIsToTheSegmentNotTheLine) {
  const ViewTransform view = ViewTransform::centred({0, 0}, {0, 0}, 1);
  const ScreenPoint a = view.to_screen(kLevel.a);
  EXPECT_NEAR(screen_distance(kLevel, view, {a.x + 50, a.y + 9}), 9, 1e-9);
  EXPECT_NEAR(screen_distance(kLevel, view, {a.x - 12, a.y}), 12, 1e-9);
}

TEST(EdgeDrag, MovingAnEdgeAgainReplacesItsPlace) {
  std::vector<MovedEdge> moved = with_moved({}, "friction_outer", kLevel);
  moved = with_moved(moved, "plate_outer", kLevel);
  moved = with_moved(moved, "friction_outer", dragged(kLevel, EdgeHandle::middle, 0, 3));
  ASSERT_EQ(moved.size(), 2u);
  EXPECT_EQ(moved[0].edge, "friction_outer");
  EXPECT_EQ(moved[0].segment.a.y, 203);
}

TEST(EdgeDrag, ASegmentRunsBetweenTheOutermostPoints) {
  MeasuredEdge edge;
  edge.points_px = {{0, 1}, {50, 2}, {100, 3}};
  EXPECT_EQ(segment_of(edge).b.x, 100);
  EXPECT_EQ(segment_of(EdgeRival{}).a.x, 0);
}

}  // namespace
}  // namespace scantling
