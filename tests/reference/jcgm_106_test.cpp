// JCGM 106:2012, the role of measurement uncertainty in conformity assessment. 9.5.4 was seen in an
// open library that transcribes it; clause numbers and the other examples are values from memory,
// worked out again. A normal measurement density is symmetric: the chance of reading below A given
// the true size y is the chance of being below A given a reading of y.

#include <gtest/gtest.h>

#include <array>
#include <boost/math/distributions/gamma.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <cstdio>
#include <functional>

#include "reference/printed.h"
#include "uncertainty/coverage.h"
#include "verdict/verdict.h"

namespace scantling {
namespace {

double below(double y, double u, double limit) {
  return probability_below({y, u, kUnlimitedDegreesOfFreedom, {}}, limit);
}

double integral(const std::function<double(double)>& f, double from, double to) {
  return boost::math::quadrature::gauss_kronrod<double, 61>::integrate(f, from, to, 15, 1e-12);
}

// 7.3.2, one upper limit: y -5.47 V, u 0.05 V, limit -5.40 V. Shifted by 10 V, as the project's
// sizes are never negative.
TEST(Jcgm106, OneUpperLimit) {
  std::printf("7.3.2: p %.4f (published 0.92); 7.3.3: p %.4f (0.99); 7.4: p %.4f (0.66)\n",
              below(4.53, 0.05, 4.60), 1 - below(509.7, 8.6, 490),
              below(13.6, 1.8, 16.3) - below(13.6, 1.8, 12.5));
  expect_printed(below(4.53, 0.05, 4.60), "0.92");
  EXPECT_NEAR(below(4.53, 0.05, 4.60), 0.919243, 1e-6);
}

// 7.3.3, one lower limit: y 509.7 kPa, u 8.6 kPa, limit 490 kPa; the shape of a minimum thickness.
TEST(Jcgm106, OneLowerLimit) {
  expect_printed((509.7 - 490) / 8.6, "2.3");
  expect_printed(1 - below(509.7, 8.6, 490), "0.99");
  EXPECT_NEAR(1 - below(509.7, 8.6, 490), 0.989010, 1e-6);
}

// 7.4, two limits: y 13.6 mm^2/s, u 1.8, limits 12.5 and 16.3.
TEST(Jcgm106, TwoLimits) {
  expect_printed(below(13.6, 1.8, 16.3), "0.933");
  expect_printed(below(13.6, 1.8, 12.5), "0.271");
  expect_printed(below(13.6, 1.8, 16.3) - below(13.6, 1.8, 12.5), "0.66");
  EXPECT_NEAR(below(13.6, 1.8, 16.3), 0.933193, 1e-6);
  EXPECT_NEAR(below(13.6, 1.8, 12.5), 0.270563, 1e-6);
}

// Table 1 of 7.3: z for a wanted conformance probability.
TEST(Jcgm106, TableOne) {
  struct Row {
    double probability, z;
    const char* printed;
  };
  constexpr std::array<Row, 5> kRows{{{0.80, 0.841621, "0.84"},
                                      {0.90, 1.281552, "1.28"},
                                      {0.95, 1.644854, "1.64"},
                                      {0.99, 2.326348, "2.33"},
                                      {0.999, 3.090232, "3.09"}}};
  for (const auto& [probability, z, printed] : kRows) {
    expect_printed(t_quantile(probability, kUnlimitedDegreesOfFreedom), printed);
    EXPECT_NEAR(t_quantile(probability, kUnlimitedDegreesOfFreedom), z, 1e-6);
    EXPECT_NEAR(1 - below(22 + z * 0.05, 0.05, 22), probability, 1e-6);
  }
}

// 8.3.2: guard band w = U = 2u; at the acceptance limit the specific risk is at most 2.3 %.
TEST(Jcgm106, GuardBandOfTwoU) {
  expect_printed(1 - below(22.10, 0.05, 22), "0.977");
  expect_printed(100 * below(22.10, 0.05, 22), "2.3");
}

// 8.3.3: speed limit 100 km/h, u 2 % of the speed, proof of excess at 99.9 %: 107 km/h.
TEST(Jcgm106, GuardedRejection) {
  const double threshold = 106.5876;
  expect_printed(threshold, "107");
  EXPECT_NEAR(below(threshold, 0.02 * threshold, 100), 0.001, 1e-6);
}

// 9.5.4: bearings, gamma(shape 4, scale 0.25 um) against an upper limit of 2 um, u 0.25 um.
TEST(Jcgm106, BearingsGlobalRisks) {
  const boost::math::gamma_distribution<double> process(4, 0.25);
  const auto consumer = [&](double accepted_up_to) {
    return integral([&](double y) { return pdf(process, y) * below(y, 0.25, accepted_up_to); }, 2,
                    12);
  };
  const auto producer = [&](double accepted_up_to) {
    return integral(
        [&](double y) { return pdf(process, y) * (1 - below(y, 0.25, accepted_up_to)); }, 0, 2);
  };
  std::printf("9.5.4: %.1f %% bad uninspected (published 4.2), consumer's risk %.2f %% (0.8)\n",
              100 * cdf(complement(process, 2)), 100 * consumer(2));
  expect_printed(100 * cdf(complement(process, 2)), "4.2");
  expect_printed(100 * consumer(2), "0.8");
  expect_printed(100 * consumer(1.67), "0.1");
  EXPECT_NEAR(cdf(complement(process, 2)), 0.0423801, 1e-7);
  EXPECT_NEAR(consumer(2), 0.00801911, 1e-7);
  EXPECT_NEAR(producer(2), 0.0174446, 1e-6);
  EXPECT_NEAR(consumer(1.6718288), 0.001, 1e-7);
  EXPECT_NEAR(producer(1.6718288), 0.0754939, 1e-6);
}

// 9.5.3: resistors, N(1500, 0.12) ohm against +-0.2 ohm, u 0.04 ohm. Inputs from memory; the risks
// are not published but worked out.
TEST(Jcgm106, ResistorsGlobalRisks) {
  const boost::math::normal_distribution<double> process(1500, 0.12);
  const auto accepted = [](double y, double w) {
    return below(y, 0.04, 1500.2 - w) - below(y, 0.04, 1499.8 + w);
  };
  const auto consumer = [&](double w) {
    return 2 * integral([&](double y) { return pdf(process, y) * accepted(y, w); }, 1500.2, 1501.2);
  };
  const auto producer = [&](double w) {
    return 2 *
           integral([&](double y) { return pdf(process, y) * (1 - accepted(y, w)); }, 1500, 1500.2);
  };
  EXPECT_NEAR(consumer(0), 0.0189422, 1e-6);
  EXPECT_NEAR(producer(0), 0.0372078, 1e-6);
  EXPECT_NEAR(consumer(0.08), 0.00046863, 1e-7);
  EXPECT_NEAR(producer(0.08), 0.2476696, 1e-6);
}

// 7.2 with GUM G.3: few degrees of freedom make the tail heavier.
TEST(Jcgm106, FewDegreesOfFreedom) {
  EXPECT_NEAR(probability_below({22.12, 0.05, 9, {}}, 22), 0.01994894, 1e-8);
  EXPECT_NEAR(probability_below({22.12, 0.05, 4, {}}, 22), 0.03717816, 1e-8);
}

}  // namespace
}  // namespace scantling
