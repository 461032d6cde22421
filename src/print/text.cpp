#include "print/text.h"

#include <pango/pangocairo.h>

#include <memory>

#include "print/cairo_tools.h"

namespace scantling {
namespace {

struct GRelease {
  void operator()(void* object) const { g_object_unref(object); }
};
struct FontRelease {
  void operator()(PangoFontDescription* font) const { pango_font_description_free(font); }
};
struct OptionsRelease {
  void operator()(cairo_font_options_t* options) const { cairo_font_options_destroy(options); }
};

PangoWeight pango_weight(Weight weight) {
  switch (weight) {
    case Weight::regular:
      return PANGO_WEIGHT_NORMAL;
    case Weight::medium:
      return PANGO_WEIGHT_MEDIUM;
    case Weight::semibold:
      return PANGO_WEIGHT_SEMIBOLD;
    case Weight::bold:
      break;
  }
  return PANGO_WEIGHT_BOLD;
}

PangoAlignment pango_align(Align align) {
  switch (align) {
    case Align::left:
      return PANGO_ALIGN_LEFT;
    case Align::centre:
      return PANGO_ALIGN_CENTER;
    case Align::right:
      break;
  }
  return PANGO_ALIGN_RIGHT;
}

using Layout = std::unique_ptr<PangoLayout, GRelease>;

Layout make_layout(std::string_view text, const TextStyle& style, double width_mm) {
  const std::unique_ptr<PangoContext, GRelease> context(
      pango_font_map_create_context(pango_cairo_font_map_get_default()));
  // A point is a unit of the page, and letters fall where the outlines say: the same everywhere.
  pango_cairo_context_set_resolution(context.get(), 72);
  const std::unique_ptr<cairo_font_options_t, OptionsRelease> options(cairo_font_options_create());
  cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options.get(), CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(context.get(), options.get());
  pango_context_set_round_glyph_positions(context.get(), FALSE);

  Layout layout(pango_layout_new(context.get()));
  const std::unique_ptr<PangoFontDescription, FontRelease> font(pango_font_description_new());
  pango_font_description_set_family(font.get(), "Inter,DejaVu Sans,sans-serif");
  pango_font_description_set_weight(font.get(), pango_weight(style.weight));
  pango_font_description_set_size(font.get(), static_cast<int>(style.size_pt * PANGO_SCALE + 0.5));
  pango_layout_set_font_description(layout.get(), font.get());
  pango_layout_set_line_spacing(layout.get(), static_cast<float>(style.line_spacing));
  pango_layout_set_alignment(layout.get(), pango_align(style.align));
  pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
  if (width_mm > 0)
    pango_layout_set_width(layout.get(), static_cast<int>(width_mm * kPoints_per_mm * PANGO_SCALE));
  pango_layout_set_text(layout.get(), text.data(), static_cast<int>(text.size()));
  return layout;
}

}  // namespace

TextExtent lay_out_text(cairo_t* cairo, PagePoint at, std::string_view text, const TextStyle& style,
                        double width_mm) {
  const Layout layout = make_layout(text, style, width_mm);
  PangoRectangle logical;
  pango_layout_get_extents(layout.get(), nullptr, &logical);
  const auto mm = [](int units) { return units / (PANGO_SCALE * kPoints_per_mm); };
  const TextExtent extent{mm(logical.width), mm(logical.height)};
  if (!cairo) return extent;

  if (!(width_mm > 0)) {
    if (style.align == Align::centre) at.x -= extent.width / 2;
    if (style.align == Align::right) at.x -= extent.width;
  }
  cairo_set_source_rgb(cairo, style.colour.red, style.colour.green, style.colour.blue);
  cairo_move_to(cairo, at.x * kPoints_per_mm, at.y * kPoints_per_mm);
  pango_cairo_show_layout(cairo, layout.get());
  cairo_new_path(cairo);
  return extent;
}

TextExtent text_extent(std::string_view text, const TextStyle& style, double width_mm) {
  return lay_out_text(nullptr, {}, text, style, width_mm);
}

}  // namespace scantling
