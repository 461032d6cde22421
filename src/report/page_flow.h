#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "print/document.h"
#include "report/figure_style.h"

namespace scantling {

// The report's letters.
inline constexpr TextStyle kTitleText{19, Weight::semibold};
inline constexpr TextStyle kHeadingText{11, Weight::semibold};
inline constexpr TextStyle kBodyText{8.5};
inline constexpr TextStyle kStrongText{8.5, Weight::semibold};
inline constexpr TextStyle kSmallText{7.5, Weight::regular, grey(0.25)};
inline constexpr TextStyle kLabelText{7, Weight::medium, grey(0.38)};

TextStyle aligned(TextStyle style, Align align);

/// Fills pages from top to bottom; a new one begins where the room ends. Lengths in the texts it is
/// given are written in the report's units.
class PageFlow {
 public:
  PageFlow(Document& document, PageSize size, const FigureStyle& style = {})
      : document_(&document), size_(size), style_(style) {}

  void new_page();
  /// Begins a new page unless this much room is left.
  void need(double height_mm);

  Page& page() { return *pages_.back(); }
  /// Keeps the foot of the first page free for a block of this height and returns where it begins.
  double keep_on_first_page(double height_mm);
  Page& first_page() { return *pages_.front(); }
  const FigureStyle& style() const { return style_; }
  /// A text for page().text() with its figures in the report's style.
  std::string said(std::string_view text) const { return in_style(text, style_); }
  double left() const { return kMargin_mm; }
  double right() const { return size_.width_mm - kMargin_mm; }
  double width() const { return right() - left(); }
  double bottom() const { return last_line() - (pages_.size() == 1 ? kept_mm_ : 0); }
  double y() const { return y_; }
  void move_to(double y_mm) { y_ = y_mm; }
  void space(double mm) { y_ += mm; }

  /// Wrapped text over the whole width, or from `indent_mm` on; moves down past it.
  void paragraph(std::string_view text, const TextStyle& style = kBodyText, double indent_mm = 0);
  void heading(std::string_view text);
  /// One line of a table; each cell begins at its column, counted from the left margin.
  void cells(const std::vector<double>& columns_mm, const std::vector<std::string>& texts,
             const TextStyle& style);
  void rule(double width_mm = 0.2);

  /// Writes the foot of every page: the text on the left, "page 2 of 5" on the right.
  void finish(std::string_view foot);

 private:
  static constexpr double kMargin_mm = 15;
  static constexpr double kTop_mm = 14;
  static constexpr double kFoot_mm = 17;

  double last_line() const { return size_.height_mm - kFoot_mm; }

  Document* document_;
  PageSize size_;
  FigureStyle style_;
  std::vector<Page*> pages_;
  double kept_mm_ = 0;
  double y_ = 0;
};

}  // namespace scantling
