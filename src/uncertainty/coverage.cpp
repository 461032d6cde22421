#include "uncertainty/coverage.h"

#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <stdexcept>

#include "uncertainty/quantity.h"

namespace scantling {

namespace {

// Beyond this the t and the normal distribution agree to six digits, far out in the tails too.
constexpr double kAsGoodAsUnlimited = 1e6;

void require(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument(what);
}

}  // namespace

double truncated_degrees_of_freedom(double degrees_of_freedom) {
  return degrees_of_freedom < 1 ? degrees_of_freedom : std::floor(degrees_of_freedom);
}

double t_quantile(double probability, double degrees_of_freedom) {
  require(probability > 0 && probability < 1, "a probability must lie between 0 and 1");
  require(degrees_of_freedom > 0, "degrees of freedom must be above zero");
  if (degrees_of_freedom > kAsGoodAsUnlimited)
    return boost::math::quantile(boost::math::normal(), probability);
  return boost::math::quantile(
      boost::math::students_t(truncated_degrees_of_freedom(degrees_of_freedom)), probability);
}

double t_probability_below(double t, double degrees_of_freedom) {
  require(!std::isnan(t), "t must be a number");
  require(degrees_of_freedom > 0, "degrees of freedom must be above zero");
  if (std::isinf(t)) return t < 0 ? 0 : 1;
  if (degrees_of_freedom > kAsGoodAsUnlimited) return boost::math::cdf(boost::math::normal(), t);
  return boost::math::cdf(boost::math::students_t(truncated_degrees_of_freedom(degrees_of_freedom)),
                          t);
}

double coverage_factor(double coverage, double degrees_of_freedom) {
  return t_quantile((1 + coverage) / 2, degrees_of_freedom);
}

double trapezoid_coverage_factor(double coverage, double beta) {
  require(coverage > 0 && coverage < 1, "a probability must lie between 0 and 1");
  require(beta >= 0 && beta <= 1, "beta must lie between 0 and 1");
  // In units of the half-width: u = sqrt((1 + beta^2) / 6). The flat top alone covers 2 beta / (1 +
  // beta); S10.13 holds where the interval's ends lie on the sloping sides.
  const double u = std::sqrt((1 + beta * beta) / 6);
  if (coverage <= 2 * beta / (1 + beta)) return coverage * (1 + beta) / 2 / u;
  return (1 - std::sqrt((1 - coverage) * (1 - beta * beta))) / u;
}

double degrees_of_freedom_of_doubt(double relative_doubt) {
  require(relative_doubt >= 0, "a relative doubt must not be negative");
  return relative_doubt == 0 ? kUnlimitedDegreesOfFreedom : 0.5 / (relative_doubt * relative_doubt);
}

}  // namespace scantling
