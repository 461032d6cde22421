#include "uncertainty/propagation.h"

#include <Eigen/Core>
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "uncertainty/coverage.h"

namespace scantling {

namespace {

void require(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument(what);
}

/// A step for differences; inputs known exactly get one by their size.
double step_of(const Distribution& input, double share) {
  const double u = input.standard_uncertainty();
  return u > 0 ? share * u : 1e-6 * std::max(1.0, std::abs(input.mean()));
}

/// The model at its estimates with some inputs shifted, and back again.
class Shifted {
 public:
  Shifted(const InputQuantities& inputs, const Model& model)
      : model_(model), x_(inputs.estimates()) {}
  double at(std::size_t i, double shift) { return at(i, shift, i, 0); }
  double at(std::size_t i, double shift_i, std::size_t j, double shift_j) {
    const double x_i = x_[i];
    x_[i] += shift_i;
    const double x_j = x_[j];
    x_[j] += shift_j;
    const double y = model_(x_);
    x_[j] = x_j;
    x_[i] = x_i;
    return y;
  }

 private:
  const Model& model_;
  std::vector<double> x_;
};

double amount_of(const InputQuantities& inputs, std::span<const double> c, std::size_t i) {
  return c[i] * inputs.distribution(i).standard_uncertainty();
}

/// Inputs that hang together by correlations get the same number.
std::vector<std::size_t> groups_of(const InputQuantities& inputs) {
  std::vector<std::size_t> group(inputs.size());
  std::iota(group.begin(), group.end(), std::size_t{0});
  for (std::size_t i = 0; i < inputs.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      if (inputs.correlation(i, j) != 0 && group[i] != group[j]) {
        const std::size_t from = group[i];
        std::replace(group.begin(), group.end(), from, group[j]);
      }
  return group;
}

double effective_degrees_of_freedom(const InputQuantities& inputs, std::span<const double> c,
                                    double variance) {
  const std::vector<std::size_t> group = groups_of(inputs);
  double sum = 0;
  for (std::size_t g = 0; g < inputs.size(); ++g) {
    double group_variance = 0;
    double fewest = kUnlimitedDegreesOfFreedom;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
      if (group[i] != g) continue;
      if (amount_of(inputs, c, i) != 0)
        fewest = std::min(fewest, inputs.distribution(i).degrees_of_freedom());
      for (std::size_t j = 0; j < inputs.size(); ++j)
        if (group[j] == g)
          group_variance +=
              amount_of(inputs, c, i) * amount_of(inputs, c, j) * inputs.correlation(i, j);
    }
    sum += group_variance * group_variance / fewest;
  }
  return sum > 0 ? variance * variance / sum : kUnlimitedDegreesOfFreedom;
}

}  // namespace

std::size_t InputQuantities::add(std::string name, Distribution distribution) {
  inputs_.push_back({std::move(name), distribution});
  return inputs_.size() - 1;
}

void InputQuantities::correlate(std::size_t i, std::size_t j, double coefficient) {
  require(i < size() && j < size() && i != j, "a correlation needs two inputs of the model");
  require(coefficient >= -1 && coefficient <= 1, "a correlation must lie between -1 and 1");
  std::erase_if(pairs_, [&](const Pair& p) { return std::minmax(p.i, p.j) == std::minmax(i, j); });
  pairs_.push_back({i, j, coefficient});
}

double InputQuantities::correlation(std::size_t i, std::size_t j) const {
  if (i == j) return 1;
  for (const Pair& pair : pairs_)
    if (std::minmax(pair.i, pair.j) == std::minmax(i, j)) return pair.coefficient;
  return 0;
}

bool InputQuantities::any_correlated() const {
  return std::any_of(pairs_.begin(), pairs_.end(),
                     [](const Pair& pair) { return pair.coefficient != 0; });
}

std::vector<double> InputQuantities::estimates() const {
  std::vector<double> x;
  for (const Input& input : inputs_) x.push_back(input.distribution.mean());
  return x;
}

void InputQuantities::require_possible_correlations() const {
  if (!any_correlated()) return;
  const Eigen::Index n = static_cast<Eigen::Index>(size());
  Eigen::MatrixXd matrix(n, n);
  for (Eigen::Index i = 0; i < n; ++i)
    for (Eigen::Index j = 0; j < n; ++j)
      matrix(i, j) = correlation(static_cast<std::size_t>(i), static_cast<std::size_t>(j));
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(matrix, Eigen::EigenvaluesOnly);
  require(solver.eigenvalues().minCoeff() > -1e-9, "these correlations contradict each other");
}

double Contribution::amount() const {
  return std::abs(sensitivity) * standard_uncertainty;
}

double Propagated::expanded(double coverage) const {
  return coverage_factor(coverage, degrees_of_freedom) * standard_uncertainty;
}

Quantity Propagated::as_quantity() const {
  Quantity quantity{value, standard_uncertainty, degrees_of_freedom, {}};
  for (const Contribution& c : contributions)
    quantity.budget.push_back({c.name, c.amount(), c.degrees_of_freedom, ""});
  std::stable_sort(quantity.budget.begin(), quantity.budget.end(),
                   [](const BudgetLine& a, const BudgetLine& b) {
                     return a.standard_uncertainty_mm > b.standard_uncertainty_mm;
                   });
  return quantity;
}

std::vector<double> sensitivities(const InputQuantities& inputs, const Model& model) {
  Shifted shifted(inputs, model);
  std::vector<double> c;
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    const double h = step_of(inputs.distribution(i), 1.0 / 8);
    const double wide = (shifted.at(i, h) - shifted.at(i, -h)) / (2 * h);
    const double narrow = (shifted.at(i, h / 2) - shifted.at(i, -h / 2)) / h;
    c.push_back((4 * narrow - wide) / 3);
  }
  return c;
}

