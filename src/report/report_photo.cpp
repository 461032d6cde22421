#include <fmt/format.h>

#include <algorithm>
#include <opencv2/core/types.hpp>

#include "photo/photo.h"
#include "report/report_pages.h"
#include "report/scaled_photo.h"
#include "report/state_look.h"
#include "report/wording.h"

namespace scantling {

namespace {

constexpr int kWindowSide_px = 1600;
constexpr int kWholeSide_px = 640;
constexpr double kWindowHeight_mm = 74;
constexpr double kWholeWidth_mm = 58;

/// A piece of the photo on the page.
struct Placed {
  PageBox box;
  cv::Rect window;

  PagePoint at(Point_px p) const {
    const double mm_per_px = box.width / window.width;
    // Pixel centres lie at whole numbers, so the picture begins half a pixel before 0.
    return {box.x + (p.x + 0.5 - window.x) * mm_per_px, box.y + (p.y + 0.5 - window.y) * mm_per_px};
  }
};

/// The photo around the edges in the page's shape; the whole photo where there are none.
cv::Rect window_around(const std::vector<MeasuredEdge>& edges, const cv::Size& photo,
                       double width_over_height) {
  double x0 = photo.width, x1 = 0, y0 = photo.height, y1 = 0;
  for (const MeasuredEdge& edge : edges)
    for (const Point_px& p : edge.points_px) {
      x0 = std::min(x0, p.x), x1 = std::max(x1, p.x);
      y0 = std::min(y0, p.y), y1 = std::max(y1, p.y);
    }
  if (x0 > x1) return {{}, photo};
  const double wanted = std::max(1.35 * (x1 - x0), 1.8 * (y1 - y0) * width_over_height);
  const double width = std::clamp(wanted, 64.0, 1.0 * photo.width);
  const double height = std::min(width / width_over_height, 1.0 * photo.height);
  const double left = std::clamp((x0 + x1 - width) / 2, 0.0, photo.width - width);
  const double top = std::clamp((y0 + y1 - height) / 2, 0.0, photo.height - height);
  return cv::Rect(static_cast<int>(left), static_cast<int>(top), static_cast<int>(width),
                  static_cast<int>(height));
}

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

void draw_edges(Page& page, const Placed& placed, const std::vector<MeasuredEdge>& edges,
                bool labelled) {
  std::vector<double> taken;
  for (const MeasuredEdge& edge : edges) {
    std::vector<PagePoint> points;
    for (const Point_px& p : edge.points_px) points.push_back(placed.at(p));
    if (points.size() < 2) continue;
    draw_edge(page, points, edge_stroke(edge.name), labelled ? 0.4 : 0.2);
    if (!labelled) continue;
    const PagePoint end = *std::max_element(points.begin(), points.end(),
                                            [](const auto& a, const auto& b) { return a.x < b.x; });
    // Labels keep apart where edges lie close.
    double y = end.y - 1.8;
    for (double other : taken)
      if (std::abs(other - y) < 4.2) y = other + (y < other ? -4.2 : 4.2);
    taken.push_back(y);
    const double width = text_extent(edge_title(edge.name), {7, Weight::semibold}).width + 1.6;
    draw_label(page, {std::min(end.x + 2, placed.box.right() - width - 1), y},
               edge_title(edge.name));
  }
}

void place(Page& page, const cv::Mat& rgb, const Placed& placed, int side_px,
           const std::vector<MeasuredEdge>& edges, bool labelled) {
  const ScaledPhoto piece = scaled_photo(rgb, placed.window, side_px);
  page.picture(placed.box, piece.rgb, piece.jpeg);
  page.clipped(placed.box, [&] { draw_edges(page, placed, edges, labelled); });
  page.box(placed.box, {0.2, kInk, {}});
}

}  // namespace

void write_photo(PageFlow& flow, const Record& record, const PhotoFinding& finding) {
  const cv::Mat rgb = load_colour(record.photo_path(finding.photo));
  if (rgb.empty()) {
    flow.paragraph("The photo " + finding.photo.original_name +
                   " cannot be shown: its file is missing or unreadable.");
    return;
  }
  static const std::vector<MeasuredEdge> kNone;
  const std::vector<MeasuredEdge>& edges =
      finding.newest ? finding.newest->measurement.edges : kNone;
  const cv::Rect window = window_around(edges, rgb.size(), flow.width() / kWindowHeight_mm);
  const double height =
      std::min(kWindowHeight_mm * 1.5, flow.width() * window.height / window.width);
  const Placed near{{flow.left(), flow.y(), height * window.width / window.height, height}, window};
  place(flow.page(), rgb, near, kWindowSide_px, edges, true);
  flow.move_to(near.box.bottom() + 2);

  const Placed whole{{flow.left(), flow.y(), kWholeWidth_mm, kWholeWidth_mm * rgb.rows / rgb.cols},
                     {{}, rgb.size()}};
  place(flow.page(), rgb, whole, kWholeSide_px, edges, false);
  const PagePoint corner = whole.at({1.0 * window.x, 1.0 * window.y});
  const double mm_per_px = whole.box.width / rgb.cols;
  flow.page().box({corner.x, corner.y, window.width * mm_per_px, window.height * mm_per_px},
                  {0.25, kPaper, {}});
  const double text_x = whole.box.right() + 4;
  const double text_width = flow.right() - text_x;
  write_photo_facts(flow.page(), {text_x, flow.y()}, text_width, finding);
  flow.move_to(whole.box.bottom() + 1);
}

}  // namespace scantling
