#pragma once

#include "print/style.h"

namespace scantling {

/// The type and lines of the printable sheets.
inline constexpr Colour kQuiet = grey(0.35);
inline const Stroke kRule{0.2, kInk, {}};
inline const TextStyle kTitle{15, Weight::bold};
inline const TextStyle kSubtitle{9, Weight::regular, kQuiet};
inline const TextStyle kHeading{8.5, Weight::semibold};
inline const TextStyle kBody{8};
inline const TextStyle kLabel{7, Weight::regular, kQuiet};

/// The grey, thin stroke of every line to cut along, and the dashes of every fold.
inline const Stroke kCut{0.15, grey(0.55), {}};
inline const Stroke kFold{0.2, grey(0.35), {1.5, 1.0}};

inline TextStyle aligned(TextStyle style, Align align) {
  style.align = align;
  return style;
}

}  // namespace scantling
