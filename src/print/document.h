#pragma once

#include <deque>
#include <filesystem>
#include <opencv2/core/mat.hpp>
#include <string>

#include "print/page.h"

namespace scantling {

/// What a PDF says about itself.
struct DocumentInfo {
  std::string title;
  std::string author;
  std::string subject;
  /// ISO 8601 with a zone, such as "2026-03-01T00:00:00Z". Given rather than taken from the clock,
  /// so that the same drawing always gives the same file.
  std::string created = "2026-01-01T00:00:00Z";
};

/// Pages drawn in millimetres, written as PDF (fonts embedded, text searchable) or as pictures.
class Document {
 public:
  explicit Document(DocumentInfo info) : info_(std::move(info)) {}

  /// The page stays where it is while the document lives.
  Page& add_page(PageSize size) { return pages_.emplace_back(size); }
  std::size_t page_count() const { return pages_.size(); }
  const Page& page(std::size_t index) const { return pages_.at(index); }

  /// The PDF file's bytes. @throws std::runtime_error when there is no page or Cairo refuses.
  std::string pdf() const;
  /// @throws UnwritableFile
  void save_pdf(const std::filesystem::path& path) const;

  /// A page on white paper, CV_8UC3 in RGB order; 25.4 dots per inch are one pixel per mm.
  /// The page's point (x, y) mm lies at pixel (x * dpi / 25.4 - 0.5, y * dpi / 25.4 - 0.5).
  cv::Mat picture(std::size_t page_index, double dpi) const;
  /// The same as a PNG file's bytes.
  std::string png(std::size_t page_index, double dpi) const;
  /// The same as an SVG file's text, its letters as shapes: it needs no fonts.
  std::string svg(std::size_t page_index) const;

 private:
  DocumentInfo info_;
  std::deque<Page> pages_;
};

}  // namespace scantling
