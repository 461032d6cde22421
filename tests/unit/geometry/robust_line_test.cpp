#include "geometry/robust_line.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <random>

namespace scantling {
namespace {

std::vector<double> places(std::size_t n) {
  std::vector<double> x(n);
  for (std::size_t i = 0; i < n; ++i) x[i] = -30 + 60 * static_cast<double>(i) / double(n - 1);
  return x;
}

TEST(RobustLine, KeepsItsPlaceWithFourWrongPointsInTen) {
  std::mt19937 random(1);
  std::normal_distribution<double> noise(0, 0.05);
  std::uniform_real_distribution<double> wild(-8, 8), share(0, 1);
  const auto x = places(60);
  double worst = 0;
  for (int trial = 0; trial < 100; ++trial) {
    std::vector<double> y;
    std::vector<char> wrong;
    for (const double at : x) {
      wrong.push_back(share(random) < 0.4);
      y.push_back(2 - 0.03 * at + (wrong.back() ? wild(random) : noise(random)));
    }
    const RobustLine line = fit_robust_line(x, y);
    ASSERT_TRUE(line.valid);
    worst = std::max({worst, std::abs(line.at(-30) - 2.9), std::abs(line.at(30) - 1.1)});
  }
  std::printf("40 %% wild points: worst end of the line off by %.3f (noise 0.05)\n", worst);
  EXPECT_LT(worst, 0.08);
}

TEST(RobustLine, PrefersTheLongerOfTwoParallelLines) {
  // A chamfer's line beside the edge: 40 % of the blocks sit on it.
  std::mt19937 random(2);
  std::normal_distribution<double> noise(0, 0.03);
  const auto x = places(50);
  std::vector<double> y;
  for (std::size_t i = 0; i < x.size(); ++i)
    y.push_back(0.01 * x[i] + (i % 5 < 2 ? 0.6 : 0.0) + noise(random));
  const RobustLine line = fit_robust_line(x, y);
  ASSERT_TRUE(line.valid);
  EXPECT_NEAR(line.at(0), 0, 0.03);
  EXPECT_NEAR(line.slope, 0.01, 0.002);
  EXPECT_NEAR(line.inlier_share, 0.6, 0.03);
}

struct Ratios {
  double height, slope;
};

/// Root mean square of the errors in units of the stated uncertainties.
Ratios error_ratios(double neighbour_correlation, unsigned seed) {
  std::mt19937 random(seed);
  std::normal_distribution<double> normal;
  const auto x = places(60);
  const double fresh = std::sqrt(1 - neighbour_correlation * neighbour_correlation);
  double height = 0, slope = 0;
  constexpr int kTrials = 1000;
  for (int trial = 0; trial < kTrials; ++trial) {
    std::vector<double> y;
    double e = normal(random);
    for (const double at : x) {
      y.push_back(1 + 0.02 * at + 0.05 * e);
      e = neighbour_correlation * e + fresh * normal(random);
    }
    const RobustLine line = fit_robust_line(x, y);
    height += std::pow((line.height - 1 - 0.02 * line.middle) / line.height_u, 2) / kTrials;
    slope += std::pow((line.slope - 0.02) / line.slope_u, 2) / kTrials;
  }
  std::printf("neighbours' correlation %.1f: rms of error over stated u: height %.3f, slope %.3f\n",
              neighbour_correlation, std::sqrt(height), std::sqrt(slope));
  return {std::sqrt(height), std::sqrt(slope)};
}

TEST(RobustLine, StatesTheUncertaintyThatSimulationFinds) {
  const Ratios independent = error_ratios(0, 3);
  EXPECT_GT(independent.height, 0.85);
  EXPECT_LT(independent.height, 1.15);
  EXPECT_GT(independent.slope, 0.85);
  EXPECT_LT(independent.slope, 1.15);
  // A short row of residuals shows only a part of its correlation.
  const Ratios correlated = error_ratios(0.6, 4);
  EXPECT_GT(correlated.height, 0.85);
  EXPECT_LT(correlated.height, 1.45);
  EXPECT_LT(correlated.slope, 1.45);
}

TEST(RobustLine, RefusesWhatIsNoLine) {
  const std::vector<double> two{0, 1}, three{0, 1, 2};
  EXPECT_FALSE(fit_robust_line(two, two).valid);
  EXPECT_FALSE(fit_robust_line(three, two).valid);
  const std::vector<double> one_place{1, 1, 1, 1};
  EXPECT_FALSE(fit_robust_line(one_place, one_place).valid);
  const std::vector<double> broken{0, NAN, NAN};
  EXPECT_FALSE(fit_robust_line(three, broken).valid);
}

}  // namespace
}  // namespace scantling
