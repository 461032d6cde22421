#pragma once

#include <span>
#include <string>
#include <string_view>

namespace scantling {

/// A hand instrument with what it is worth when nothing better is known about it.
struct Instrument {
  std::string_view name;
  double resolution_mm;  ///< smallest step shown or engraved
  /// Least standard uncertainty to believe without a series of repeats: operator, burr and rust are
  /// larger than the instrument's own error.
  double floor_mm;
  /// By how much readings of one place scatter in a practised hand, as a standard deviation, beside
  /// the step. Common practice, as no standard limits it (ISO 3611 and ISO 13385-1 leave it to the
  /// maker): a digital step for electronic instruments, a fifth of the step with a ratchet, a third
  /// to half by eye and feel.
  double repeatability_mm;
  std::string_view basis;  ///< where the error limit comes from
};

std::span<const Instrument> instruments();

/// Nothing where no instrument has that name.
const Instrument* instrument_named(std::string_view name);

/// Maximum permissible error at a reading, in mm: DIN 863-1 for micrometers, DIN 862 for
/// callipers and, 0.02 mm more, their depth rods and depth gauges, Directive 2014/32/EU annex X
/// class II for a rule. The standards in force (ISO 3611, ISO 13385-1, ISO 13385-2) leave the
/// figure to the maker, who may promise less: the user may enter it.
double permissible_error_mm(const Instrument& instrument, double reading_mm);

/// Default standard uncertainty of one reading: permissible error and half a step, both as
/// rectangular distributions (GUM 4.3.7), never less than the floor.
double standard_uncertainty_mm(const Instrument& instrument, double reading_mm);

/// What one instrument is worth: the defaults, or what its owner knows better.
struct InstrumentFigures {
  double resolution_mm = 0;
  double permissible_error_mm = 0;
};

/// The defaults at a reading.
InstrumentFigures figures_of(const Instrument& instrument, double reading_mm);

/// For a reading whose instrument is not named: that of a calliper.
inline constexpr double kUnnamedInstrumentUncertainty_mm = 0.03;

/// Error limit between two marks of a rule or tape in mm (Directive 2014/32/EU, annex X, chapter
/// I): a + b L with L in metres rounded up to whole ones, plus c where one end is the rule's own
/// edge. `accuracy_class`: 1, 2 or 3. @throws std::invalid_argument for other classes or lengths
/// below 0.
double rule_error_mm(int accuracy_class, double length_m, bool from_the_edge);

}  // namespace scantling
