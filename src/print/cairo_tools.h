#pragma once

#include <cairo.h>

#include <memory>
#include <stdexcept>
#include <string>

namespace scantling {

inline constexpr double kPoints_per_mm = 72.0 / 25.4;

struct CairoRelease {
  void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
using CairoContext = std::unique_ptr<cairo_t, CairoRelease>;
using CairoSurface = std::unique_ptr<cairo_surface_t, CairoRelease>;

inline void require_success(cairo_status_t status) {
  if (status != CAIRO_STATUS_SUCCESS)
    throw std::runtime_error(std::string("Drawing a page failed: ") +
                             cairo_status_to_string(status));
}

}  // namespace scantling
