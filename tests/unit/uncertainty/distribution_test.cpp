#include "uncertainty/distribution.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

namespace scantling {
namespace {

ReadingStatistics drawn_from(const Distribution& distribution) {
  Random random(42);
  std::vector<double> values(400'000);
  for (double& value : values) value = distribution.draw(random);
  return statistics_of(values);
}

TEST(Distribution, DrawsWithTheMeanAndUncertaintyItStates) {
  for (const Distribution& d :
       {Distribution::normal(22, 0.05), Distribution::rectangular(21, 24),
        Distribution::triangular(21, 24), Distribution::arcsine(21, 24),
        Distribution::trapezoidal(21, 24, 0.4), Distribution::curvilinear_trapezoidal(21, 24, 0.5),
        Distribution::student_t_of_deviation(22, 0.05, 9)}) {
    const ReadingStatistics drawn = drawn_from(d);
    EXPECT_NEAR(drawn.mean, d.mean(), 5 * drawn.standard_uncertainty);
    EXPECT_NEAR(drawn.deviation / d.standard_uncertainty(), 1, 0.01);
  }
}

TEST(Distribution, DrawsAReadingsMeanWiderThanItsScale) {
  const Distribution mean = Distribution::student_t(22, 0.05, 5);
  EXPECT_EQ(mean.standard_uncertainty(), 0.05);
  EXPECT_EQ(mean.degrees_of_freedom(), 5);
  EXPECT_NEAR(drawn_from(mean).deviation, 0.05 * std::sqrt(5.0 / 3), 0.002);
}

TEST(Distribution, StaysWithinItsLimits) {
  Random random(1);
  for (const Distribution& d :
       {Distribution::rectangular(-1, 1), Distribution::triangular(-1, 1),
        Distribution::arcsine(-1, 1), Distribution::trapezoidal(-1, 1, 0.5)})
    for (int i = 0; i < 10'000; ++i) EXPECT_LE(std::abs(d.draw(random)), 1);
}

TEST(Distribution, GivesTheSameDrawsForTheSameSeed) {
  Random one(7);
  Random two(7);
  const Distribution d = Distribution::student_t(0, 1, 4);
  for (int i = 0; i < 100; ++i) EXPECT_EQ(d.draw(one), d.draw(two));
}

TEST(Distribution, RefusesWhatMakesNoSense) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(Distribution::normal(nan, 1), std::invalid_argument);
  EXPECT_THROW(Distribution::normal(0, -1), std::invalid_argument);
  EXPECT_THROW(Distribution::normal(0, nan), std::invalid_argument);
  EXPECT_THROW(Distribution::rectangular(1, 1), std::invalid_argument);
  EXPECT_THROW(Distribution::rectangular(2, 1), std::invalid_argument);
  EXPECT_THROW(Distribution::trapezoidal(0, 1, 1.5), std::invalid_argument);
  EXPECT_THROW(Distribution::curvilinear_trapezoidal(0, 1, 0.6), std::invalid_argument);
  EXPECT_THROW(Distribution::student_t(0, 1, 0), std::invalid_argument);
  EXPECT_THROW(Distribution::student_t_of_deviation(0, 1, 2), std::invalid_argument);
  EXPECT_THROW(Distribution::normal(0, 1).with_degrees_of_freedom(nan), std::invalid_argument);
  EXPECT_THROW(statistics_of(std::vector<double>{1}), std::invalid_argument);
  EXPECT_THROW(correlation_of_means(std::vector<double>{1, 2}, std::vector<double>{1}),
               std::invalid_argument);
}

}  // namespace
}  // namespace scantling
