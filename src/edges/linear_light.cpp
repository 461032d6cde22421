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

QuickSrgbCode::QuickSrgbCode() : table_(&table()) {}

const QuickSrgbCode::Table& QuickSrgbCode::table() {
  static const Table table = [] {
    Table t{};
    for (std::size_t i = 0; i < t.size(); ++i) {
      const double root = static_cast<double>(i) / kEntries;
      t[i] = static_cast<float>(srgb_code(root * root));
    }
    return t;
  }();
  return table;
}

}  // namespace scantling
