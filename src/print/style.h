#pragma once

#include <vector>

namespace scantling {

/// sRGB, each part from 0 to 1.
struct Colour {
  double red = 0;
  double green = 0;
  double blue = 0;
};

inline constexpr Colour kInk{0, 0, 0};
inline constexpr Colour kPaper{1, 1, 1};
inline constexpr Colour grey(double level) {
  return {level, level, level};
}

/// How a line is drawn. `dash_mm` alternates drawn and open lengths; empty is solid.
struct Stroke {
  double width_mm = 0.25;
  Colour colour = kInk;
  std::vector<double> dash_mm;
};

enum class Weight { regular, medium, semibold, bold };
enum class Align { left, centre, right };

/// Inter where fontconfig finds it, else DejaVu Sans.
struct TextStyle {
  double size_pt = 9;
  Weight weight = Weight::regular;
  Colour colour = kInk;
  Align align = Align::left;
  double line_spacing = 1.0;  ///< times the font's own
};

}  // namespace scantling
