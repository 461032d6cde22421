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

}  // namespace

Page::Page(PageSize size) : size_(size) {
  if (!(size.width_mm > 0 && size.height_mm > 0))
    throw std::invalid_argument("A page needs a width and a height.");
  const cairo_rectangle_t extent{0, 0, size.width_mm * k, size.height_mm * k};
  recording_ = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &extent);
  cairo_ = cairo_create(recording_);
}

Page::~Page() {
  cairo_destroy(cairo_);
  cairo_surface_destroy(recording_);
}

Page::Page(Page&& other) noexcept
    : size_(other.size_),
      recording_(std::exchange(other.recording_, nullptr)),
      cairo_(std::exchange(other.cairo_, nullptr)) {}

Page& Page::operator=(Page&& other) noexcept {
  std::swap(size_, other.size_);
  std::swap(recording_, other.recording_);
  std::swap(cairo_, other.cairo_);
  return *this;
}

void Page::path(std::span<const PagePoint> points, bool closed) {
  cairo_new_path(cairo_);
  for (const PagePoint& p : points) cairo_line_to(cairo_, p.x * k, p.y * k);
  if (closed) cairo_close_path(cairo_);
}

void Page::stroke_path(const Stroke& stroke) {
  std::vector<double> dash = stroke.dash_mm;
  std::transform(dash.begin(), dash.end(), dash.begin(), [](double mm) { return mm * k; });
  cairo_set_dash(cairo_, dash.data(), static_cast<int>(dash.size()), 0);
  cairo_set_line_width(cairo_, stroke.width_mm * k);
  cairo_set_source_rgb(cairo_, stroke.colour.red, stroke.colour.green, stroke.colour.blue);
  cairo_stroke(cairo_);
}

void Page::fill_path(Colour colour) {
  cairo_set_source_rgb(cairo_, colour.red, colour.green, colour.blue);
  cairo_fill(cairo_);
}

void Page::fill_boxes(std::span<const PageBox> boxes, Colour colour) {
  cairo_new_path(cairo_);
  for (const PageBox& b : boxes)
    cairo_rectangle(cairo_, b.x * k, b.y * k, b.width * k, b.height * k);
  fill_path(colour);
}

void Page::fill_polygon(std::span<const PagePoint> points, Colour colour) {
  path(points, true);
  fill_path(colour);
}

void Page::fill_circle(PagePoint centre, double radius_mm, Colour colour) {
  cairo_new_path(cairo_);
  cairo_arc(cairo_, centre.x * k, centre.y * k, radius_mm * k, 0, 2 * std::numbers::pi);
  fill_path(colour);
}

void Page::line(PagePoint from, PagePoint to, const Stroke& stroke) {
  const PagePoint ends[] = {from, to};
  polyline(ends, stroke);
}

void Page::polyline(std::span<const PagePoint> points, const Stroke& stroke) {
  path(points, false);
  stroke_path(stroke);
}

void Page::polygon(std::span<const PagePoint> points, const Stroke& stroke) {
  path(points, true);
  stroke_path(stroke);
}

void Page::box(const PageBox& b, const Stroke& stroke) {
  const PagePoint corners[] = {
      {b.x, b.y}, {b.right(), b.y}, {b.right(), b.bottom()}, {b.x, b.bottom()}};
  polygon(corners, stroke);
}

void Page::circle(PagePoint centre, double radius_mm, const Stroke& stroke) {
  cairo_new_path(cairo_);
  cairo_arc(cairo_, centre.x * k, centre.y * k, radius_mm * k, 0, 2 * std::numbers::pi);
  cairo_close_path(cairo_);
  stroke_path(stroke);
}

void Page::hatch(std::span<const PagePoint> points, double spacing_mm, const Stroke& stroke) {
  if (points.empty() || !(spacing_mm > 0)) return;
  PagePoint low = points[0], high = points[0];
  for (const PagePoint& p : points) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  cairo_save(cairo_);
  path(points, true);
  cairo_clip(cairo_);
  cairo_new_path(cairo_);
  const double step = spacing_mm * std::numbers::sqrt2;
  for (double c = low.x + low.y + step / 2; c < high.x + high.y; c += step) {
    cairo_move_to(cairo_, (c - low.y) * k, low.y * k);
    cairo_line_to(cairo_, (c - high.y) * k, high.y * k);
  }
  stroke_path(stroke);
  cairo_restore(cairo_);
}

TextExtent Page::text(PagePoint at, std::string_view text, const TextStyle& style,
                      double width_mm) {
  return lay_out_text(cairo_, at, text, style, width_mm);
}

void Page::picture(const PageBox& box, const cv::Mat& picture, std::string jpeg) {
  if (picture.empty() || (picture.type() != CV_8UC3 && picture.type() != CV_8UC1))
    throw std::invalid_argument("A picture on a page must be 8-bit grey or RGB, and not empty.");
  const CairoSurface image = image_of(picture);
  const bool as_jpeg = !jpeg.empty();
  if (as_jpeg) attach_jpeg(image.get(), std::move(jpeg));
  cairo_save(cairo_);
  cairo_translate(cairo_, box.x * k, box.y * k);
  cairo_scale(cairo_, box.width * k / picture.cols, box.height * k / picture.rows);
  cairo_set_source_surface(cairo_, image.get(), 0, 0);
  // Padded, border pixels are not blended with the page around; but Cairo 1.16 leaves the JPEG
  // bytes out of a padded picture.
  if (!as_jpeg) cairo_pattern_set_extend(cairo_get_source(cairo_), CAIRO_EXTEND_PAD);
  cairo_rectangle(cairo_, 0, 0, picture.cols, picture.rows);
  cairo_fill(cairo_);
  cairo_restore(cairo_);
}

void Page::turned(PagePoint at, double degrees, const std::function<void()>& draw) {
  cairo_save(cairo_);
  cairo_translate(cairo_, at.x * k, at.y * k);
  cairo_rotate(cairo_, degrees * std::numbers::pi / 180);
  draw();
  cairo_restore(cairo_);
}

void Page::clipped(const PageBox& b, const std::function<void()>& draw) {
  cairo_save(cairo_);
  cairo_rectangle(cairo_, b.x * k, b.y * k, b.width * k, b.height * k);
  cairo_clip(cairo_);
  draw();
  cairo_restore(cairo_);
}

}  // namespace scantling
