#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace scantling {

/// What a user typed as a size, in millimetres.
struct LengthText {
  std::optional<double> value_mm;  ///< none where the text is no size; `problem` says why
  bool in_inches = false;
  double step_mm =
      0;  ///< of the last digit typed, or the fraction's: "22.4" 0.1 mm, "57/64 in" 1/64 in
  std::string problem;  ///< one sentence for the user
};

/// No part of a brake disc or pad is thicker than this; a larger entry is a slip.
inline constexpr double kThickestPart_mm = 100;

/// Reads "22.4", "22,4", "22.4 mm", ".881 in", "57/64 in", "7/8\"", "1 1/8 in", "881 thou".
/// Without a unit the number is in millimetres; a fraction needs its unit. One inch is 25.4 mm
/// exactly (NIST SP 811 B.8), so "7/8 in" is 22.225 mm to the last digit of a double.
LengthText length_from_text(std::string_view text);

}  // namespace scantling
