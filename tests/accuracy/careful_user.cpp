#include "accuracy/careful_user.h"

#include <algorithm>
#include <cmath>

namespace scantling::accuracy {
namespace {

constexpr double kHand_px = 1;
constexpr double kSnap_px = 3.5;  ///< the window's reach at the fourfold zoom of careful work

/// The line's nearest point: nobody drags a handle to where the true line is not known.
Point_px on_line(Point_px p, const std::vector<Point_px>& line) {
  Point_px best{};
  double least = INFINITY;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const Point_px a = line[i], b = line[i + 1];
    const double dx = b.x - a.x, dy = b.y - a.y;
    const double share =
        std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy), 0.0, 1.0);
    const Point_px foot{a.x + share * dx, a.y + share * dy};
    if (const double away = distance_px(foot, p); away < least) {
      least = away;
      best = foot;
    }
  }
  return best;
}

/// Both ends of a found edge on its true line.
std::optional<EdgeSegment> true_segment(const Analysis& photo, const drawn::TrueEdge& edge) {
  const MeasuredEdge* found = photo.measurement().edge(edge.name);
  if (!found || found->points_px.size() < 2 || edge.outer.size() < 2) return std::nullopt;
  return EdgeSegment{on_line(found->points_px.front(), edge.outer),
                     on_line(found->points_px.back(), edge.outer)};
}

}  // namespace

void name_faces_alike(const Measurement& found, std::vector<drawn::TrueEdge>& truth) {
  const MeasuredEdge* a = found.edge("face_a");
  if (!a || a->points_px.empty() || truth.size() != 2) return;
  const Point_px at = a->points_px[a->points_px.size() / 2];
  const auto away = [&](const drawn::TrueEdge& edge) {
    return distance_px(at, edge.outer[edge.outer.size() / 2]);
  };
  const auto of = [&](const char* name) {
    return std::find_if(truth.begin(), truth.end(), [&](auto& e) { return e.name == name; });
  };
  const auto first = of("face_a"), second = of("face_b");
  if (first != truth.end() && second != truth.end() && away(*second) < away(*first))
    std::swap(first->name, second->name);
}

Measurement on_true_lines(const Analysis& photo, const std::vector<drawn::TrueEdge>& truth) {
  std::vector<MovedEdge> moved;
  for (const drawn::TrueEdge& edge : truth)
    if (const auto segment = true_segment(photo, edge)) moved.push_back({edge.name, *segment});
  return photo.with_edges(moved);
}

std::optional<double> off_line_px(const MeasuredEdge& found, const std::vector<Point_px>& truth) {
  if (found.points_px.size() < 2 || truth.size() < 2) return std::nullopt;
  const Point_px a = found.points_px.front(), b = found.points_px.back();
  const Point_px middle = found.points_px[found.points_px.size() / 2];  // a lip's edge is an arc
  const Point_px foot = on_line(middle, truth);
  // The end of a known line is not the foot of a perpendicular.
  if (distance_px(foot, truth.front()) == 0 || distance_px(foot, truth.back()) == 0)
    return std::nullopt;
  double nx = a.y - b.y, ny = b.x - a.x;
  if (std::abs(ny) >= std::abs(nx) ? ny < 0 : nx < 0) nx = -nx, ny = -ny;
  return ((middle.x - foot.x) * nx + (middle.y - foot.y) * ny) / std::hypot(nx, ny);
}

Measurement CarefulUser::measures(const Analysis& photo,
                                  const std::vector<drawn::TrueEdge>& truth) {
  std::normal_distribution<double> hand(0, kHand_px);
  std::vector<MovedEdge> moved;
  for (const drawn::TrueEdge& edge : truth) {
    const auto there = true_segment(photo, edge);
    if (!there) continue;
    const double length = distance_px(there->a, there->b);
    const double nx = -(there->b.y - there->a.y) / length, ny = (there->b.x - there->a.x) / length;
    const auto dragged = [&](Point_px end) {
      const double off = hand(random_);
      return Point_px{end.x + off * nx, end.y + off * ny};
    };
    const Point_px a = dragged(there->a), b = dragged(there->b);
    const EdgeSegment placed{a, b};
    moved.push_back({edge.name, photo.snapped(placed, kSnap_px).value_or(placed)});
  }
  return photo.with_edges(moved);
}

}  // namespace scantling::accuracy
