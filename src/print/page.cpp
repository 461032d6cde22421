#include "print/page.h"

#include <algorithm>
#include <memory>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "print/cairo_tools.h"
#include "print/text.h"

namespace scantling {
namespace {

constexpr double k = kPoints_per_mm;

CairoSurface image_of(const cv::Mat& picture) {
  CairoSurface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, picture.cols, picture.rows));
  require_success(cairo_surface_status(surface.get()));
  unsigned char* const pixels = cairo_image_surface_get_data(surface.get());
  const int stride = cairo_image_surface_get_stride(surface.get());
  const int channels = picture.channels();
  for (int y = 0; y < picture.rows; ++y) {
    const unsigned char* from = picture.ptr(y);
    auto* to = reinterpret_cast<std::uint32_t*>(pixels + static_cast<std::ptrdiff_t>(y) * stride);
    for (int x = 0; x < picture.cols; ++x, from += channels) {
      const std::uint32_t red = from[0];
      const std::uint32_t green = from[channels == 3 ? 1 : 0];
      const std::uint32_t blue = from[channels == 3 ? 2 : 0];
      to[x] = red << 16 | green << 8 | blue;
    }
  }
  cairo_surface_mark_dirty(surface.get());
  return surface;
}

void attach_jpeg(cairo_surface_t* surface, std::string jpeg) {
  auto bytes = std::make_unique<std::string>(std::move(jpeg));
  const auto* data = reinterpret_cast<const unsigned char*>(bytes->data());
  const auto release = [](void* kept) { delete static_cast<std::string*>(kept); };
  require_success(cairo_surface_set_mime_data(surface, CAIRO_MIME_TYPE_JPEG, data, bytes->size(),
                                              release, bytes.get()));
  bytes.release();  // the surface frees it
}

using Points = std::vector<PagePoint>;

Points copied(std::span<const PagePoint> points) {
  return {points.begin(), points.end()};
}

void trace(cairo_t* cairo, const Points& points, bool closed) {
  cairo_new_path(cairo);
  for (const PagePoint& p : points) cairo_line_to(cairo, p.x * k, p.y * k);
  if (closed) cairo_close_path(cairo);
}

void trace_circle(cairo_t* cairo, PagePoint centre, double radius_mm) {
  cairo_new_path(cairo);
  cairo_arc(cairo, centre.x * k, centre.y * k, radius_mm * k, 0, 2 * std::numbers::pi);
  cairo_close_path(cairo);
}

void stroke_path(cairo_t* cairo, const Stroke& stroke) {
  std::vector<double> dash = stroke.dash_mm;
  std::transform(dash.begin(), dash.end(), dash.begin(), [](double mm) { return mm * k; });
  cairo_set_dash(cairo, dash.data(), static_cast<int>(dash.size()), 0);
  cairo_set_line_width(cairo, stroke.width_mm * k);
  cairo_set_source_rgb(cairo, stroke.colour.red, stroke.colour.green, stroke.colour.blue);
  cairo_stroke(cairo);
}

void fill_path(cairo_t* cairo, Colour colour) {
  cairo_set_source_rgb(cairo, colour.red, colour.green, colour.blue);
  cairo_fill(cairo);
}

}  // namespace

Page::Page(PageSize size) : size_(size) {
  if (!(size.width_mm > 0 && size.height_mm > 0))
    throw std::invalid_argument("A page needs a width and a height.");
}

void Page::draw_on(cairo_t* cairo) const {
  for (const Operation& operation : operations_) operation(cairo);
}

void Page::fill_boxes(std::span<const PageBox> boxes, Colour colour) {
  operations_.push_back([kept = std::vector(boxes.begin(), boxes.end()), colour](cairo_t* cairo) {
    cairo_new_path(cairo);
    for (const PageBox& b : kept)
      cairo_rectangle(cairo, b.x * k, b.y * k, b.width * k, b.height * k);
    fill_path(cairo, colour);
  });
}

void Page::fill_polygon(std::span<const PagePoint> points, Colour colour) {
  operations_.push_back([kept = copied(points), colour](cairo_t* cairo) {
    trace(cairo, kept, true);
    fill_path(cairo, colour);
  });
}

void Page::fill_circle(PagePoint centre, double radius_mm, Colour colour) {
  operations_.push_back([=](cairo_t* cairo) {
    trace_circle(cairo, centre, radius_mm);
    fill_path(cairo, colour);
  });
}

void Page::line(PagePoint from, PagePoint to, const Stroke& stroke) {
  const PagePoint ends[] = {from, to};
  polyline(ends, stroke);
}

