#include "dimension/edges_on_photo.h"

namespace scantling {
namespace {

std::vector<Point_px> on_photo(const PlaneScene& scene, const PartFrame& frame,
                               const PlacedEdge& edge) {
  std::vector<Point_px> points;
  // The lens bends a straight edge a little; a lip is an arc, and a chord over a tenth of it would
  // lie a tenth of a low lip's height beside it.
  const int pieces = frame.ring_radius_mm > 0 ? 32 : 8;
  for (int i = 0; i <= pieces; ++i) {
    const double along =
        edge.along_first_mm + (edge.along_last_mm - edge.along_first_mm) * i / pieces;
    points.push_back(scene.pose.project(frame.place(along, edge.at(along))));
  }
  return points;
}

}  // namespace

std::vector<MeasuredEdge> edges_on_photo(const PlaneScene& scene, const PartReading& reading) {
  std::vector<MeasuredEdge> edges;
  for (std::size_t i = 0; i < reading.edges.size(); ++i) {
    const PlacedEdge& placed = reading.edges[i];
    MeasuredEdge edge;
    edge.name = placed.name;
    edge.points_px = on_photo(scene, reading.frame, placed);
    edge.confidence = placed.confidence;
    edge.origin = placed.origin;
    edge.blur_px = placed.blur_px;
    edge.residual_px = placed.residual_px;
    for (const PlacedRival& rival : reading.rivals[i]) {
      EdgeRival out;
      out.points_px = on_photo(scene, reading.frame, rival.line);
      const double middle = placed.middle_mm;
      out.shift_mm = rival.line.at(middle) - placed.at(middle);
      out.strength = rival.strength;
      out.reading = rival.reading;
      edge.rivals.push_back(std::move(out));
    }
    edges.push_back(std::move(edge));
  }
  return edges;
}

}  // namespace scantling
