#include "print/document.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>

#include <cmath>
#include <functional>
#include <stdexcept>

#include "base/save_file.h"
#include "print/cairo_tools.h"

namespace scantling {
namespace {

cairo_status_t append(void* text, const unsigned char* bytes, unsigned int count) {
  static_cast<std::string*>(text)->append(reinterpret_cast<const char*>(bytes), count);
  return CAIRO_STATUS_SUCCESS;
}

/// A page bigger than any screen or printer is a slip in the caller.
constexpr double kLargestSide_px = 30'000;

CairoSurface rasterise(PageSize size, double dpi, const std::function<void(cairo_t*)>& draw) {
  const double width = std::ceil(size.width_mm / 25.4 * dpi - 1e-6);
  const double height = std::ceil(size.height_mm / 25.4 * dpi - 1e-6);
  if (!(width >= 1 && height >= 1 && width <= kLargestSide_px && height <= kLargestSide_px))
    throw std::invalid_argument("This resolution gives no sensible picture of a page.");
  CairoSurface image(cairo_image_surface_create(CAIRO_FORMAT_RGB24, static_cast<int>(width),
                                                static_cast<int>(height)));
  const CairoContext cairo(cairo_create(image.get()));
  cairo_set_source_rgb(cairo.get(), 1, 1, 1);
  cairo_paint(cairo.get());
  cairo_scale(cairo.get(), dpi / 72, dpi / 72);
  draw(cairo.get());
  require_success(cairo_status(cairo.get()));
  cairo_surface_flush(image.get());
  return image;
}

}  // namespace

std::string Document::pdf() const {
  if (pages_.empty()) throw std::runtime_error("A document without pages cannot be written.");
  std::string bytes;
  const auto points = [](double mm) { return mm * kPoints_per_mm; };
  const PageSize first = pages_.front().size();
  const CairoSurface surface(cairo_pdf_surface_create_for_stream(
      append, &bytes, points(first.width_mm), points(first.height_mm)));
  require_success(cairo_surface_status(surface.get()));
  const auto describe = [&](cairo_pdf_metadata_t field, const std::string& value) {
    if (!value.empty()) cairo_pdf_surface_set_metadata(surface.get(), field, value.c_str());
  };
  describe(CAIRO_PDF_METADATA_TITLE, info_.title);
  describe(CAIRO_PDF_METADATA_AUTHOR, info_.author);
  describe(CAIRO_PDF_METADATA_SUBJECT, info_.subject);
  describe(CAIRO_PDF_METADATA_CREATOR, "Scantling");
  describe(CAIRO_PDF_METADATA_CREATE_DATE, info_.created);
  {
    const CairoContext cairo(cairo_create(surface.get()));
    for (const Page& page : pages_) {
      cairo_pdf_surface_set_size(surface.get(), points(page.size().width_mm),
                                 points(page.size().height_mm));
      page.draw_on(cairo.get());
      cairo_show_page(cairo.get());
    }
    require_success(cairo_status(cairo.get()));
  }
  cairo_surface_finish(surface.get());
  require_success(cairo_surface_status(surface.get()));
  return bytes;
}

void Document::save_pdf(const std::filesystem::path& path) const {
  save_file(path, pdf());
}

cv::Mat Document::picture(std::size_t page_index, double dpi) const {
  const Page& shown = page(page_index);
  const CairoSurface image =
      rasterise(shown.size(), dpi, [&](cairo_t* cairo) { shown.draw_on(cairo); });
  const unsigned char* const pixels = cairo_image_surface_get_data(image.get());
  const int stride = cairo_image_surface_get_stride(image.get());
  cv::Mat result(cairo_image_surface_get_height(image.get()),
                 cairo_image_surface_get_width(image.get()), CV_8UC3);
  for (int y = 0; y < result.rows; ++y) {
    const auto* from =
        reinterpret_cast<const std::uint32_t*>(pixels + static_cast<std::ptrdiff_t>(y) * stride);
    unsigned char* to = result.ptr(y);
    for (int x = 0; x < result.cols; ++x, to += 3) {
      to[0] = static_cast<unsigned char>(from[x] >> 16);
      to[1] = static_cast<unsigned char>(from[x] >> 8);
      to[2] = static_cast<unsigned char>(from[x]);
    }
  }
  return result;
}

std::string Document::png(std::size_t page_index, double dpi) const {
  const Page& shown = page(page_index);
  const CairoSurface image =
      rasterise(shown.size(), dpi, [&](cairo_t* cairo) { shown.draw_on(cairo); });
  std::string bytes;
  require_success(cairo_surface_write_to_png_stream(image.get(), append, &bytes));
  return bytes;
}

std::string Document::svg(std::size_t page_index) const {
  const Page& shown = page(page_index);
  std::string text;
  const CairoSurface surface(
      cairo_svg_surface_create_for_stream(append, &text, shown.size().width_mm * kPoints_per_mm,
                                          shown.size().height_mm * kPoints_per_mm));
  require_success(cairo_surface_status(surface.get()));
  {
    const CairoContext cairo(cairo_create(surface.get()));
    shown.draw_on(cairo.get());
    cairo_show_page(cairo.get());
    require_success(cairo_status(cairo.get()));
  }
  cairo_surface_finish(surface.get());
  require_success(cairo_surface_status(surface.get()));
  return text;
}

}  // namespace scantling
