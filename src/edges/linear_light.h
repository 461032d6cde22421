#pragma once

#include <array>

namespace scantling {

/// 8-bit sRGB code values to linear light, 0..1 (IEC 61966-2-1). A blurred edge is symmetric only
/// in linear light: fitted on code values it sits up to half a pixel on the dark side.
const std::array<float, 256>& linear_light_table();

/// The inverse: linear light 0..1 to a code value 0..255, not rounded.
double srgb_code(double linear);

/// The same from a table, to 0.01 code values: for finding, where millions are wanted.
float srgb_code_quick(float linear);

}  // namespace scantling
