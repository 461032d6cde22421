#include "edges/linear_light.h"

#include <algorithm>
#include <cmath>

namespace scantling {

const std::array<float, 256>& linear_light_table() {
  static const std::array<float, 256> table = [] {
    std::array<float, 256> t{};
    for (int i = 0; i < 256; ++i) {
      const double c = i / 255.0;
      t[static_cast<std::size_t>(i)] =
          static_cast<float>(c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4));
    }
    return t;
  }();
  return table;
}

double srgb_code(double linear) {
  const double l = std::clamp(linear, 0.0, 1.0);
  return 255 * (l <= 0.0031308 ? 12.92 * l : 1.055 * std::pow(l, 1 / 2.4) - 0.055);
}

float srgb_code_quick(float linear) {
  // Spaced evenly in the square root, where the curve is nearly straight: error below 0.01 codes.
  constexpr int kEntries = 1024;
  static const std::array<float, kEntries + 2> table = [] {
    std::array<float, kEntries + 2> t{};
    for (int i = 0; i < kEntries + 2; ++i) {
      const double root = static_cast<double>(i) / kEntries;
      t[static_cast<std::size_t>(i)] = static_cast<float>(srgb_code(root * root));
    }
    return t;
  }();
  const float place = std::sqrt(std::clamp(linear, 0.f, 1.f)) * kEntries;
  const auto i = static_cast<std::size_t>(place);
  return table[i] + (place - static_cast<float>(i)) * (table[i + 1] - table[i]);
}

}  // namespace scantling
