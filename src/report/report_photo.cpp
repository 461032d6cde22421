#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <opencv2/core/types.hpp>

#include "photo/photo.h"
#include "report/edge_drawing.h"
#include "report/report_pages.h"
#include "report/scaled_photo.h"

namespace scantling {

namespace {

/// 279 dots per inch: sharp in the hand, and a whole axle stays below 3 MB.
constexpr double kPixels_per_mm = 11;
constexpr double kWindowHeight_mm = 60;
constexpr double kWholeWidth_mm = 56;
constexpr double kWholeHeight_mm = 42;
constexpr double kCompactWindow_mm = 42;
constexpr double kCompactWhole_mm = 34;
constexpr double kInRow_mm = 56;

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

void place(Page& page, const cv::Mat& rgb, const PlacedPhoto& placed,
           const std::vector<MeasuredEdge>& edges, bool labelled) {
  const double side_mm = std::max(placed.box.width, placed.box.height);
  const ScaledPhoto piece =
      scaled_photo(rgb, placed.window, static_cast<int>(std::ceil(kPixels_per_mm * side_mm)));
  page.picture(placed.box, piece.rgb, piece.jpeg);
  page.clipped(placed.box,
               [&] { draw_edges(page, placed, edges, labelled ? 0.4 : 0.2, labelled); });
  page.box(placed.box, {0.2, kInk, {}});
}

}  // namespace

void write_photo(PageFlow& flow, const Record& record, const PhotoFinding& finding, bool compact) {
  const cv::Mat rgb = load_colour(record.photo_path(finding.photo));
  if (rgb.empty()) {
    flow.paragraph("The photo " + finding.photo.original_name +
                   " cannot be shown: its file is missing or unreadable.");
    return;
  }
  static const std::vector<MeasuredEdge> kNone;
  const std::vector<MeasuredEdge>& edges =
      finding.newest ? finding.newest->measurement.edges : kNone;
  const double window_mm = compact ? kCompactWindow_mm : kWindowHeight_mm;
  const double whole_mm = compact ? kCompactWhole_mm : kWholeHeight_mm;
  const cv::Rect window = window_around(edges, rgb.size(), flow.width() / window_mm);
  const double height = std::min(window_mm * 1.5, flow.width() * window.height / window.width);
  const PlacedPhoto near{{flow.left(), flow.y(), height * window.width / window.height, height},
                         window};
  place(flow.page(), rgb, near, edges, true);
  flow.move_to(near.box.bottom() + 2);

  const double whole_width = std::min(kWholeWidth_mm, whole_mm * rgb.cols / rgb.rows);
  const PlacedPhoto whole{{flow.left(), flow.y(), whole_width, whole_width * rgb.rows / rgb.cols},
                          {{}, rgb.size()}};
  place(flow.page(), rgb, whole, edges, false);
  const PagePoint corner = whole.at({1.0 * window.x, 1.0 * window.y});
  const double mm_per_px = whole.box.width / rgb.cols;
  flow.page().box({corner.x, corner.y, window.width * mm_per_px, window.height * mm_per_px},
                  {0.25, kPaper, {}});
  const double text_x = whole.box.right() + 4;
  const double facts_end =
      write_photo_facts(flow, {text_x, flow.y()}, flow.right() - text_x, finding);
  flow.move_to(std::max(whole.box.bottom(), facts_end) + 0.5);
}

void write_photo_row(PageFlow& flow, const Record& record,
                     std::span<const PhotoFinding* const> row) {
  const double gap = 3, in_row = row.size() > 3 ? 4 : 3;
  const double width = std::min(kInRow_mm, (flow.width() - (in_row - 1) * gap) / in_row);
  flow.need(width + 6);
  const double top = flow.y();
  double x = flow.left(), end = top;
  for (const PhotoFinding* finding : row) {
    if (x + width > flow.right() + 0.1) {
      flow.move_to(end + 2);
      flow.need(width + 6);
      x = flow.left();
      end = flow.y();
    }
    const cv::Mat rgb = load_colour(record.photo_path(finding->photo));
    double bottom = flow.y();
    if (!rgb.empty()) {
      const PlacedPhoto placed{{x, flow.y(), width, width * rgb.rows / rgb.cols}, {{}, rgb.size()}};
      place(flow.page(), rgb, placed, {}, false);
      bottom = placed.box.bottom();
    }
    bottom +=
        0.8 + flow.page()
                  .text({x, bottom + 0.8},
                        finding->photo.original_name + (rgb.empty() ? ": cannot be shown" : ""),
                        kSmallText, width)
                  .height;
    end = std::max(end, bottom);
    x += width + gap;
  }
  flow.move_to(end + 1.5);
}

}  // namespace scantling
