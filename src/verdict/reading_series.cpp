#include "verdict/reading_series.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "uncertainty/coverage.h"

namespace scantling {

namespace {

bool usable(const ClockReading& entry) {
  const auto size = [](double value) { return std::isfinite(value) && value >= 0; };
  return entry.clock > 0 && entry.clock <= 12 && size(entry.reading.value_mm) &&
         size(entry.reading.standard_uncertainty_mm);
}

/// The widest part of the circle without a reading, in hours.
double widest_gap(std::span<const ClockReading> readings) {
  std::vector<double> clocks;
  for (const ClockReading& entry : readings) clocks.push_back(entry.clock);
  std::sort(clocks.begin(), clocks.end());
  double widest = clocks.front() + 12 - clocks.back();
  for (std::size_t i = 1; i < clocks.size(); ++i)
    widest = std::max(widest, clocks[i] - clocks[i - 1]);
  return widest;
}

/// Of the difference of two readings. What both owe to one instrument (its error, its zero, its
/// temperature) is the same quantity in both, so that it is fully correlated and cancels in the
/// difference (JCGM 100 F.1.2.3, and 5.2.2 with r = 1 and sensitivities 1 and -1); what each has of
/// its own, its step and repeatability, is left. Another instrument shares nothing.
double uncertainty_of_difference(const HandReading& a, const HandReading& b) {
  if (a.own_u_mm && b.own_u_mm && a.instrument == b.instrument)
    return std::hypot(*a.own_u_mm, *b.own_u_mm);
  return std::hypot(a.standard_uncertainty_mm, b.standard_uncertainty_mm);
}

// UN R90 allows a new light-vehicle disc 0.015 mm (value from memory); makers name 0.005 to 0.030.
constexpr double kNewDiscVariation_mm = 0.015;

}  // namespace

std::optional<ReadingSeries> summarise_round(std::span<const ClockReading> readings) {
  if (readings.empty() || !std::all_of(readings.begin(), readings.end(), usable))
    return std::nullopt;
  const auto thinner = [](const ClockReading& a, const ClockReading& b) {
    return a.reading.value_mm < b.reading.value_mm;
  };
  const auto [least, most] = std::minmax_element(readings.begin(), readings.end(), thinner);
  ReadingSeries series;
  series.smallest = least->reading;
  series.smallest_at_clock = least->clock;
  for (const ClockReading& entry : readings)
    series.mean_mm += entry.reading.value_mm / static_cast<double>(readings.size());
  series.thickness_variation_mm = most->reading.value_mm - least->reading.value_mm;
  if (readings.size() > 1)
    series.variation_expanded_95_mm = coverage_factor(0.95, kUnlimitedDegreesOfFreedom) *
                                      uncertainty_of_difference(least->reading, most->reading);

  if (readings.size() < kFewestReadingsRound || widest_gap(readings) > 4)
    series.checks.push_back({"readings_too_few_round", Severity::warn,
                             "A thin place may lie between these readings: take at least four, "
                             "evenly spaced round the disc, as far in from the edge each time."});
  if (readings.size() > 1 &&
      series.thickness_variation_mm > kNewDiscVariation_mm + series.variation_expanded_95_mm)
    series.checks.push_back(
        {"thickness_varies", Severity::warn,
         fmt::format("The thickness varies by {:.3f} mm round the disc, more than the readings' "
                     "uncertainty and a new disc's allowance explain: set it against the maker's "
                     "limit.",
                     series.thickness_variation_mm)});
  // A measurement capability index C_m = T / (2 U) below 1 leaves most of the allowance in doubt
  // (JCGM 106 7.6.3; clause number from memory).
  else if (readings.size() > 1 && series.variation_expanded_95_mm > kNewDiscVariation_mm / 2)
    series.checks.push_back(
        {"variation_below_instrument", Severity::info,
         "These readings are too coarse to tell thickness variation: it needs a "
         "micrometer readable to 0.001 or 0.002 mm."});
  return series;
}

std::vector<double> even_clock_positions(std::size_t count) {
  std::vector<double> clocks;
  for (std::size_t i = 0; i < count; ++i)
    clocks.push_back(i == 0 ? 12 : 12 * static_cast<double>(i) / static_cast<double>(count));
  return clocks;
}

std::string clock_text(double clock) {
  const long minutes = std::lround(clock * 60);
  const long hour = minutes / 60 == 0 ? 12 : minutes / 60;
  return minutes % 60 == 0 ? fmt::format("{} o'clock", hour)
                           : fmt::format("{}:{:02} o'clock", hour, minutes % 60);
}

}  // namespace scantling
