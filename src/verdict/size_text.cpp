#include "verdict/size_text.h"

#include <fmt/format.h>

namespace scantling {

std::string size_text(double value_mm, double other_mm) {
  for (int decimals = 2; decimals < 6; ++decimals) {
    std::string text = fmt::format("{:.{}f}", value_mm, decimals);
    if (value_mm == other_mm || text != fmt::format("{:.{}f}", other_mm, decimals))
      return text + " mm";
  }
  return fmt::format("{:.6g} mm", value_mm);
}

std::string chance_text(double probability) {
  if (probability < 0.001) return "less than 0.1 %";
  if (probability > 0.999) return "more than 99.9 %";
  return fmt::format("{:.1f} %", 100 * probability);
}

}  // namespace scantling
