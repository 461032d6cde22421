#include "report/overlay.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "print/document.h"
#include "report/overlay_style.h"
#include "report/png_bytes.h"
#include "report/state_look.h"
#include "report/wording.h"

namespace scantling {
namespace {

/// The two edges that a thickness lies between.
struct Span {
  const char* dimension;
  const char* from;
  const char* to;
  double along;  ///< where on the edges its dimension line stands, 0..1
};

constexpr Span kSpans[] = {
    {"overall_thickness", "plate_outer", "friction_outer", 0.12},
    {"plate_thickness", "plate_outer", "plate_friction", 0.72},
    {"friction_thickness", "plate_friction", "friction_outer", 0.42},
    {"rim_thickness", "face_a", "face_b", 0.5},
    {"lip_height", "wall_foot", "wall_top", 0.5},
};

PagePoint between(PagePoint a, PagePoint b, double part) {
  return {a.x + (b.x - a.x) * part, a.y + (b.y - a.y) * part};
}

/// The foot of `p` on the line through a and b.
PagePoint foot_on(PagePoint p, PagePoint a, PagePoint b) {
  const double dx = b.x - a.x, dy = b.y - a.y;
  const double squared = dx * dx + dy * dy;
  return squared > 0 ? between(a, b, ((p.x - a.x) * dx + (p.y - a.y) * dy) / squared) : a;
}

struct DrawnEdge {
  const MeasuredEdge* edge;
  std::vector<PagePoint> points;  ///< from left to right
  Colour colour;
};

class Overlay {
 public:
  Overlay(Page& page, const PageBox& box, int photo_width_px)
      : page_(page), box_(box), scale_(box.width / photo_width_px), unit_(box.width / 1000) {}

  void draw_corners(std::span<const SightedCorner> corners) {
    for (const SightedCorner& corner : corners) {
      const PagePoint at = place(corner.photo_px);
      page_.circle(at, 3.2 * unit_, {1.6 * unit_, kCasing, {}});
      page_.circle(at, 3.2 * unit_, {0.8 * unit_, kCornerColour, {}});
    }
  }

  void draw_edges(const std::vector<MeasuredEdge>& edges) {
    for (const MeasuredEdge& edge : edges) {
      if (edge.points_px.size() < 2) continue;
      DrawnEdge drawn{&edge, {}, edge_stroke(edge.name).colour};
      for (const Point_px& p : edge.points_px) drawn.points.push_back(place(p));
      if (drawn.points.front().x > drawn.points.back().x)
        std::reverse(drawn.points.begin(), drawn.points.end());
      cased_line(drawn.points, drawn.colour, 1.0);
      drawn_.push_back(std::move(drawn));
    }
  }

  /// A dimension line between two edges, and its size below the part, where it hides nothing.
  void draw_dimensions(const Measurement& measurement) {
    struct Size {
      PagePoint top, foot;
      std::string text;
    };
    std::vector<Size> sizes;
    double lowest = lowest_name_;
    for (const Span& span : kSpans) {
      const Dimension* dimension = measurement.dimension(span.dimension);
      const DrawnEdge* from = find(span.from);
      const DrawnEdge* to = find(span.to);
      if (!dimension || !from || !to) continue;
      PagePoint top = between(from->points.front(), from->points.back(), span.along);
      PagePoint foot = foot_on(top, to->points.front(), to->points.back());
      if (top.y > foot.y) std::swap(top, foot);
      sizes.push_back({top, foot, size_text(*dimension)});
      lowest = std::max(lowest, foot.y);
    }
    // From right to left, each label a step lower: then no leader crosses another's label.
    std::sort(sizes.begin(), sizes.end(),
              [](const Size& a, const Size& b) { return a.foot.x > b.foot.x; });
    const double step = 2.1 * text_height();
    const double first =
        std::min(lowest + 1.5 * step, box_.bottom() - step * static_cast<double>(sizes.size()));
    for (std::size_t i = 0; i < sizes.size(); ++i) {
      const Size& size = sizes[i];
      const PagePoint label{size.foot.x, first + step * static_cast<double>(i)};
      cased_line({size.foot, label}, kPaper, 0.4);
      cased_line({size.top, size.foot}, kPaper, 0.9);
      for (const PagePoint& end : {size.top, size.foot})
        page_.fill_circle(end, 1.8 * unit_, kPaper);
      tag(label, size.text, kPaper);
    }
  }

