#pragma once

#include <string>
#include <vector>

#include "dimension/measurement.h"

namespace scantling {

/// A size with one input better known.
struct BetterSize {
  std::string input;  ///< see better_input.h
  std::string words;  ///< what is asked of the user: "check the sheet's print scale"
  Quantity then;      ///< the size as it is, with the budget that it would have
  double now_95_mm = 0;

  double then_95_mm() const { return then.expanded_95_mm(); }
};

/// Gains below this share of the interval are not worth anybody's time.
inline constexpr double kLeastGain = 0.05;

/// What would make the size surer, the greatest gain first: its budget with each better input in
/// turn. Nothing that gains less than kLeastGain.
std::vector<BetterSize> better_sizes(const Quantity& size);
/// The same for a size of a measurement: a lip's height also by one more photo.
std::vector<BetterSize> better_sizes(const Measurement& measurement, std::string_view dimension);

/// Leaves out what gains too little and sorts the rest.
void keep_worthwhile(std::vector<BetterSize>& sizes);

/// "Check the sheet's print scale with a calliper: ± 0.21 mm to ± 0.08 mm."
std::string better_size_sentence(const BetterSize& better);

}  // namespace scantling
