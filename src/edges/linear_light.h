#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace scantling {

/// 8-bit sRGB code values to linear light, 0..1 (IEC 61966-2-1). A blurred edge is symmetric only
/// in linear light: fitted on code values it sits up to half a pixel on the dark side.
const std::array<float, 256>& linear_light_table();

/// The inverse: linear light 0..1 to a code value 0..255, not rounded.
double srgb_code(double linear);

/// The same from a table, to 0.01 code values: for finding, where millions are wanted.
class QuickSrgbCode {
 public:
  QuickSrgbCode();
  float operator()(float linear) const {
    const float place = std::sqrt(std::clamp(linear, 0.f, 1.f)) * kEntries;
    const auto i = static_cast<std::size_t>(place);
    return (*table_)[i] + (place - static_cast<float>(i)) * ((*table_)[i + 1] - (*table_)[i]);
  }

 private:
  // Spaced evenly in the square root, where the curve is nearly straight.
  static constexpr int kEntries = 1024;
  using Table = std::array<float, kEntries + 2>;
  static const Table& table();
  const Table* table_;
};

}  // namespace scantling
