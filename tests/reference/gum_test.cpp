// JCGM 100:2008, Guide to the expression of uncertainty in measurement (GUM): the short examples.
// Values from memory with the arithmetic done again, but for the pairs of G.4.2 and Table G.2.

#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "reference/printed.h"
#include "uncertainty/coverage.h"
#include "uncertainty/distribution.h"
#include "uncertainty/propagation.h"

namespace scantling {
namespace {

// 4.4.3 and Table 1.
TEST(Gum, TwentyTemperatures) {
  constexpr std::array<double, 20> kReadings{96.90,  98.18,  98.25,  98.61,  99.03,  99.49,  99.56,
                                             99.74,  99.89,  100.07, 100.33, 100.42, 100.68, 100.95,
                                             101.11, 101.20, 101.57, 101.84, 102.36, 102.72};
  const ReadingStatistics statistics = statistics_of(kReadings);
  expect_printed(statistics.mean, "100.145");
  expect_printed(statistics.deviation, "1.489");
  expect_printed(statistics.standard_uncertainty, "0.333");
  EXPECT_NEAR(statistics.deviation, 1.48884448, 1e-8);
  EXPECT_NEAR(statistics.standard_uncertainty, 0.33291575, 1e-8);
  EXPECT_EQ(statistics.degrees_of_freedom, 19);
}

// 4.3 and 4.4: standard uncertainties of the common distributions.
TEST(Gum, DistributionsFromTheirLimits) {
  EXPECT_NEAR(Distribution::rectangular(-1, 1).standard_uncertainty(), 1 / std::sqrt(3.0), 1e-15);
  EXPECT_NEAR(Distribution::triangular(-1, 1).standard_uncertainty(), 1 / std::sqrt(6.0), 1e-15);
  EXPECT_NEAR(Distribution::arcsine(-1, 1).standard_uncertainty(), 1 / std::sqrt(2.0), 1e-15);
  EXPECT_NEAR(Distribution::trapezoidal(-1, 1, 0.5).standard_uncertainty(), std::sqrt(1.25 / 6),
              1e-15);
}

// 5.2.2, example: ten resistors set against one standard; every error of the standard is shared.
TEST(Gum, TenResistorsAgainstOneStandard) {
  const Model sum = [](std::span<const double> r) {
    double total = 0;
    for (double ohm : r) total += ohm;
    return total;
  };
  InputQuantities inputs;
  for (int i = 0; i < 10; ++i) inputs.add("R", Distribution::normal(1000, 0.100));
  expect_printed(propagate(inputs, sum).standard_uncertainty, "0.32");  // wrong, as published
  for (std::size_t i = 0; i < 10; ++i)
    for (std::size_t j = 0; j < i; ++j) inputs.correlate(i, j, 1);
  const Propagated correlated = propagate(inputs, sum);
  EXPECT_NEAR(correlated.value, 10'000, 1e-9);
  EXPECT_NEAR(correlated.standard_uncertainty, 1.0, 1e-9);
  expect_printed(correlated.standard_uncertainty, "1.0");
}

// G.4.1, example: y = b X1 X2 X3.
TEST(Gum, WelchSatterthwaiteOfAProduct) {
  InputQuantities inputs;
  inputs.add("X1", Distribution::student_t(1, 0.0025, 9));
  inputs.add("X2", Distribution::student_t(1, 0.0057, 4));
  inputs.add("X3", Distribution::student_t(1, 0.0082, 14));
  const Propagated y =
      propagate(inputs, [](std::span<const double> x) { return x[0] * x[1] * x[2]; });
  expect_printed(100 * y.standard_uncertainty, "1.03");  // per cent
  // 18.9987, printed as 19.0; the Guide then enters the table with 19. Truncated it would be 18.
  expect_printed(y.degrees_of_freedom, "19.0");
  expect_printed(coverage_factor(0.95, 19), "2.09");
  expect_printed(100 * coverage_factor(0.95, 19) * y.standard_uncertainty, "2.2");
}

// G.4.2, eq. (G.3): the pairs used in H.1.
TEST(Gum, DegreesOfFreedomOfADoubt) {
  EXPECT_DOUBLE_EQ(degrees_of_freedom_of_doubt(0.10), 50);
  EXPECT_DOUBLE_EQ(degrees_of_freedom_of_doubt(0.25), 8);
  EXPECT_DOUBLE_EQ(degrees_of_freedom_of_doubt(0.50), 2);
  EXPECT_TRUE(std::isinf(degrees_of_freedom_of_doubt(0)));
}

// Table G.2.
TEST(Gum, CoverageFactors) {
  expect_printed(coverage_factor(0.95, 16), "2.12");
  expect_printed(coverage_factor(0.9545, 16), "2.17");
  expect_printed(coverage_factor(0.99, 16), "2.92");
  expect_printed(coverage_factor(0.9545, kUnlimitedDegreesOfFreedom), "2.000");
}

// G.4.1 note 1: degrees of freedom are truncated, not rounded.
TEST(Gum, DegreesOfFreedomAreTruncated) {
  EXPECT_EQ(coverage_factor(0.95, 16.99), coverage_factor(0.95, 16));
}

}  // namespace
}  // namespace scantling
