#include "command_line/monte_carlo_text.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "report/wording.h"

namespace scantling {

std::vector<DimensionCheck> check_by_monte_carlo(const Measurement& measurement) {
  std::vector<DimensionCheck> checks;
  for (const Dimension& dimension : measurement.dimensions) {
    DimensionCheck check{dimension.name, std::nullopt, ""};
    if (!dimension.chain) {
      check.why_not = "This size came without its model: measure its photo again.";
    } else {
      try {
        check.check = check_by_monte_carlo(*dimension.chain);
      } catch (const std::domain_error&) {
        check.why_not =
            "Some draws gave no size: the card is seen too flat, or the part lies far from it. "
            "Take "
            "the photo again, squarer to the card.";
      }
    }
    checks.push_back(std::move(check));
  }
  return checks;
}

std::string monte_carlo_table(const std::vector<DimensionCheck>& checks) {
  std::string text = fmt::format("95 % intervals, mm:\n  {:<28}{:<20}{:<20}{:>9}{:>12}\n", "size",
                                 "first order", "Monte Carlo", "draws", "tolerance");
  std::string notes;
  for (const DimensionCheck& d : checks) {
    const std::string title = dimension_title(d.dimension);
    if (!d.check) {
      notes += fmt::format("  {}: {}\n", title, d.why_not);
      continue;
    }
    const ChainCheck& c = *d.check;
    text +=
        fmt::format("  {:<28}{:<20}{:<20}{:>9}{:>12.4f}\n", title,
                    fmt::format("{:.3f} to {:.3f}", c.first_order_95.low, c.first_order_95.high),
                    fmt::format("{:.3f} to {:.3f}", c.drawn.symmetric.low, c.drawn.symmetric.high),
                    c.drawn.trials, c.check.tolerance);
    notes += fmt::format("  {}: {}\n", title, c.sentence);
  }
  return text + notes;
}

nlohmann::ordered_json monte_carlo_json(const DimensionCheck& d) {
  if (!d.check) return {{"interval_95_mm", nullptr}, {"message", d.why_not}};
  const ChainCheck& c = *d.check;
  return {{"mean_mm", c.drawn.mean},
          {"standard_uncertainty_mm", c.drawn.standard_uncertainty},
          {"interval_95_mm", {c.drawn.symmetric.low, c.drawn.symmetric.high}},
          {"shortest_95_mm", {c.drawn.shortest.low, c.drawn.shortest.high}},
          {"draws", c.drawn.trials},
          {"stable", c.drawn.stable},
          {"first_order_95_mm", {c.first_order_95.low, c.first_order_95.high}},
          {"tolerance_mm", c.check.tolerance},
          {"ends_apart_mm", {c.check.low_apart, c.check.high_apart}},
          {"first_order_holds", c.first_order_holds},
          {"message", c.sentence}};
}

}  // namespace scantling
