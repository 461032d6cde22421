#include "verdict/hand_entry.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "verdict/hand_reading_text.h"

namespace scantling {

namespace {

constexpr double kLargestZeroError_mm = 1;
constexpr double kLargestStep_mm = 1;
constexpr double kLargestError_mm = 2;

ReadEntry refused(std::string sentence) {
  ReadEntry entry;
  entry.problem = std::move(sentence);
  return entry;
}

std::string instrument_list() {
  std::string list;
  for (const Instrument& instrument : instruments())
    list += (list.empty() ? "" : "; ") + std::string(instrument.name);
  return list;
}

double own_uncertainty_mm(double step_mm, double repeatability_mm) {
  return std::hypot(step_mm / 2 / std::sqrt(3.0), repeatability_mm);
}

}  // namespace

std::optional<double> own_uncertainty_mm(std::string_view name, std::string_view as_typed,
                                         std::optional<double> resolution_mm) {
  const Instrument* instrument = instrument_named(name);
  const LengthText length = length_from_text(as_typed);
  if (!instrument || !length.value_mm) return std::nullopt;
  const double step = std::max(resolution_mm.value_or(instrument->resolution_mm), length.step_mm);
  return own_uncertainty_mm(step, instrument->repeatability_mm);
}

LengthText zero_error_from_text(std::string_view typed) {
  const std::string plain = with_plain_spaces(typed);
  std::string_view text = plain;
  const std::size_t first = text.find_first_not_of(" \t");
  if (first != std::string_view::npos) text.remove_prefix(first);
  double sign = 1;
  for (const std::string_view minus : {std::string_view("-"), std::string_view("\xE2\x88\x92")})
    if (text.starts_with(minus)) {
      sign = -1;
      text.remove_prefix(minus.size());
      break;
    }
  LengthText length = length_from_text(text);
  if (!length.value_mm) {
    length.problem =
        "The zero error is what the instrument shows when closed: write it as 0.02 mm or -0.01 mm.";
    return length;
  }
  if (*length.value_mm > kLargestZeroError_mm) {
    length.value_mm = std::nullopt;
    length.problem =
        "That is too much for a zero error: clean the measuring faces, close it and read it again.";
    return length;
  }
  *length.value_mm *= sign;
  return length;
}

ReadEntry read_hand_entry(const HandEntry& entry) {
  const Instrument* instrument = instrument_named(entry.instrument);
  if (!instrument)
    return refused("Choose the instrument that you read: " + instrument_list() + ".");
  const LengthText length = length_from_text(entry.reading);
  if (!length.value_mm) return refused(length.problem);

  ReadEntry result;
  result.figures = figures_of(*instrument, *length.value_mm);
  if (!entry.resolution.empty()) {
    const LengthText step = length_from_text(with_unit_of(entry.reading, entry.resolution));
    if (!step.value_mm || !(*step.value_mm > 0 && *step.value_mm <= kLargestStep_mm))
      return refused("The smallest step must be above 0 and at most 1 mm: write it as 0.01 mm.");
    result.figures.resolution_mm = *step.value_mm;
  }
  if (!entry.permissible_error.empty()) {
    const LengthText error = length_from_text(with_unit_of(entry.reading, entry.permissible_error));
    if (!error.value_mm || *error.value_mm > kLargestError_mm)
      return refused(
          "The error limit must be between 0 and 2 mm: it stands in the instrument's certificate.");
    result.figures.permissible_error_mm = *error.value_mm;
  }
  double zero_step = 0;
  if (!entry.zero.empty()) {
    const LengthText zero = zero_error_from_text(with_unit_of(entry.reading, entry.zero));
    if (!zero.value_mm) return refused(zero.problem);
    result.zero_error_mm = *zero.value_mm;
    zero_step = result.figures.resolution_mm;
  }
  // Binary fractions make 1.13 - 0.13 a little less than 1.00, which would condemn a part exactly
  // at its limit. No instrument tells a nanometre: to that the corrected reading is rounded, which
  // gives the very number that typing the difference gives. Adding zero makes -0 plain 0.
  const double value_mm =
      entry.zero.empty() ? *length.value_mm
                         : std::round((*length.value_mm - result.zero_error_mm) * 1e6) / 1e6 + 0.0;
  if (value_mm < 0) return refused("The reading is less than the zero error: read both again.");
  const double step = std::max(result.figures.resolution_mm, length.step_mm);
  const double u =
      std::hypot(result.figures.permissible_error_mm, step / 2, zero_step / 2) / std::sqrt(3.0);
  result.reading =
      HandReading{value_mm, std::max(u, instrument->floor_mm), std::string(instrument->name),
                  own_uncertainty_mm(step, instrument->repeatability_mm)};
  return result;
}

}  // namespace scantling
