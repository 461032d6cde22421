#pragma once

#include "print/style.h"

namespace scantling {

/// Round every line on a photo, so that it shows on any ground.
inline constexpr Colour kCasing{0.086, 0.094, 0.11};
inline constexpr Colour kCornerColour{0.902, 0.624, 0.0};  ///< orange of Okabe and Ito

}  // namespace scantling
