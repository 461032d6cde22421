#include "app/edge_drag.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace scantling {

namespace {

EdgeSegment ends_of(const std::vector<Point_px>& points) {
  if (points.empty()) return {};
  return {points.front(), points.back()};
}

// Below this cosine an arrow points along the edge and moves nothing.
constexpr double kLeastAgreement = 0.2;

double distance(ScreenPoint a, ScreenPoint b) {
  return std::hypot(a.x - b.x, a.y - b.y);
}

}  // namespace

Point_px place_on(const EdgeCurve& curve, double share) {
  if (curve.empty()) return {};
  const double at = std::clamp(share, 0.0, 1.0) * static_cast<double>(curve.size() - 1);
  const auto before = std::min(static_cast<std::size_t>(at), curve.size() - 1);
  const auto after = std::min(before + 1, curve.size() - 1);
  const double part = at - static_cast<double>(before);
  return {curve[before].x + part * (curve[after].x - curve[before].x),
          curve[before].y + part * (curve[after].y - curve[before].y)};
}

Point_px handle_place(const EdgeCurve& curve, EdgeHandle handle) {
  return place_on(curve, handle == EdgeHandle::first_end    ? 0
                         : handle == EdgeHandle::second_end ? 1
                                                            : 0.5);
}

Point_px handle_place(const EdgeSegment& segment, EdgeHandle handle) {
  return handle_place(EdgeCurve{segment.a, segment.b}, handle);
}

EdgeSegment dragged(const EdgeSegment& start, EdgeHandle handle, double dx_px, double dy_px) {
  EdgeSegment segment = start;
  if (handle != EdgeHandle::second_end) {
    segment.a.x += dx_px;
    segment.a.y += dy_px;
  }
  if (handle != EdgeHandle::first_end) {
    segment.b.x += dx_px;
    segment.b.y += dy_px;
  }
  return segment;
}

EdgeSegment nudged(const EdgeSegment& segment, double towards_x, double towards_y, double step_px) {
  const double length = distance_px(segment.a, segment.b);
  if (length <= 0) return segment;
  double normal_x = -(segment.b.y - segment.a.y) / length;
  double normal_y = (segment.b.x - segment.a.x) / length;
  const double agreement = normal_x * towards_x + normal_y * towards_y;
  if (std::abs(agreement) < kLeastAgreement) return segment;
  if (agreement < 0) {
    normal_x = -normal_x;
    normal_y = -normal_y;
  }
  return dragged(segment, EdgeHandle::middle, normal_x * step_px, normal_y * step_px);
}

std::optional<EdgeHandle> handle_at(const EdgeSegment& segment, const ViewTransform& view,
                                    ScreenPoint pointer, double reach) {
  return handle_at(EdgeCurve{segment.a, segment.b}, view, pointer, reach);
}

std::optional<EdgeHandle> handle_at(const EdgeCurve& curve, const ViewTransform& view,
                                    ScreenPoint pointer, double reach) {
  std::optional<EdgeHandle> nearest;
  for (const EdgeHandle handle :
       std::array{EdgeHandle::middle, EdgeHandle::first_end, EdgeHandle::second_end}) {
    const double away = distance(view.to_screen(handle_place(curve, handle)), pointer);
    if (away <= reach) {
      nearest = handle;
      reach = away;
    }
  }
  return nearest;
}

double screen_distance(const EdgeSegment& segment, const ViewTransform& view, ScreenPoint pointer) {
  const ScreenPoint a = view.to_screen(segment.a);
  const ScreenPoint b = view.to_screen(segment.b);
  const double length_squared = (b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y);
  if (length_squared <= 0) return distance(a, pointer);
  const double along = std::clamp(
      ((pointer.x - a.x) * (b.x - a.x) + (pointer.y - a.y) * (b.y - a.y)) / length_squared, 0.0,
      1.0);
  return distance({a.x + along * (b.x - a.x), a.y + along * (b.y - a.y)}, pointer);
}

double screen_distance(const EdgeCurve& curve, const ViewTransform& view, ScreenPoint pointer) {
  double least = curve.empty() ? INFINITY : distance(view.to_screen(curve.front()), pointer);
  for (std::size_t i = 1; i < curve.size(); ++i)
    least = std::min(least, screen_distance(EdgeSegment{curve[i - 1], curve[i]}, view, pointer));
  return least;
}

EdgeSegment segment_of(const MeasuredEdge& edge) {
  return ends_of(edge.points_px);
}
EdgeSegment segment_of(const EdgeRival& rival) {
  return ends_of(rival.points_px);
}

std::vector<MovedEdge> with_moved(std::vector<MovedEdge> moved, const std::string& edge,
                                  const EdgeSegment& segment) {
  const auto known =
      std::find_if(moved.begin(), moved.end(), [&](const MovedEdge& m) { return m.edge == edge; });
  if (known != moved.end())
    known->segment = segment;
  else
    moved.push_back({edge, segment});
  return moved;
}

}  // namespace scantling
