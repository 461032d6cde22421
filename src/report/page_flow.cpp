#include "report/page_flow.h"

#include <fmt/format.h>

#include <algorithm>

namespace scantling {

TextStyle aligned(TextStyle style, Align align) {
  style.align = align;
  return style;
}

void PageFlow::new_page() {
  pages_.push_back(&document_->add_page(size_));
  y_ = kTop_mm;
}

void PageFlow::need(double height_mm) {
  if (pages_.empty() || y_ + height_mm > bottom()) new_page();
}

double PageFlow::keep_on_first_page(double height_mm) {
  kept_mm_ = height_mm;
  return last_line() - height_mm;
}

void PageFlow::paragraph(std::string_view plain, const TextStyle& style, double indent_mm) {
  const std::string text = said(plain);
  const double room = width() - indent_mm;
  need(text_extent(text, style, room).height);
  y_ += page().text({left() + indent_mm, y_}, text, style, room).height + 0.8;
}

void PageFlow::heading(std::string_view plain) {
  const std::string text = said(plain);
  need(14);
  y_ += 2.2;
  y_ += page().text({left(), y_}, text, kHeadingText).height + 0.8;
}

void PageFlow::cells(const std::vector<double>& columns_mm, const std::vector<std::string>& plain,
                     const TextStyle& style) {
  std::vector<std::string> texts;
  for (const std::string& text : plain) texts.push_back(said(text));
  double height = 0;
  std::vector<double> widths;
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const double end = i + 1 < columns_mm.size() ? columns_mm[i + 1] - 1.5 : width();
    widths.push_back(end - columns_mm[i]);
    height = std::max(height, text_extent(texts[i], style, widths[i]).height);
  }
  need(height + 0.5);
  for (std::size_t i = 0; i < texts.size(); ++i)
    page().text({left() + columns_mm[i], y_}, texts[i], style, widths[i]);
  y_ += height + 0.5;
}

void PageFlow::rule(double width_mm) {
  page().line({left(), y_}, {right(), y_}, {width_mm, kInk, {}});
  y_ += 1.5;
}

void PageFlow::finish(std::string_view foot) {
  const double y = last_line() + 5;
  for (std::size_t i = 0; i < pages_.size(); ++i) {
    Page& page = *pages_[i];
    page.line({left(), y - 1.5}, {right(), y - 1.5}, {0.15, grey(0.5), {}});
    page.text({left(), y}, foot, kLabelText);
    page.text({right(), y}, fmt::format("page {} of {}", i + 1, pages_.size()),
              aligned(kLabelText, Align::right));
  }
}

}  // namespace scantling
