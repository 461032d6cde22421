#pragma once

#include <imgui.h>

namespace scantling {

/// The window's type sizes. All four are valid even on a machine without a single font file.
struct Fonts {
  ImFont* body = nullptr;
  ImFont* strong = nullptr;  ///< body size, half bold: headings and the word of the verdict
  ImFont* small = nullptr;
  ImFont* large = nullptr;   ///< the verdict
  ImFont* figure = nullptr;  ///< the size in mm, to be read at arm's length
};

/// Loads Inter, or else DejaVu Sans, or else ImGui's built-in font. Call before the first frame.
Fonts load_fonts(float scale);
const Fonts& fonts();

}  // namespace scantling
