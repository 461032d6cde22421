#pragma once

#include <cstdint>

#include "uncertainty/propagation.h"
#include "uncertainty/regression.h"

namespace scantling {

struct MonteCarloOptions {
  double coverage = 0.95;
  int significant_digits = 2;  ///< of the standard uncertainty, that must be stable
  /// Stable to this share of their numerical tolerance: 1/5 to validate another method (8.2).
  double tolerance_share = 1;
  std::uint64_t seed = 1;
  std::size_t most_trials = 4'000'000;  ///< ten batches are drawn in any case
};

struct MonteCarloResult {
  double mean = 0;
  double standard_uncertainty = 0;
  Interval symmetric;  ///< as much probability below as above (JCGM 101 5.3.3)
  Interval shortest;   ///< the narrowest of all with this coverage (JCGM 101 5.3.4)
  double coverage = 0.95;
  std::size_t trials = 0;
  bool stable = false;  ///< false where most_trials came before the stopping rule
};

/// Propagation of distributions by JCGM 101 clause 7, with the adaptive number of trials of clause
/// 7.9: batches until twice the standard error of mean, standard uncertainty and both ends of the
/// symmetric interval is below the numerical tolerance. Correlated inputs must be normal (6.4.8).
/// @throws std::invalid_argument for other correlated inputs, contradicting correlations, or a
/// coverage outside 0..1; std::domain_error where the model gives no finite number.
MonteCarloResult run_monte_carlo(const InputQuantities& inputs, const Model& model,
                                 const MonteCarloOptions& options = {});

/// Half a unit of the last of so many significant digits of u (JCGM 101 7.9.2): u = c 10^l with c a
/// whole number of `digits` digits, tolerance 10^l / 2. Zero for u = 0.
double numerical_tolerance(double standard_uncertainty, int digits);

/// How far the first-order interval's ends lie from the Monte Carlo ones (JCGM 101 clause 8).
struct FirstOrderCheck {
  double tolerance = 0;
  double low_apart = 0;
  double high_apart = 0;
  bool agrees = false;
};

FirstOrderCheck check_first_order(const Propagated& first_order, const MonteCarloResult& drawn,
                                  int significant_digits = 2);

}  // namespace scantling
