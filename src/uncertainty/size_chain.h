#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "uncertainty/monte_carlo.h"

namespace scantling {

/// A size as a function of everything it depends on: named sources, each with one or more inputs
/// and their distributions. The same chain gives the first-order budget (JCGM 100) and the Monte
/// Carlo interval (JCGM 101). Inputs are independent; what is correlated, such as the parameters of
/// a pose, enters as independent parts through a factor of its covariance.
class SizeChain {
 public:
  using Source = std::size_t;
  struct SourceWords {
    std::string words;
    std::string advice;
    double degrees_of_freedom = kUnlimitedDegreesOfFreedom;
  };

  /// `degrees_of_freedom` are the source's, whatever its number of inputs.
  Source add_source(std::string words, std::string advice,
                    double degrees_of_freedom = kUnlimitedDegreesOfFreedom);
  /// Returns the input's place in the model's argument. A single input of a source with few degrees
  /// of freedom should be a Student t of these.
  std::size_t add_input(Source source, const Distribution& distribution);
  void set_model(Model model_mm) { model_ = std::move(model_mm); }

  const InputQuantities& inputs() const { return inputs_; }
  const SourceWords& source_of(std::size_t input) const {
    return sources_[source_of_input_[input]];
  }
  double size_mm(std::span<const double> inputs) const { return model_(inputs); }
  double value_mm() const { return model_(inputs_.estimates()); }

  /// Value, combined uncertainty and budget, a line a source, largest first: law of propagation and
  /// Welch-Satterthwaite over the sources. Lines below a nanometre are left out.
  Quantity first_order() const;

  /// Standard deviation that drawing would show if the size followed its inputs in a straight line.
  double straight_deviation() const;

  /// Whether a source that counts has so few degrees of freedom (2 and below) that its Student t
  /// has no deviation to draw with: what is drawn then has lighter tails than is known.
  bool tails_beyond_drawing() const;

  /// Adaptive and seeded, see run_monte_carlo().
  MonteCarloResult monte_carlo(const MonteCarloOptions& options) const {
    return run_monte_carlo(inputs_, model_, options);
  }

 private:
  std::vector<SourceWords> sources_;
  std::vector<Source> source_of_input_;
  InputQuantities inputs_;
  Model model_;
};

/// An error of zero mean: a Student t where its degrees of freedom are few, so that drawing has the
/// tails that Welch-Satterthwaite reckons with; normal where a t has no deviation (2 and below).
Distribution error_of(double standard_uncertainty,
                      double degrees_of_freedom = kUnlimitedDegreesOfFreedom);

/// The chain of a size that is a sum of independent errors, such as a difference of sizes: each
/// budget line an input.
std::shared_ptr<const SizeChain> chain_of(const Quantity& sum);

/// What a Monte Carlo run says of a size, beside its first-order figure.
struct ChainCheck {
  MonteCarloResult drawn;
  Interval first_order_95;
  FirstOrderCheck check;  ///< with the digits of u that mean anything
  /// Whether the first-order interval may be used; if not, `drawn.symmetric` is the one to go by.
  bool first_order_holds = false;
  std::string sentence;  ///< the same in words
};

/// Significant digits of a standard uncertainty that mean anything (JCGM 101 7.9.2): u is itself in
/// doubt by 1 / sqrt(2 nu) (GUM E.4.3), so 1 digit where that is more than 5 %, else 2.
int meaningful_digits_of(double degrees_of_freedom);

/// Runs the chain and validates the first-order interval by JCGM 101 clause 8: the ends of both 95
/// % intervals must agree within the numerical tolerance of the meaningful digits. Draws until
/// stable to a fifth of that tolerance, as 8.2 asks, or `most_trials`: by 7.2.2 a million can be
/// expected to give a 95 % interval to one or two digits.
ChainCheck check_by_monte_carlo(const SizeChain& chain, std::uint64_t seed = 1,
                                std::size_t most_trials = 1'000'000);

}  // namespace scantling
