#include "uncertainty/monte_carlo.h"

#include <Eigen/Core>
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

namespace scantling {

namespace {

// The clause looks from the second batch on; a standard error from so few is itself too doubtful.
constexpr std::size_t kFewestBatches = 10;

/// Draws all inputs of one trial.
class Sampler {
 public:
  explicit Sampler(const InputQuantities& inputs) : inputs_(inputs), drawn_(inputs.size()) {
    inputs.require_possible_correlations();
    for (std::size_t i = 0; i < inputs.size(); ++i) {
      bool correlated = false;
      for (std::size_t j = 0; j < inputs.size(); ++j)
        correlated |= i != j && inputs.correlation(i, j) != 0;
      if (!correlated) continue;
      if (!inputs.distribution(i).is_normal())
        throw std::invalid_argument("correlated inputs must be normal: " + inputs.name(i));
      correlated_.push_back(i);
    }
    const Eigen::Index n = static_cast<Eigen::Index>(correlated_.size());
    if (n == 0) return;
    Eigen::MatrixXd matrix(n, n);
    for (Eigen::Index i = 0; i < n; ++i)
      for (Eigen::Index j = 0; j < n; ++j) matrix(i, j) = inputs.correlation(place(i), place(j));
    // By eigenvalues rather than Cholesky: full correlation makes the matrix singular.
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(matrix);
    factor_ = solver.eigenvectors() * solver.eigenvalues().cwiseMax(0).cwiseSqrt().asDiagonal();
  }

  std::span<const double> draw(Random& random) {
    for (std::size_t i = 0; i < inputs_.size(); ++i)
      drawn_[i] = inputs_.distribution(i).draw(random);
    if (!correlated_.empty()) {
      Eigen::VectorXd independent(factor_.rows());
      for (double& z : independent) z = random.normal();
      const Eigen::VectorXd z = factor_ * independent;
      for (Eigen::Index i = 0; i < z.size(); ++i) {
        const Distribution& input = inputs_.distribution(place(i));
        drawn_[place(i)] = input.mean() + input.standard_uncertainty() * z(i);
      }
    }
    return drawn_;
  }

 private:
  std::size_t place(Eigen::Index i) const { return correlated_[static_cast<std::size_t>(i)]; }