void Page::polyline(std::span<const PagePoint> points, const Stroke& stroke) {
  operations_.push_back([kept = copied(points), stroke](cairo_t* cairo) {
    trace(cairo, kept, false);
    stroke_path(cairo, stroke);
  });
}

void Page::polygon(std::span<const PagePoint> points, const Stroke& stroke) {
  operations_.push_back([kept = copied(points), stroke](cairo_t* cairo) {
    trace(cairo, kept, true);
    stroke_path(cairo, stroke);
  });
}

void Page::box(const PageBox& b, const Stroke& stroke) {
  const PagePoint corners[] = {
      {b.x, b.y}, {b.right(), b.y}, {b.right(), b.bottom()}, {b.x, b.bottom()}};
  polygon(corners, stroke);
}

void Page::circle(PagePoint centre, double radius_mm, const Stroke& stroke) {
  operations_.push_back([=](cairo_t* cairo) {
    trace_circle(cairo, centre, radius_mm);
    stroke_path(cairo, stroke);
  });
}

void Page::hatch(std::span<const PagePoint> points, double spacing_mm, const Stroke& stroke) {
  if (points.empty() || !(spacing_mm > 0)) return;
  PagePoint low = points[0], high = points[0];
  for (const PagePoint& p : points) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  operations_.push_back([=, kept = copied(points)](cairo_t* cairo) {
    cairo_save(cairo);
    trace(cairo, kept, true);
    cairo_clip(cairo);
    cairo_new_path(cairo);
    const double step = spacing_mm * std::numbers::sqrt2;
    for (double c = low.x + low.y + step / 2; c < high.x + high.y; c += step) {
      cairo_move_to(cairo, (c - low.y) * k, low.y * k);
      cairo_line_to(cairo, (c - high.y) * k, high.y * k);
    }
    stroke_path(cairo, stroke);
    cairo_restore(cairo);
  });
}

TextExtent Page::text(PagePoint at, std::string_view text, const TextStyle& style,
                      double width_mm) {
  operations_.push_back([=, kept = std::string(text)](cairo_t* cairo) {
    lay_out_text(cairo, at, kept, style, width_mm);
  });
  return text_extent(text, style, width_mm);
}

TextExtent Page::text_in(const PageBox& box, std::string_view text, TextStyle style) {
  constexpr double kSmallest_pt = 6, kStep_pt = 0.25;
  const auto fits = [&] {
    const TextExtent extent = text_extent(text, style, box.width);
    return extent.height <= box.height && extent.width <= box.width + 0.01;
  };
  while (style.size_pt > kSmallest_pt && !fits()) style.size_pt -= kStep_pt;
  return this->text({box.x, box.y}, text, style, box.width);
}

void Page::picture(const PageBox& box, const cv::Mat& picture, std::string jpeg) {
  if (picture.empty() || (picture.type() != CV_8UC3 && picture.type() != CV_8UC1))
    throw std::invalid_argument("A picture on a page must be 8-bit grey or RGB, and not empty.");
  const std::shared_ptr<cairo_surface_t> image = image_of(picture);
  const bool as_jpeg = !jpeg.empty();
  if (as_jpeg) attach_jpeg(image.get(), std::move(jpeg));
  const cv::Size size = picture.size();
  operations_.push_back([=](cairo_t* cairo) {
    cairo_save(cairo);
    cairo_translate(cairo, box.x * k, box.y * k);
    cairo_scale(cairo, box.width * k / size.width, box.height * k / size.height);
    cairo_set_source_surface(cairo, image.get(), 0, 0);
    // Padded, border pixels are not blended with the page around; but Cairo 1.16 leaves the JPEG
    // bytes out of a padded picture.
    if (!as_jpeg) cairo_pattern_set_extend(cairo_get_source(cairo), CAIRO_EXTEND_PAD);
    cairo_rectangle(cairo, 0, 0, size.width, size.height);
    cairo_fill(cairo);
    cairo_restore(cairo);
  });
}

void Page::turned(PagePoint at, double degrees, const std::function<void()>& draw) {
  operations_.push_back([=](cairo_t* cairo) {
    cairo_save(cairo);
    cairo_translate(cairo, at.x * k, at.y * k);
    cairo_rotate(cairo, degrees * std::numbers::pi / 180);
  });
  draw();
  operations_.push_back(cairo_restore);
}

void Page::clipped(const PageBox& b, const std::function<void()>& draw) {
  operations_.push_back([=](cairo_t* cairo) {
    cairo_save(cairo);
    cairo_rectangle(cairo, b.x * k, b.y * k, b.width * k, b.height * k);
    cairo_clip(cairo);
  });
  draw();
  operations_.push_back(cairo_restore);
}

}  // namespace scantling
