#pragma once

#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace scantling {

inline constexpr double kUnlimitedDegreesOfFreedom = std::numeric_limits<double>::infinity();

/// Degrees of freedom that are none (zero, negative, no number) are those of a source about which
/// nothing is known: one, the fewest, whose t has the widest tails. Unlimited ones would be the
/// narrowest.
double known_degrees_of_freedom(double degrees_of_freedom);

/// A better known input in place of the one that was used, and what its line would be then.
struct Remedy {
  std::string input;                   ///< names what would be better known, as the module has it
  double standard_uncertainty_mm = 0;  ///< of the line, with the better input
};

/// One line of an uncertainty budget, already multiplied by its sensitivity.
struct BudgetLine {
  std::string source;                  ///< plain words, such as "print scale"
  double standard_uncertainty_mm = 0;  ///< |sensitivity| * u(input)
  double degrees_of_freedom = kUnlimitedDegreesOfFreedom;
  std::string advice;                 ///< what would make this line smaller; may be empty
  std::optional<Remedy> remedy = {};  ///< where it is known by how much
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

/// A line multiplied by a factor, its remedy with it.
BudgetLine scaled_line(BudgetLine line, double factor);

/// The inputs that could be known better, each once, in the budget's order.
std::vector<std::string> better_inputs(const Quantity& size);
/// The same size with every line of that input as its remedy has it, combined afresh.
Quantity with_better_input(const Quantity& size, std::string_view input);

}  // namespace scantling