  const InputQuantities& inputs_;
  std::vector<double> drawn_;
  std::vector<std::size_t> correlated_;
  Eigen::MatrixXd factor_;
};

/// What one batch, or all batches together, say.
struct Summary {
  double mean = 0;
  double deviation = 0;
  Interval symmetric;
};

/// Ranks of JCGM 101 7.7.2: q values lie within the interval.
std::size_t values_inside(std::size_t count, double coverage) {
  return std::min(count - 1, static_cast<std::size_t>(coverage * static_cast<double>(count) + 0.5));
}

Summary summarise(std::vector<double>& values, double coverage) {
  std::sort(values.begin(), values.end());
  Summary summary;
  const double n = static_cast<double>(values.size());
  for (double value : values) summary.mean += value / n;
  double squares = 0;
  for (double value : values) squares += (value - summary.mean) * (value - summary.mean);
  summary.deviation = std::sqrt(squares / (n - 1));
  const std::size_t q = values_inside(values.size(), coverage);
  const std::size_t r = (values.size() - q) / 2;
  summary.symmetric = {values[r > 0 ? r - 1 : 0], values[r > 0 ? r - 1 + q : q]};
  return summary;
}

Interval shortest_of(const std::vector<double>& sorted, double coverage) {
  const std::size_t q = values_inside(sorted.size(), coverage);
  Interval shortest{sorted.front(), sorted[q]};
  for (std::size_t r = 0; r + q < sorted.size(); ++r)
    if (sorted[r + q] - sorted[r] < shortest.high - shortest.low)
      shortest = {sorted[r], sorted[r + q]};
  return shortest;
}

using Figures = std::array<double, 4>;

Figures figures_of(const Summary& summary) {
  return {summary.mean, summary.deviation, summary.symmetric.low, summary.symmetric.high};
}

/// Largest of the standard errors of the four figures' averages over the batches.
double largest_standard_error(const std::vector<Figures>& batches) {
  const double h = static_cast<double>(batches.size());
  double largest = 0;
  for (std::size_t k = 0; k < 4; ++k) {
    double mean = 0;
    for (const Figures& batch : batches) mean += batch[k] / h;
    double squares = 0;
    for (const Figures& batch : batches) squares += (batch[k] - mean) * (batch[k] - mean);
    largest = std::max(largest, std::sqrt(squares / (h * (h - 1))));
  }
  return largest;
}

}  // namespace

MonteCarloResult run_monte_carlo(const InputQuantities& inputs, const Model& model,
                                 const MonteCarloOptions& options) {
  if (!(options.coverage > 0 && options.coverage < 1))
    throw std::invalid_argument("a coverage must lie between 0 and 1");
  Sampler sampler(inputs);
  Random random(options.seed);
  // JCGM 101 7.9.4 b): M = max(J, 10^4), J the smallest whole number from 100 / (1 - p) on.
  const std::size_t batch_size = std::max<std::size_t>(
      10'000, static_cast<std::size_t>(std::ceil(100 / (1 - options.coverage))));

  MonteCarloResult result;
  result.coverage = options.coverage;
  std::vector<double> all;
  std::vector<Figures> batches;
  double sum = 0;
  double centred_squares = 0;
  while (!result.stable &&
         all.size() + batch_size <= std::max(options.most_trials, kFewestBatches * batch_size)) {
    std::vector<double> batch(batch_size);
    for (double& value : batch) {
      value = model(sampler.draw(random));
      if (!std::isfinite(value)) throw std::domain_error("the model gave no finite number");
    }
    const Summary summary = summarise(batch, options.coverage);
    // Spread of all values so far, from the batches' own: within them and between them.
    const double m = static_cast<double>(batch_size);
    const double before = static_cast<double>(all.size());
    const double shift = before > 0 ? summary.mean - sum / before : 0;
    centred_squares += summary.deviation * summary.deviation * (m - 1) +
                       (before > 0 ? shift * shift * before * m / (before + m) : 0);
    sum += summary.mean * m;
    batches.push_back(figures_of(summary));
    all.insert(all.end(), batch.begin(), batch.end());
    if (batches.size() < kFewestBatches) continue;
    const double u = std::sqrt(centred_squares / static_cast<double>(all.size() - 1));
    result.stable =
        u == 0 || 2 * largest_standard_error(batches) <
                      options.tolerance_share * numerical_tolerance(u, options.significant_digits);
  }

  const Summary summary = summarise(all, options.coverage);
  result.mean = summary.mean;
  result.standard_uncertainty = summary.deviation;
  result.symmetric = summary.symmetric;
  result.shortest = shortest_of(all, options.coverage);
  result.trials = all.size();
  return result;
}

double numerical_tolerance(double standard_uncertainty, int digits) {
  if (!(standard_uncertainty > 0)) return 0;
  double exponent = std::floor(std::log10(standard_uncertainty)) - (digits - 1);
  // 0.0996 with two digits is 10 x 10^-2, not 100 x 10^-3.
  if (std::round(standard_uncertainty / std::pow(10, exponent)) >= std::pow(10, digits)) ++exponent;
  return std::pow(10, exponent) / 2;
}

FirstOrderCheck check_first_order(const Propagated& first_order, const MonteCarloResult& drawn,
                                  int significant_digits) {
  const double half = first_order.expanded(drawn.coverage);
  FirstOrderCheck check;
  check.tolerance = numerical_tolerance(drawn.standard_uncertainty, significant_digits);
  check.low_apart = std::abs(first_order.value - half - drawn.symmetric.low);
  check.high_apart = std::abs(first_order.value + half - drawn.symmetric.high);
  check.agrees = check.low_apart <= check.tolerance && check.high_apart <= check.tolerance;
  return check;
}

}  // namespace scantling
