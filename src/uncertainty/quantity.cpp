#include "uncertainty/quantity.h"

#include <algorithm>
#include <cmath>

#include "uncertainty/coverage.h"

namespace scantling {

double known_degrees_of_freedom(double degrees_of_freedom) {
  return degrees_of_freedom > 0 ? degrees_of_freedom : 1.0;
}

double Quantity::expanded_95_mm() const {
  return coverage_factor(0.95, known_degrees_of_freedom(degrees_of_freedom)) *
         standard_uncertainty_mm;
}

Quantity combine_independent(double value_mm, std::vector<BudgetLine> budget) {
  double variance = 0;
  double welch = 0;
  for (const BudgetLine& line : budget) {
    const double u2 = line.standard_uncertainty_mm * line.standard_uncertainty_mm;
    variance += u2;
    // Divided by infinity, an unlimited source adds nothing.
    welch += u2 * u2 / known_degrees_of_freedom(line.degrees_of_freedom);
  }
  std::stable_sort(budget.begin(), budget.end(), [](const BudgetLine& a, const BudgetLine& b) {
    return a.standard_uncertainty_mm > b.standard_uncertainty_mm;
  });
  Quantity result;
  result.value_mm = value_mm;
  result.standard_uncertainty_mm = std::sqrt(variance);
  result.degrees_of_freedom = welch > 0 ? variance * variance / welch : kUnlimitedDegreesOfFreedom;
  result.budget = std::move(budget);
  return result;
}

BudgetLine scaled_line(BudgetLine line, double factor) {
  line.standard_uncertainty_mm *= factor;
  if (line.remedy) line.remedy->standard_uncertainty_mm *= factor;
  return line;
}

std::vector<std::string> better_inputs(const Quantity& size) {
  std::vector<std::string> inputs;
  for (const BudgetLine& line : size.budget)
    if (line.remedy && std::find(inputs.begin(), inputs.end(), line.remedy->input) == inputs.end())
      inputs.push_back(line.remedy->input);
  return inputs;
}

Quantity with_better_input(const Quantity& size, std::string_view input) {
  std::vector<BudgetLine> lines = size.budget;
  for (BudgetLine& line : lines) {
    if (!line.remedy || line.remedy->input != input) continue;
    line.standard_uncertainty_mm = line.remedy->standard_uncertainty_mm;
    line.remedy.reset();
  }
  return combine_independent(size.value_mm, std::move(lines));
}

}  // namespace scantling
