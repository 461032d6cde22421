#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "verdict/hand_reading_text.h"
#include "verdict/instrument.h"
#include "verdict/verdict.h"

namespace scantling {

/// A reading as a user enters it, all as typed; empty texts take the instrument's own figures.
/// Zero, resolution and error limit without a unit are in the reading's.
struct HandEntry {
  std::string reading;            ///< "22,4", "22.40 mm", ".881 in", "57/64 in"
  std::string instrument;         ///< one of instruments()
  std::string zero;               ///< what it shows when closed: "0.02", "-0,01 mm", ".001 in"
  std::string resolution;         ///< its smallest step, where it differs from the usual one
  std::string permissible_error;  ///< its error limit, from its maker or certificate
};

/// The reading, corrected for the zero error, with the uncertainty it deserves.
struct ReadEntry {
  std::optional<HandReading> reading;
  double zero_error_mm = 0;
  InstrumentFigures figures;
  std::string problem;  ///< one sentence where there is no reading
};

/// Standard uncertainty: permissible error, half a step of the reading and, where a zero was read,
/// of the zero, each as a rectangle (GUM 4.3.7); never below the instrument's floor. A reading
/// typed with fewer digits than the instrument shows, or as a fraction of an inch, has the step it
/// was typed with.
ReadEntry read_hand_entry(const HandEntry& entry);

/// What of a reading's standard uncertainty is its own: half the step it was read to, as a
/// rectangle, and the instrument's repeatability. `resolution_mm`: where it differs from the usual
/// one. Nothing where the instrument or the text is not known.
std::optional<double> own_uncertainty_mm(std::string_view instrument, std::string_view as_typed,
                                         std::optional<double> resolution_mm);

/// A zero error may be negative. Nothing, and a sentence, where the text is none or too large to be
/// one.
LengthText zero_error_from_text(std::string_view text);

}  // namespace scantling
