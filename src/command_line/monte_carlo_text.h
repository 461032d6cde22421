#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "dimension/measurement.h"
#include "uncertainty/size_chain.h"

namespace scantling {

/// A size's Monte Carlo interval beside its first-order one.
struct DimensionCheck {
  std::string dimension;
  std::optional<ChainCheck> check;
  std::string why_not;  ///< a sentence where there is none
};

/// Runs every size of a measurement by Monte Carlo, seeded, so that it gives the same again.
std::vector<DimensionCheck> check_by_monte_carlo(const Measurement& measurement);

std::string monte_carlo_table(const std::vector<DimensionCheck>& checks);
nlohmann::ordered_json monte_carlo_json(const DimensionCheck& check);

}  // namespace scantling
