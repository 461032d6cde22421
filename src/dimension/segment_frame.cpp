#include "dimension/segment_frame.h"

#include <cmath>
#include <utility>

namespace scantling {

SegmentFrame segment_frame(const PlaneScene& scene, const PartFrame& part,
                           const EdgeSegment& segment) {
  SegmentFrame result;
  PartFrame& f = result.frame;
  if (part.ring_radius_mm > 0 || part.rim_radius_mm > 0) {
    Point_mm a = part.seen(scene.pose, segment.a), b = part.seen(scene.pose, segment.b);
    if (a.x > b.x) std::swap(a, b);
    result.first_mm = a.x;
    result.length_mm = b.x - a.x;
    f = part;
    return result;
  }
  const Point_mm a = scene.pose.on_plane(segment.a, part.depth_mm);
  const Point_mm b = scene.pose.on_plane(segment.b, part.depth_mm);
  result.length_mm = std::hypot(b.x - a.x, b.y - a.y);
  f.depth_mm = part.depth_mm;
  f.origin = a;
  if (result.length_mm > 0) {
    f.along_x = (b.x - a.x) / result.length_mm;
    f.along_y = (b.y - a.y) / result.length_mm;
  }
  f.across_x = f.along_y;
  f.across_y = -f.along_x;
  return result;
}

}  // namespace scantling
