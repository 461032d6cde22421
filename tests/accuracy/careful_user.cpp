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

}  // namespace

Measurement CarefulUser::measures(const Analysis& photo,
                                  const std::vector<drawn::TrueEdge>& truth) {
  std::normal_distribution<double> hand(0, kHand_px);
  std::vector<MovedEdge> moved;
  for (const drawn::TrueEdge& edge : truth) {
    const MeasuredEdge* found = photo.measurement().edge(edge.name);
    if (!found || found->points_px.size() < 2 || edge.outer.size() < 2) continue;
    const Point_px first = found->points_px.front(), last = found->points_px.back();
    const double length = distance_px(first, last);
    const double nx = -(last.y - first.y) / length, ny = (last.x - first.x) / length;
    const auto dragged = [&](Point_px end) {
      const Point_px there = on_line(end, edge.outer);
      const double off = hand(random_);
      return Point_px{there.x + off * nx, there.y + off * ny};
    };
    const Point_px a = dragged(first), b = dragged(last);
    const EdgeSegment placed{a, b};
    moved.push_back({edge.name, photo.snapped(placed, kSnap_px).value_or(placed)});
  }
  return photo.with_edges(moved);
}

}  // namespace scantling::accuracy
