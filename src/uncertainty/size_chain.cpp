#include "uncertainty/size_chain.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace scantling {

namespace {
constexpr double kNotWorthALine_mm = 1e-6;
constexpr double kFewestToDraw = 2;  ///< degrees of freedom: from here down a t has no deviation
}  // namespace

SizeChain::Source SizeChain::add_source(std::string words, std::string advice,
                                        double degrees_of_freedom) {
  sources_.push_back(
      {std::move(words), std::move(advice), known_degrees_of_freedom(degrees_of_freedom)});
  return sources_.size() - 1;
}

std::size_t SizeChain::add_input(Source source, const Distribution& distribution) {
  source_of_input_.push_back(source);
  return inputs_.add(sources_.at(source).words, distribution);
}

Quantity SizeChain::first_order() const {
  const std::vector<double> c = sensitivities(inputs_, model_);
  std::vector<double> variance(sources_.size(), 0.0);
  for (std::size_t i = 0; i < inputs_.size(); ++i)
    variance[source_of_input_[i]] +=
        std::pow(c[i] * inputs_.distribution(i).standard_uncertainty(), 2);
  std::vector<BudgetLine> lines;
  for (std::size_t s = 0; s < sources_.size(); ++s)
    if (const double u = std::sqrt(variance[s]); u > kNotWorthALine_mm)
      lines.push_back({sources_[s].words, u, sources_[s].degrees_of_freedom, sources_[s].advice});
  return combine_independent(value_mm(), std::move(lines));
}

Distribution error_of(double u, double stated_degrees_of_freedom) {
  const double degrees_of_freedom = known_degrees_of_freedom(stated_degrees_of_freedom);
  if (degrees_of_freedom > kFewestToDraw && degrees_of_freedom < 1e5)
    return Distribution::student_t(0, u, degrees_of_freedom);
  return Distribution::normal(0, u).with_degrees_of_freedom(degrees_of_freedom);
}

std::shared_ptr<const SizeChain> chain_of(const Quantity& sum) {
  auto chain = std::make_shared<SizeChain>();
  for (const BudgetLine& line : sum.budget)
    if (line.standard_uncertainty_mm > 0)
      chain->add_input(chain->add_source(line.source, line.advice, line.degrees_of_freedom),
                       error_of(line.standard_uncertainty_mm, line.degrees_of_freedom));
  chain->set_model([value = sum.value_mm](std::span<const double> x) {
    double result = value;
    for (const double error : x) result += error;
    return result;
  });
  return chain;
}

double SizeChain::straight_deviation() const {
  const std::vector<double> c = sensitivities(inputs_, model_);
  double variance = 0;
  for (std::size_t i = 0; i < inputs_.size(); ++i)
    variance += std::pow(c[i] * inputs_.distribution(i).deviation(), 2);
  return std::sqrt(variance);
}

bool SizeChain::tails_beyond_drawing() const {
  const std::vector<double> c = sensitivities(inputs_, model_);
  for (std::size_t i = 0; i < inputs_.size(); ++i)
    if (sources_[source_of_input_[i]].degrees_of_freedom <= kFewestToDraw &&
        std::abs(c[i]) * inputs_.distribution(i).standard_uncertainty() > kNotWorthALine_mm)
      return true;
  return false;
}

namespace {

/// Where the straight-line reckoning meets the draws' mean and spread, only the shape is left: few
/// degrees of freedom that Welch-Satterthwaite rounds, or a rectangle that dominates.
const char* why_apart(const SizeChain& chain, const Quantity& first,
                      const MonteCarloResult& drawn) {
  constexpr double kAlike = 0.02;
  const double straight = chain.straight_deviation();
  const bool spread_alike = std::abs(drawn.standard_uncertainty - straight) < kAlike * straight;
  const bool mean_alike = std::abs(drawn.mean - first.value_mm) < kAlike * straight;
  if (spread_alike && mean_alike)
    return "its largest sources are themselves known from few readings or by judgement, which its "
           "formula for the degrees of freedom (Welch-Satterthwaite) takes for a little less than "
           "it is";
  return "the size does not follow its inputs in a straight line";
}

}  // namespace

int meaningful_digits_of(double degrees_of_freedom) {
  return 1 / std::sqrt(2 * degrees_of_freedom) > 0.05 ? 1 : 2;
}

ChainCheck check_by_monte_carlo(const SizeChain& chain, std::uint64_t seed,
                                std::size_t most_trials) {
  const Quantity first = chain.first_order();
  const int digits = meaningful_digits_of(first.degrees_of_freedom);
  ChainCheck result;
  result.drawn = chain.monte_carlo({.coverage = 0.95,
                                    .significant_digits = digits,
                                    .tolerance_share = 0.2,
                                    .seed = seed,
                                    .most_trials = most_trials});
  const double half = first.expanded_95_mm();
  result.first_order_95 = {first.value_mm - half, first.value_mm + half};
  Propagated propagated;
  propagated.value = first.value_mm;
  propagated.standard_uncertainty = first.standard_uncertainty_mm;
  propagated.degrees_of_freedom = first.degrees_of_freedom;
  result.check = check_first_order(propagated, result.drawn, digits);
  result.first_order_holds = result.check.agrees;
  const Interval& drawn = result.drawn.symmetric;
  if (result.first_order_holds) {
    result.sentence = fmt::format(
        "The Monte Carlo interval, {:.3f} to {:.3f} mm, agrees with the first-order one within "
        "{:.4f} mm.",
        drawn.low, drawn.high, result.check.tolerance);
  } else if (chain.tails_beyond_drawing() &&
             drawn.high - drawn.low <= result.first_order_95.high - result.first_order_95.low) {
    result.first_order_holds = true;
    result.sentence = fmt::format(
        "The first-order interval stands: a source is known from three readings or fewer, whose "
        "wide tails cannot be drawn, so that the Monte Carlo one, {:.3f} to {:.3f} mm, is too "
        "narrow.",
        drawn.low, drawn.high);
  } else {
    result.sentence = fmt::format(
        "The first-order interval is not used: its ends lie {:.4f} and {:.4f} mm from the Monte "
        "Carlo ones, more than {:.4f} mm, because {}. Go by {:.3f} to {:.3f} mm.",
        result.check.low_apart, result.check.high_apart, result.check.tolerance,
        why_apart(chain, first, result.drawn), drawn.low, drawn.high);
  }
  return result;
}

}  // namespace scantling
