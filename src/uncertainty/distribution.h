#pragma once

#include <cstdint>
#include <random>
#include <span>
#include <variant>

#include "uncertainty/quantity.h"

namespace scantling {

/// Seeded source of random numbers: the same seed gives the same draws on one system.
class Random {
 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}
  double uniform();  ///< in [0, 1)
  double normal();   ///< mean 0, standard deviation 1
  double student_t(double degrees_of_freedom);

 private:
  std::mt19937_64 engine_;
  std::normal_distribution<double> normal_;
};

/// What is known of an input quantity: its distribution, by the factories below (JCGM 101 6.4;
/// standard uncertainties by GUM 4.3). Limits are low < high, half-widths are not used.
/// @throws std::invalid_argument (all factories) for limits or uncertainties that make no sense.
class Distribution {
 public:
  static Distribution normal(double mean, double standard_uncertainty);
  /// A mean of few readings: scaled and shifted t. Its standard uncertainty is `scale`, with its
  /// degrees of freedom, as the GUM counts; drawn values spread sqrt(nu / (nu - 2)) times wider.
  static Distribution student_t(double centre, double scale, double degrees_of_freedom);
  /// A t whose standard *deviation* is given; nu above 2.
  static Distribution student_t_of_deviation(double centre, double deviation,
                                             double degrees_of_freedom);
  static Distribution rectangular(double low, double high);
  static Distribution triangular(double low, double high);
  /// U-shaped, of a quantity that swings sinusoidally between the limits.
  static Distribution arcsine(double low, double high);
  /// Symmetric trapezoid; beta = top width / base width, 0 to 1.
  static Distribution trapezoidal(double low, double high, double beta);
  /// Rectangle whose limits themselves are known only to +-`inexactness` (JCGM 101 6.4.3).
  static Distribution curvilinear_trapezoidal(double low, double high, double inexactness);

  /// A copy whose standard uncertainty is itself in doubt (GUM G.4.2): degrees of freedom for the
  /// first-order propagation. Draws do not change.
  Distribution with_degrees_of_freedom(double degrees_of_freedom) const;
  /// The same shape with estimate 0 and standard uncertainty 1: an error to be scaled.
  /// @throws std::invalid_argument where there is no error.
  Distribution of_unit_error() const;

  double mean() const { return mean_; }
  double standard_uncertainty() const { return standard_uncertainty_; }
  double degrees_of_freedom() const { return degrees_of_freedom_; }
  /// Standard deviation of what draw() gives: larger than the standard uncertainty for a t of few
  /// readings, infinite for one of 2 degrees of freedom or fewer.
  double deviation() const;
  bool is_normal() const;
  double draw(Random& random) const;

 private:
  struct Normal {};
  struct StudentT {
    double scale, degrees_of_freedom;
  };
  struct Trapezoidal {
    double half_width, beta;
  };
  struct Arcsine {
    double half_width;
  };
  struct Curvilinear {
    double half_width, inexactness;
  };
  using Shape = std::variant<Normal, StudentT, Trapezoidal, Arcsine, Curvilinear>;

  Distribution(double mean, double standard_uncertainty, double degrees_of_freedom, Shape shape);

  double mean_;
  double standard_uncertainty_;
  double degrees_of_freedom_;
  Shape shape_;
};

/// A series of repeated readings (Type A, GUM 4.2).
struct ReadingStatistics {
  double mean = 0;
  double deviation = 0;             ///< of one reading, with n - 1
  double standard_uncertainty = 0;  ///< of the mean
  double degrees_of_freedom = 0;    ///< n - 1
};

/// @throws std::invalid_argument for fewer than two readings.
ReadingStatistics statistics_of(std::span<const double> readings);

/// Correlation of the means of readings taken in pairs (GUM 5.2.3, eqs. 17 and 14).
/// @throws std::invalid_argument for lists of unequal length or fewer than two pairs.
double correlation_of_means(std::span<const double> x, std::span<const double> y);

}  // namespace scantling
