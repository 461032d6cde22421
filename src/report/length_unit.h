#pragma once

#include <string>
#include <string_view>

namespace scantling {

/// What a report's lengths are written in. The record itself is in millimetres.
enum class LengthUnit { millimetre, inch };

/// The text with its lengths in the unit: "5.02 ± 0.06 mm" becomes "0.198 ± 0.002 in", one decimal
/// more than there were and at least three, at 25.4 mm to the inch. What is converted is the
/// millimetre figure as shown, so that the same size reads the same wherever it stands. Names of
/// instruments, and lengths that stand beside their inches already, stay as they are.
std::string in_unit(std::string_view text, LengthUnit unit);

/// "mm" or "in".
const char* unit_word(LengthUnit unit);

}  // namespace scantling
