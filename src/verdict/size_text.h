#pragma once

#include <string>

namespace scantling {

/// "22.30 mm"; three decimals where `other_mm` would read the same though it differs.
std::string size_text(double value_mm, double other_mm);
inline std::string size_text(double value_mm) {
  return size_text(value_mm, value_mm);
}

/// "2.3 %", "less than 0.1 %", "more than 99.9 %".
std::string chance_text(double probability);

}  // namespace scantling
