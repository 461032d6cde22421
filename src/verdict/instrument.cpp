#include "verdict/instrument.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

namespace scantling {

namespace {

constexpr std::string_view kDepth = "DIN 862, depth";

constexpr std::array<Instrument, 8> kInstruments{{
    {"micrometer", 0.01, 0.01, 0.002, "DIN 863-1"},
    {"digital micrometer", 0.001, 0.01, 0.001, "DIN 863-1"},
    {"digital calliper", 0.01, 0.03, 0.01, "DIN 862"},
    {"vernier calliper, 0.02 mm", 0.02, 0.03, 0.01, "DIN 862"},
    {"vernier calliper, 0.05 mm", 0.05, 0.03, 0.02, "DIN 862"},
    {"steel rule", 0.5, 0.3, 0.2, "Directive 2014/32/EU annex X, class II"},
    {"digital depth gauge", 0.01, 0.03, 0.01, kDepth},
    {"vernier depth gauge, 0.05 mm", 0.05, 0.03, 0.02, kDepth},
}};

/// Upper end of a measuring range and the error limit up to there.
struct Step {
  double up_to_mm;
  double error_mm;
};

double from_table(std::span<const Step> table, double reading_mm) {
  for (const Step& step : table)
    if (reading_mm <= step.up_to_mm) return step.error_mm;
  return table.back().error_mm;
}

// DIN 863-1, outside micrometers, by measuring range.
constexpr std::array<Step, 6> kMicrometer{
    {{50, 0.004}, {100, 0.005}, {150, 0.006}, {200, 0.007}, {250, 0.008}, {300, 0.009}}};
// DIN 862, 0.02 vernier and 0.01 digital: the ends of the ranges vary between summaries.
constexpr std::array<Step, 2> kFineCalliper{{{100, 0.020}, {600, 0.030}}};
// DIN 862, 0.05 vernier.
constexpr std::array<Step, 3> kVernier{{{300, 0.050}, {400, 0.060}, {500, 0.070}}};
// DIN 862: what depth adds.
constexpr double kDepthMore_mm = 0.020;

}  // namespace

std::span<const Instrument> instruments() {
  return kInstruments;
}

const Instrument* instrument_named(std::string_view name) {
  const auto found = std::find_if(kInstruments.begin(), kInstruments.end(),
                                  [&](const Instrument& i) { return i.name == name; });
  return found == kInstruments.end() ? nullptr : &*found;
}

double rule_error_mm(int accuracy_class, double length_m, bool from_the_edge) {
  constexpr std::array<std::array<double, 3>, 3> kFactors{
      {{0.1, 0.1, 0.1}, {0.3, 0.2, 0.2}, {0.6, 0.4, 0.3}}};
  if (accuracy_class < 1 || accuracy_class > 3)
    throw std::invalid_argument("the accuracy class of a rule is 1, 2 or 3");
  if (!(length_m >= 0)) throw std::invalid_argument("a length must not be negative");
  const auto& [a, b, c] = kFactors[static_cast<std::size_t>(accuracy_class - 1)];
  return a + b * std::ceil(length_m) + (from_the_edge ? c : 0);
}

double permissible_error_mm(const Instrument& instrument, double reading_mm) {
  if (instrument.basis == "DIN 863-1") return from_table(kMicrometer, reading_mm);
  if (instrument.basis == "DIN 862" || instrument.basis == kDepth)
    return (instrument.resolution_mm > 0.02 ? from_table(kVernier, reading_mm)
                                            : from_table(kFineCalliper, reading_mm)) +
           (instrument.basis == kDepth ? kDepthMore_mm : 0);
  // Nobody reads a part from one mark to another: it is set against the rule's edge.
  return rule_error_mm(2, reading_mm / 1000, true);
}

InstrumentFigures figures_of(const Instrument& instrument, double reading_mm) {
  return {instrument.resolution_mm, permissible_error_mm(instrument, reading_mm)};
}

double standard_uncertainty_mm(const Instrument& instrument, double reading_mm) {
  const double own = permissible_error_mm(instrument, reading_mm) / std::sqrt(3.0);
  const double step = instrument.resolution_mm / 2 / std::sqrt(3.0);
  return std::max(instrument.floor_mm, std::hypot(own, step));
}

}  // namespace scantling
