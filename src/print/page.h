#pragma once

#include <functional>
#include <opencv2/core/mat.hpp>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "print/style.h"

typedef struct _cairo cairo_t;  // NOLINT(bugprone-reserved-identifier): the library's own name

namespace scantling {

/// A place on a page in mm from its top left corner; x right, y down.
struct PagePoint {
  double x = 0;
  double y = 0;
};

/// A rectangle on a page in mm.
struct PageBox {
  double x = 0;
  double y = 0;
  double width = 0;
  double height = 0;

  double right() const { return x + width; }
  double bottom() const { return y + height; }
};

struct PageSize {
  double width_mm = 0;
  double height_mm = 0;

  PageSize landscape() const {
    return width_mm > height_mm ? *this : PageSize{height_mm, width_mm};
  }
};

inline constexpr PageSize kA4{210, 297};                   ///< ISO 216, portrait
inline constexpr PageSize kLetter{8.5 * 25.4, 11 * 25.4};  ///< US Letter, portrait

/// The room a text takes, in mm.
struct TextExtent {
  double width = 0;   ///< of the longest line
  double height = 0;  ///< of all lines
};

/// The same face that Page::text() uses, without a page: for laying out.
/// @param width_mm lines wrap here; 0 for no wrapping.
TextExtent text_extent(std::string_view text, const TextStyle& style, double width_mm = 0);

/// One page, drawn in millimetres and kept as drawing operations, so that it comes out the same as
/// PDF, where Cairo rounds places to 1/256 pt (0.0014 mm), and as a picture (1/256 px).
class Page {
 public:
  /// @throws std::invalid_argument for a page without area.
  explicit Page(PageSize size);

  PageSize size() const { return size_; }

  /// All boxes in one area, so that neighbours join without a seam.
  void fill_boxes(std::span<const PageBox> boxes, Colour colour);
  void fill_box(const PageBox& box, Colour colour) { fill_boxes({&box, 1}, colour); }
  void fill_polygon(std::span<const PagePoint> points, Colour colour);
  void fill_circle(PagePoint centre, double radius_mm, Colour colour);

  void line(PagePoint from, PagePoint to, const Stroke& stroke = {});
  void polyline(std::span<const PagePoint> points, const Stroke& stroke = {});
  void polygon(std::span<const PagePoint> points, const Stroke& stroke = {});
  void box(const PageBox& box, const Stroke& stroke = {});
  void circle(PagePoint centre, double radius_mm, const Stroke& stroke = {});

  /// Parallel lines at 45 degrees inside a polygon, `spacing_mm` apart.
  void hatch(std::span<const PagePoint> points, double spacing_mm, const Stroke& stroke);

  /// Text (UTF-8) whose first line's top is at `at.y`. With a width, lines wrap there and `align`
  /// works inside it; without (0), `at.x` is the text's left edge, middle or right edge by `align`.
  TextExtent text(PagePoint at, std::string_view text, const TextStyle& style = {},
                  double width_mm = 0);

  /// Text wrapped in a box, in smaller type where it would not fit: another machine may have a
  /// wider face. It never shrinks below 6 pt.
  TextExtent text_in(const PageBox& box, std::string_view text, TextStyle style = {});

  /// A picture, CV_8UC3 in RGB order or CV_8UC1, stretched over the box. Where `jpeg` has the same
  /// picture as JPEG bytes, upright, a PDF holds those as they are.
  /// @throws std::invalid_argument for an empty picture or another type.
  void picture(const PageBox& box, const cv::Mat& picture, std::string jpeg = {});

  /// Draws with the origin moved to `at` and turned clockwise by `degrees`.
  void turned(PagePoint at, double degrees, const std::function<void()>& draw);
  /// Draws nothing outside the box.
  void clipped(const PageBox& box, const std::function<void()>& draw);

 private:
  friend class Document;
  using Operation = std::function<void(cairo_t*)>;  ///< in points, from the page's top left corner

  void draw_on(cairo_t* cairo) const;

  PageSize size_;
  std::vector<Operation> operations_;
};

}  // namespace scantling
