#pragma once

#include <limits>
#include <string>
#include <vector>

namespace scantling {

inline constexpr double kUnlimitedDegreesOfFreedom = std::numeric_limits<double>::infinity();

/// One line of an uncertainty budget, already multiplied by its sensitivity.
struct BudgetLine {
  std::string source;                  ///< plain words, such as "print scale"
  double standard_uncertainty_mm = 0;  ///< |sensitivity| * u(input)
  double degrees_of_freedom = kUnlimitedDegreesOfFreedom;
  std::string advice;  ///< what would make this line smaller; may be empty
};

/// A measured size with what is known about its error (GUM, JCGM 100).
struct Quantity {
  double value_mm = 0;
  double standard_uncertainty_mm = 0;
  double degrees_of_freedom = kUnlimitedDegreesOfFreedom;
  std::vector<BudgetLine> budget;  ///< largest first

  /// Half-width of the 95 % interval: t_95(floor(nu)) * u (GUM G.6.4).
  double expanded_95_mm() const;
};

/// Combines independent budget lines into a quantity: root sum of squares, effective degrees of
/// freedom by Welch-Satterthwaite (GUM 5.1.2 and G.4.1), lines sorted largest first.
Quantity combine_independent(double value_mm, std::vector<BudgetLine> budget);

}  // namespace scantling
