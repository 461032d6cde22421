#include "report/edge_drawing.h"

#include <algorithm>
#include <cmath>

#include "report/state_look.h"
#include "report/wording.h"

namespace scantling {

namespace {

void draw_edge(Page& page, const std::vector<PagePoint>& points, const EdgeStroke& look,
               double width_mm) {
  // A dark casing keeps the line readable on bright and on dark ground.
  page.polyline(points, {width_mm + 0.45, kInk, {}});
  page.polyline(points, {width_mm, look.colour, look.dash_mm});
}

void draw_label(Page& page, PagePoint at, const std::string& text) {
  const TextStyle style{7, Weight::semibold, kInk};
  const TextExtent extent = text_extent(text, style);
  const PageBox box{at.x, at.y, extent.width + 1.6, extent.height + 0.6};
  page.fill_box(box, kPaper);
  page.box(box, {0.15, kInk, {}});
  page.text({at.x + 0.8, at.y + 0.3}, text, style);
}

}  // namespace

PagePoint PlacedPhoto::at(Point_px p) const {
  const double mm_per_px = box.width / window.width;
  // Pixel centres lie at whole numbers, so the picture begins half a pixel before 0.
  return {box.x + (p.x + 0.5 - window.x) * mm_per_px, box.y + (p.y + 0.5 - window.y) * mm_per_px};
}

void draw_edges(Page& page, const PlacedPhoto& photo, const std::vector<MeasuredEdge>& edges,
                double width_mm, bool labelled) {
  std::vector<double> taken;
  for (const MeasuredEdge& edge : edges) {
    std::vector<PagePoint> points;
    for (const Point_px& p : edge.points_px) points.push_back(photo.at(p));
    if (points.size() < 2) continue;
    draw_edge(page, points, edge_stroke(edge.name), width_mm);
    if (!labelled) continue;
    const PagePoint end = *std::max_element(points.begin(), points.end(),
                                            [](const auto& a, const auto& b) { return a.x < b.x; });
    // Labels keep apart where edges lie close.
    double y = end.y - 1.8;
    for (double other : taken)
      if (std::abs(other - y) < 4.2) y = other + (y < other ? -4.2 : 4.2);
    taken.push_back(y);
    const double width = text_extent(edge_title(edge.name), {7, Weight::semibold}).width + 1.6;
    draw_label(page, {std::min(end.x + 2, photo.box.right() - width - 1), y},
               edge_title(edge.name));
  }
}

}  // namespace scantling