Propagated propagate(const InputQuantities& inputs, const Model& model) {
  return propagate(inputs, model(inputs.estimates()), sensitivities(inputs, model));
}

Propagated propagate(const InputQuantities& inputs, double value, std::span<const double> c) {
  require(c.size() == inputs.size(), "one sensitivity an input needed");
  inputs.require_possible_correlations();
  Propagated result;
  result.value = value;
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    const Distribution& input = inputs.distribution(i);
    result.contributions.push_back({inputs.name(i), input.mean(), input.standard_uncertainty(),
                                    input.degrees_of_freedom(), c[i]});
  }
  // Full cancellation may leave a rounding error below zero.
  const double variance = std::max(0.0, covariance(inputs, c, c));
  result.standard_uncertainty = std::sqrt(variance);
  result.degrees_of_freedom = effective_degrees_of_freedom(inputs, c, variance);
  return result;
}

double covariance(const InputQuantities& inputs, std::span<const double> a,
                  std::span<const double> b) {
  require(a.size() == inputs.size() && b.size() == inputs.size(),
          "one sensitivity an input needed");
  double sum = 0;
  for (std::size_t i = 0; i < inputs.size(); ++i)
    for (std::size_t j = 0; j < inputs.size(); ++j)
      sum += amount_of(inputs, a, i) * amount_of(inputs, b, j) * inputs.correlation(i, j);
  return sum;
}

double second_order_variance(const InputQuantities& inputs, const Model& model) {
  require(!inputs.any_correlated(), "second-order terms are for independent inputs");
  Shifted shifted(inputs, model);
  const std::vector<double> first = sensitivities(inputs, model);
  const auto step = [&](std::size_t i) { return step_of(inputs.distribution(i), 0.5); };
  // Second derivative by input j with input i shifted.
  const auto bend = [&](std::size_t j, std::size_t i, double shift_i) {
    const double h = step(j);
    return (shifted.at(i, shift_i, j, h) - 2 * shifted.at(i, shift_i, j, 0) +
            shifted.at(i, shift_i, j, -h)) /
           (h * h);
  };
  double variance = 0;
  for (std::size_t i = 0; i < inputs.size(); ++i)
    for (std::size_t j = 0; j < inputs.size(); ++j) {
      const double h = step(i);
      const double k = step(j);
      const double mixed = i == j ? bend(i, i, 0)
                                  : (shifted.at(i, h, j, k) - shifted.at(i, h, j, -k) -
                                     shifted.at(i, -h, j, k) + shifted.at(i, -h, j, -k)) /
                                        (4 * h * k);
      const double third = (bend(j, i, h) - bend(j, i, -h)) / (2 * h);
      const double u_i = inputs.distribution(i).standard_uncertainty();
      const double u_j = inputs.distribution(j).standard_uncertainty();
      variance += (mixed * mixed / 2 + first[i] * third) * u_i * u_i * u_j * u_j;
    }
  return variance;
}

}  // namespace scantling
