#pragma once

#include <cairo.h>

#include <string_view>

#include "print/page.h"

namespace scantling {

/// Lays text out with Pango and shows it at the context's origin, in points; the extent is in mm.
/// Only measures where `cairo` is null.
TextExtent lay_out_text(cairo_t* cairo, PagePoint at, std::string_view text, const TextStyle& style,
                        double width_mm);

}  // namespace scantling
