#pragma once

#include <algorithm>
#include <cmath>

#include "camera/card_pose.h"

namespace scantling {

/// Coordinates fitted to a part, in which its edges run nearly straight: `along` with the edges,
/// `across` over them (a pad's or a disc's thickness; on a disc's face, outwards). Lengths are true
/// millimetres. Flat by default; a rim's surface curves away behind the card, and on a disc's face
/// `along` runs round the axis.
struct PartFrame {
  Point_mm origin;                     ///< along = across = 0, in the card's frame
  double along_x = 1, along_y = 0;     ///< unit vector of `along`, at the origin
  double across_x = 0, across_y = -1;  ///< unit vector of `across`, at the origin
  double depth_mm = 0;                 ///< the plane's distance behind the card's face
  double rim_radius_mm = 0;   ///< above zero: the surface is a cylinder that touches the plane
  double ring_radius_mm = 0;  ///< above zero: `along` bends round a centre this far behind `across`

  /// How far behind the card's face the surface lies.
  double depth_at(double along_mm) const {
    if (rim_radius_mm <= 0) return depth_mm;
    const double x = std::min(std::abs(along_mm), 0.95 * rim_radius_mm);
    return depth_mm + rim_radius_mm - std::sqrt(rim_radius_mm * rim_radius_mm - x * x);
  }

  Point3_mm place(double along_mm, double across_mm) const {
    double a = along_mm, c = across_mm;
    if (ring_radius_mm > 0) {
      const double angle = along_mm / ring_radius_mm, radius = ring_radius_mm + across_mm;
      a = radius * std::sin(angle);
      c = radius * std::cos(angle) - ring_radius_mm;
    }
    return {origin.x + a * along_x + c * across_x, origin.y + a * along_y + c * across_y,
            depth_at(along_mm)};
  }

  /// x: along, y: across.
  Point_mm coordinates(Point_mm on_plane) const {
    const double dx = on_plane.x - origin.x, dy = on_plane.y - origin.y;
    const double a = dx * along_x + dy * along_y, c = dx * across_x + dy * across_y;
    if (ring_radius_mm <= 0) return {a, c};
    return {ring_radius_mm * std::atan2(a, ring_radius_mm + c),
            std::hypot(a, ring_radius_mm + c) - ring_radius_mm};
  }

  /// Where the ray through a photo point meets the surface `behind_mm` further back.
  Point_mm seen(const CardPose& pose, Point_px photo, double behind_mm = 0) const {
    Point_mm at = coordinates(pose.on_plane(photo, depth_mm + behind_mm));
    // The rim is nearly square to the ray: each round gains three digits.
    for (int i = 0; rim_radius_mm > 0 && i < 4; ++i)
      at = coordinates(pose.on_plane(photo, depth_at(at.x) + behind_mm));
    return at;
  }
};

}  // namespace scantling
