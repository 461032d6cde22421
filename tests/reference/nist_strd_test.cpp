// NIST Statistical Reference Datasets, linear regression: Norris, NoInt1, NoInt2, Longley.
// Certified values as an open library transcribes them. The prediction rows are worked out from the
// certified data with 40 digits, and NoInt1's residual deviation is from memory, worked out again.

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <vector>

#include "uncertainty/regression.h"

namespace scantling {
namespace {

/// At least so many digits of the certified value.
void expect_digits(double value, double certified, int digits) {
  const double error = std::abs(value - certified) / std::abs(certified);
  std::printf("%.15g, certified %.15g: %.1f digits\n", value, certified,
              error > 0 ? -std::log10(error) : 16.0);
  EXPECT_LE(std::abs(value - certified), std::abs(certified) * std::pow(10, -digits))
      << value << " against " << certified;
}

/// y first, as the file lists them.
constexpr std::array<std::array<double, 2>, 36> kNorris{
    {{0.1, 0.2},     {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1},    {228.1, 226.5},
     {668.5, 666.3}, {998.5, 996.3}, {449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4},
     {0.1, 0.6},     {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0}, {448.9, 447.5}, {10.8, 11.6},
     {557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3},
     {0.6, 0.3},     {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0},
     {10.2, 11.1},   {117.6, 118.3}, {228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5}}};

LineFit norris() {
  std::vector<double> x;
  std::vector<double> y;
  for (const auto& row : kNorris) {
    y.push_back(row[0]);
    x.push_back(row[1]);
  }
  return fit_line(x, y);
}

TEST(NistStrd, Norris) {
  const LineFit fit = norris();
  expect_digits(fit.intercept, -0.262323073774029, 11);
  expect_digits(fit.intercept_uncertainty, 0.232818234301152, 11);
  expect_digits(fit.slope, 1.00211681802045, 12);
  expect_digits(fit.slope_uncertainty, 0.429796848199937e-3, 11);
  expect_digits(fit.residual_deviation, 0.884796396144373, 11);
  expect_digits(fit.r_squared, 0.999993745883712, 12);
  expect_digits(fit.residual_sum_of_squares, 26.6173985294224, 11);
  expect_digits(fit.slope * fit.slope * fit.sxx, 4255954.13232369, 12);
  EXPECT_EQ(fit.degrees_of_freedom, 34);
}

TEST(NistStrd, NorrisPredictions) {
  struct Row {
    double x, y, line, observation, low, high;
  };
  constexpr std::array<Row, 3> kRows{
      {{0, -0.2623230738, 0.2328182343, 0.9149147462, -2.1216535433, 1.5970073957},
       {500, 500.7960859365, 0.1515021758, 0.8976734216, 498.9717940542, 502.6203778187},
       {1000, 1001.8544949467, 0.2899381894, 0.9310901226, 999.9622921574, 1003.7466977359}}};
  const LineFit fit = norris();
  for (const Row& row : kRows) {
    EXPECT_NEAR(fit.at(row.x), row.y, 2e-9);
    EXPECT_NEAR(fit.line_uncertainty_at(row.x), row.line, 1e-9);
    EXPECT_NEAR(fit.observation_uncertainty_at(row.x), row.observation, 1e-9);
    const Interval interval = fit.prediction_interval(row.x, 0.95);
    EXPECT_NEAR(interval.low, row.low, 5e-9);
    EXPECT_NEAR(interval.high, row.high, 5e-9);
  }
}

TEST(NistStrd, NoInt1) {
  std::vector<std::vector<double>> x;
  std::vector<double> y;
  for (int i = 0; i <= 10; ++i) {
    x.push_back({60.0 + i});
    y.push_back(130.0 + i);
  }
  const LinearFit fit = fit_linear(x, y, false);
  expect_digits(fit.coefficients[0], 2.07438016528926, 12);
  expect_digits(fit.uncertainties[0], 0.165289256198347e-1, 12);
  expect_digits(fit.residual_deviation, 3.56753034006338, 12);
  expect_digits(fit.r_squared, 0.999365492298663, 12);  // about zero, not about the mean
  expect_digits(fit.residual_sum_of_squares, 127.272727272727, 12);
  EXPECT_EQ(fit.degrees_of_freedom, 10);
}

TEST(NistStrd, NoInt2) {
  const LinearFit fit = fit_linear({{4}, {5}, {6}}, std::vector<double>{3, 4, 4}, false);
  expect_digits(fit.coefficients[0], 0.727272727272727, 12);
  expect_digits(fit.uncertainties[0], 0.420827318078432e-1, 12);
  expect_digits(fit.r_squared, 0.993348115299335, 12);
  expect_digits(fit.residual_sum_of_squares, 0.272727272727273, 12);
}

TEST(NistStrd, Longley) {
  constexpr std::array<std::array<double, 7>, 16> kRows{
      {{60323, 83.0, 234289, 2356, 1590, 107608, 1947},
       {61122, 88.5, 259426, 2325, 1456, 108632, 1948},
       {60171, 88.2, 258054, 3682, 1616, 109773, 1949},
       {61187, 89.5, 284599, 3351, 1650, 110929, 1950},
       {63221, 96.2, 328975, 2099, 3099, 112075, 1951},
       {63639, 98.1, 346999, 1932, 3594, 113270, 1952},
       {64989, 99.0, 365385, 1870, 3547, 115094, 1953},
       {63761, 100.0, 363112, 3578, 3350, 116219, 1954},
       {66019, 101.2, 397469, 2904, 3048, 117388, 1955},
       {67857, 104.6, 419180, 2822, 2857, 118734, 1956},
       {68169, 108.4, 442769, 2936, 2798, 120445, 1957},
       {66513, 110.8, 444546, 4681, 2637, 121950, 1958},
       {68655, 112.6, 482704, 3813, 2552, 123366, 1959},
       {69564, 114.2, 502601, 3931, 2514, 125368, 1960},
       {69331, 115.7, 518173, 4806, 2572, 127852, 1961},
       {70551, 116.9, 554894, 4007, 2827, 130081, 1962}}};
  std::vector<std::vector<double>> x;
  std::vector<double> y;
  for (const auto& row : kRows) {
    y.push_back(row[0]);
    x.emplace_back(row.begin() + 1, row.end());
  }
  const LinearFit fit = fit_linear(x, y, true);
  constexpr std::array<std::array<double, 2>, 7> kCertified{
      {{-3482258.63459582, 890420.383607373},
       {15.0618722713733, 84.9149257747669},
       {-0.358191792925910e-01, 0.334910077722432e-01},
       {-2.02022980381683, 0.488399681651699},
       {-1.03322686717359, 0.214274163161675},
       {-0.511041056535807e-01, 0.226073200069370},
       {1829.15146461355, 455.478499142212}}};
  for (std::size_t i = 0; i < kCertified.size(); ++i) {
    expect_digits(fit.coefficients[i], kCertified[i][0], 9);
    expect_digits(fit.uncertainties[i], kCertified[i][1], 9);
  }
  expect_digits(fit.residual_deviation, 304.854073561965, 10);
  expect_digits(fit.r_squared, 0.995479004577296, 12);
}

}  // namespace
}  // namespace scantling
