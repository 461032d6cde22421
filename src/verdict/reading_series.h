#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/check.h"
#include "verdict/verdict.h"

namespace scantling {

/// One reading of a disc's thickness at a clock position, 12 at the top.
struct ClockReading {
  double clock = 12;  ///< above 0, up to 12
  HandReading reading;
};

/// What the readings round a disc say together.
struct ReadingSeries {
  HandReading smallest;          ///< the one that decides about the thickness
  double smallest_at_clock = 0;  ///< where the disc is thinnest
  double mean_mm = 0;            ///< for information: a mean may hide a thin place
  /// Disc thickness variation: largest less smallest, with its 95 % uncertainty, from which an
  /// instrument's error common to both is left out. A photo cannot tell it.
  double thickness_variation_mm = 0;
  double variation_expanded_95_mm = 0;
  std::vector<Check> checks;
};

/// Common practice: 4 to 12 readings, evenly spaced, all as far in from the edge.
inline constexpr std::size_t kFewestReadingsRound = 4;

/// Nothing where there is no reading, or one of them is not a size at a clock position.
std::optional<ReadingSeries> summarise_round(std::span<const ClockReading> readings);

/// N clock positions, evenly spaced from 12 o'clock onwards.
std::vector<double> even_clock_positions(std::size_t count);

/// "12 o'clock", "1:30 o'clock".
std::string clock_text(double clock);

}  // namespace scantling
