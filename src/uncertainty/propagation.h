#pragma once

#include <functional>
#include <span>
#include <string>
#include <vector>

#include "uncertainty/distribution.h"
#include "uncertainty/quantity.h"

namespace scantling {

/// The inputs of a measurement model, by name, with their correlations.
class InputQuantities {
 public:
  /// Returns the input's place in the model's argument.
  std::size_t add(std::string name, Distribution distribution);
  /// @throws std::invalid_argument for a coefficient outside -1..1, an unknown input or i == j.
  void correlate(std::size_t i, std::size_t j, double coefficient);

  std::size_t size() const { return inputs_.size(); }
  const std::string& name(std::size_t i) const { return inputs_[i].name; }
  const Distribution& distribution(std::size_t i) const { return inputs_[i].distribution; }
  double correlation(std::size_t i, std::size_t j) const;
  bool any_correlated() const;
  std::vector<double> estimates() const;

  /// @throws std::invalid_argument where no set of quantities can have these correlations (the
  /// matrix has a negative eigenvalue).
  void require_possible_correlations() const;

 private:
  struct Input {
    std::string name;
    Distribution distribution;
  };
  struct Pair {
    std::size_t i, j;
    double coefficient;
  };
  std::vector<Input> inputs_;
  std::vector<Pair> pairs_;
};

using Model = std::function<double(std::span<const double>)>;

struct Contribution {
  std::string name;
  double estimate = 0;
  double standard_uncertainty = 0;
  double degrees_of_freedom = kUnlimitedDegreesOfFreedom;
  double sensitivity = 0;  ///< partial derivative of the model
  double amount() const;   ///< |sensitivity| u(input), in the result's unit
};

/// A result by the law of propagation of uncertainty, in the model's own unit.
struct Propagated {
  double value = 0;
  double standard_uncertainty = 0;
  double degrees_of_freedom = kUnlimitedDegreesOfFreedom;  ///< not truncated
  std::vector<Contribution> contributions;                 ///< in the inputs' order

  double expanded(double coverage) const;  ///< t of truncated degrees of freedom times u
  Quantity as_quantity() const;            ///< where the model's unit is mm
};

/// Central differences of a step u/8 with one Richardson extrapolation: exact for polynomials up to
/// the fourth degree, apart from rounding. Cheap next to most models; where the model can be
/// written as a template, propagate_with_derivatives() has no truncation error at all.
std::vector<double> sensitivities(const InputQuantities& inputs, const Model& model);

/// GUM 5.1.2 (independent) and 5.2.2 (correlated inputs); degrees of freedom by Welch-Satterthwaite
/// (G.4.1). Correlated inputs enter that formula as one part, with the fewest degrees of freedom
/// among them.
Propagated propagate(const InputQuantities& inputs, const Model& model);

/// The same from sensitivities found elsewhere.
Propagated propagate(const InputQuantities& inputs, double value,
                     std::span<const double> sensitivities);

/// Covariance of two results of the same inputs, from their sensitivities (GUM H.2.3, eq. H.9).
double covariance(const InputQuantities& inputs, std::span<const double> sensitivities_a,
                  std::span<const double> sensitivities_b);

/// The next terms of the variance for independent, symmetric inputs (GUM 5.1.2 note), by
/// differences: add to the first-order variance where the model is far from linear.
/// @throws std::invalid_argument where inputs are correlated.
double second_order_variance(const InputQuantities& inputs, const Model& model);

}  // namespace scantling
