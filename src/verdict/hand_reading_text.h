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

/// The unit that a text names at its end, lower case: "in" of ".881 in"; empty where it is bare.
std::string unit_named_in(std::string_view text);

/// A figure that belongs to a reading, such as the zero error or a step: bare, it is in the
/// reading's unit (".001" beside ".881 in" is .001 in). Returned as it is where it names a unit of
/// its own, is blank, or the reading is bare too.
std::string with_unit_of(std::string_view reading, std::string_view side);

/// The spaces that word processors and web pages put between a number and its unit (no-break,
/// narrow no-break, figure and thin space) as plain ones.
std::string with_plain_spaces(std::string_view text);

}  // namespace scantling
