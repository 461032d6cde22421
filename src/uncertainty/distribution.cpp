#include "uncertainty/distribution.h"

#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>
#include <stdexcept>

namespace scantling {

namespace {

void require(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument(what);
}

double half_width_of(double low, double high) {
  require(std::isfinite(low) && std::isfinite(high) && low < high,
          "a distribution's lower limit must lie below its upper one");
  return (high - low) / 2;
}

}  // namespace

double Random::uniform() {
  // 53 random bits, as many as a double's fraction holds.
  return static_cast<double>(engine_() >> 11) * 0x1.0p-53;
}

double Random::normal() {
  return normal_(engine_);
}

double Random::student_t(double degrees_of_freedom) {
  return std::student_t_distribution<double>(degrees_of_freedom)(engine_);
}

Distribution::Distribution(double mean, double standard_uncertainty, double degrees_of_freedom,
                           Shape shape)
    : mean_(mean),
      standard_uncertainty_(standard_uncertainty),
      degrees_of_freedom_(degrees_of_freedom),
      shape_(shape) {
  require(std::isfinite(mean), "an input's estimate must be finite");
  require(std::isfinite(standard_uncertainty) && standard_uncertainty >= 0,
          "a standard uncertainty must be finite and not negative");
  require(degrees_of_freedom > 0, "degrees of freedom must be above zero");
}

Distribution Distribution::normal(double mean, double standard_uncertainty) {
  return {mean, standard_uncertainty, kUnlimitedDegreesOfFreedom, Normal{}};
}

Distribution Distribution::student_t(double centre, double scale, double degrees_of_freedom) {
  return {centre, scale, degrees_of_freedom, StudentT{scale, degrees_of_freedom}};
}

Distribution Distribution::student_t_of_deviation(double centre, double deviation,
                                                  double degrees_of_freedom) {
  require(degrees_of_freedom > 2, "a t has a standard deviation only above 2 degrees of freedom");
  const double scale = deviation * std::sqrt((degrees_of_freedom - 2) / degrees_of_freedom);
  return {centre, deviation, kUnlimitedDegreesOfFreedom, StudentT{scale, degrees_of_freedom}};
}

Distribution Distribution::rectangular(double low, double high) {
  return trapezoidal(low, high, 1);
}

Distribution Distribution::triangular(double low, double high) {
  return trapezoidal(low, high, 0);
}

Distribution Distribution::arcsine(double low, double high) {
  const double half = half_width_of(low, high);
  return {low + half, half / std::numbers::sqrt2, kUnlimitedDegreesOfFreedom, Arcsine{half}};
}

Distribution Distribution::trapezoidal(double low, double high, double beta) {
  const double half = half_width_of(low, high);
  require(beta >= 0 && beta <= 1, "a trapezoid's beta must lie between 0 and 1");
  return {low + half, half * std::sqrt((1 + beta * beta) / 6), kUnlimitedDegreesOfFreedom,
          Trapezoidal{half, beta}};
}

Distribution Distribution::curvilinear_trapezoidal(double low, double high, double inexactness) {
  const double half = half_width_of(low, high);
  require(inexactness >= 0 && inexactness <= half,
          "the limits' inexactness must lie between 0 and the half-width");
  return {low + half, std::sqrt(half * half / 3 + inexactness * inexactness / 9),
          kUnlimitedDegreesOfFreedom, Curvilinear{half, inexactness}};
}

Distribution Distribution::with_degrees_of_freedom(double degrees_of_freedom) const {
  return {mean_, standard_uncertainty_, degrees_of_freedom, shape_};
}

Distribution Distribution::of_unit_error() const {
  require(standard_uncertainty_ > 0, "an error to be scaled must be above zero");
  struct Shrink {
    double factor;
    Shape operator()(const Normal& n) const { return n; }
    Shape operator()(const StudentT& t) const {
      return StudentT{t.scale * factor, t.degrees_of_freedom};
    }
    Shape operator()(const Trapezoidal& t) const {
      return Trapezoidal{t.half_width * factor, t.beta};
    }
    Shape operator()(const Arcsine& a) const { return Arcsine{a.half_width * factor}; }
    Shape operator()(const Curvilinear& c) const {
      return Curvilinear{c.half_width * factor, c.inexactness * factor};
    }
  };
  return {0, 1, degrees_of_freedom_, std::visit(Shrink{1 / standard_uncertainty_}, shape_)};
}

double Distribution::deviation() const {
  const auto* t = std::get_if<StudentT>(&shape_);
  if (!t) return standard_uncertainty_;
  const double nu = t->degrees_of_freedom;
  return nu > 2 ? t->scale * std::sqrt(nu / (nu - 2)) : std::numeric_limits<double>::infinity();
}

bool Distribution::is_normal() const {
  return std::holds_alternative<Normal>(shape_);
}

double Distribution::draw(Random& random) const {
  struct Drawer {
    const Distribution& d;
    Random& random;
    double operator()(const Normal&) const {
      return d.mean_ + d.standard_uncertainty_ * random.normal();
    }
    double operator()(const StudentT& t) const {
      return d.mean_ + t.scale * random.student_t(t.degrees_of_freedom);
    }
    double operator()(const Trapezoidal& t) const {
      const double first = (1 + t.beta) * (random.uniform() - 0.5);
      const double second = (1 - t.beta) * (random.uniform() - 0.5);
      return d.mean_ + t.half_width * (first + second);
    }
    double operator()(const Arcsine& a) const {
      return d.mean_ + a.half_width * std::sin(2 * std::numbers::pi * random.uniform());
    }
    double operator()(const Curvilinear& c) const {
      const double half = c.half_width + c.inexactness * (2 * random.uniform() - 1);
      return d.mean_ + half * (2 * random.uniform() - 1);
    }
  };
  return std::visit(Drawer{*this, random}, shape_);
}

ReadingStatistics statistics_of(std::span<const double> readings) {
  require(readings.size() >= 2, "a scatter needs two readings or more");
  const double n = static_cast<double>(readings.size());
  ReadingStatistics statistics;
  statistics.mean = std::accumulate(readings.begin(), readings.end(), 0.0) / n;
  double squares = 0;
  for (double reading : readings)
    squares += (reading - statistics.mean) * (reading - statistics.mean);
  statistics.degrees_of_freedom = n - 1;
  statistics.deviation = std::sqrt(squares / (n - 1));
  statistics.standard_uncertainty = statistics.deviation / std::sqrt(n);
  return statistics;
}

double correlation_of_means(std::span<const double> x, std::span<const double> y) {
  require(x.size() == y.size(), "paired readings differ in number");
  const ReadingStatistics of_x = statistics_of(x);
  const ReadingStatistics of_y = statistics_of(y);
  double products = 0;
  for (std::size_t i = 0; i < x.size(); ++i) products += (x[i] - of_x.mean) * (y[i] - of_y.mean);
  return products / of_x.degrees_of_freedom / (of_x.deviation * of_y.deviation);
}

}  // namespace scantling
