#pragma once

#include "camera/card_pose.h"

namespace scantling {

/// Coordinates on a plane parallel to the card, fitted to the part: `along` runs with the part's
/// edges, `across` with its thickness. Lengths are true millimetres.
struct PartFrame {
  Point_mm origin;                     ///< along = across = 0, in the card's frame
  double along_x = 1, along_y = 0;     ///< unit vector of `along`
  double across_x = 0, across_y = -1;  ///< unit vector of `across`
  double depth_mm = 0;                 ///< the plane's distance behind the card's face

  Point3_mm place(double along_mm, double across_mm) const {
    return {origin.x + along_mm * along_x + across_mm * across_x,
            origin.y + along_mm * along_y + across_mm * across_y, depth_mm};
  }
  /// x: along, y: across.
  Point_mm coordinates(Point_mm on_plane) const {
    const double dx = on_plane.x - origin.x, dy = on_plane.y - origin.y;
    return {dx * along_x + dy * along_y, dx * across_x + dy * across_y};
  }
};

}  // namespace scantling