  /// Names beside the edges' right ends, moved apart where the edges lie close.
  void draw_names() {
    std::vector<const DrawnEdge*> order;
    for (const DrawnEdge& drawn : drawn_) order.push_back(&drawn);
    std::sort(order.begin(), order.end(), [](const DrawnEdge* a, const DrawnEdge* b) {
      return a->points.back().y < b->points.back().y;
    });
    const double step = 2.1 * text_height();
    double lowest = -1e9;
    for (const DrawnEdge* drawn : order) {
      const PagePoint end = drawn->points.back();
      PagePoint at{end.x + 26 * unit_, std::max(end.y, lowest + step)};
      lowest = at.y;
      lowest_name_ = at.y - 0.5 * step;
      std::string name = edge_title(drawn->edge->name);
      if (drawn->edge->origin == EdgeOrigin::moved) name += " (moved by hand)";
      cased_line({end, at}, drawn->colour, 0.7);
      tag(at, name, drawn->colour);
    }
  }

 private:
  PagePoint place(Point_px p) const {
    return {box_.x + (p.x + 0.5) * scale_, box_.y + (p.y + 0.5) * scale_};
  }

  double text_height() const { return 13 * unit_; }
  TextStyle style() const {
    TextStyle text;
    text.size_pt = text_height() * 72 / 25.4;
    text.weight = Weight::semibold;
    text.colour = kPaper;
    return text;
  }

  const DrawnEdge* find(std::string_view name) const {
    for (const DrawnEdge& drawn : drawn_)
      if (drawn.edge->name == name) return &drawn;
    return nullptr;
  }

  void cased_line(const std::vector<PagePoint>& points, Colour colour, double width) {
    page_.polyline(points, {(width + 1.4) * unit_, kCasing, {}});
    page_.polyline(points, {width * unit_, colour, {}});
  }

  /// A dark label whose left edge's middle is at `at`, moved left where it would leave the picture,
  /// with a strip of its line's colour.
  void tag(PagePoint at, const std::string& text, Colour strip) {
    const TextExtent extent = text_extent(text, style());
    const double pad = 4 * unit_;
    const double lead = 6 * unit_;
    const double width = extent.width + 2 * pad + lead;
    const PageBox back{std::min(at.x, box_.right() - width), at.y - (extent.height + pad) / 2,
                       width, extent.height + pad};
    page_.fill_box(back, kCasing);
    page_.fill_box({back.x, back.y, lead, back.height}, strip);
    page_.text({back.x + lead + pad, back.y + pad / 2}, text, style());
  }

  static std::string size_text(const Dimension& dimension) {
    return dimension_title(dimension.name) + " " + size_with_95(dimension.quantity);
  }

  Page& page_;
  PageBox box_;
  double scale_;            ///< mm on the page per photo px
  double unit_;             ///< a thousandth of the picture's width
  double lowest_name_ = 0;  ///< sizes go below the names
  std::vector<DrawnEdge> drawn_;
};

}  // namespace

void draw_overlay(Page& page, const PageBox& box, int photo_width_px,
                  const Measurement& measurement, std::span<const SightedCorner> corners) {
  page.clipped(box, [&] {
    Overlay overlay(page, box, photo_width_px);
    overlay.draw_corners(corners);
    overlay.draw_edges(measurement.edges);
    overlay.draw_names();
    overlay.draw_dimensions(measurement);
  });
}

std::string overlay_png(const cv::Mat& colour, int photo_width_px, const Measurement& measurement,
                        std::span<const SightedCorner> corners) {
  // One pixel a point: Cairo 1.16 replays paths at a scale rounded to 1/256, which only then is
  // exact.
  constexpr double kOnePixelPerPoint_dpi = 72;
  constexpr double kPixel_mm = 25.4 / kOnePixelPerPoint_dpi;
  const PageBox whole{0, 0, colour.cols * kPixel_mm, colour.rows * kPixel_mm};
  Document document({});
  Page& page = document.add_page({whole.width, whole.height});
  page.picture(whole, colour);
  draw_overlay(page, whole, photo_width_px, measurement, corners);
  return png_bytes(document.picture(0, kOnePixelPerPoint_dpi));
}

}  // namespace scantling
