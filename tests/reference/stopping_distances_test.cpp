// Speeds in mph and stopping distances in ft of 50 cars: M. Ezekiel, Methods of Correlation
// Analysis, Wiley 1930, the data set "cars" of R. 95 % prediction intervals as printed by A.
// Kassambara, Machine Learning Essentials (2018), "Predict in R: Model Predictions and Confidence
// Intervals", from memory; the arithmetic was done again and agrees with every printed digit.

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <vector>

#include "reference/printed.h"
#include "uncertainty/regression.h"

namespace scantling {
namespace {

constexpr std::array<double, 50> kSpeed{4,  4,  7,  7,  8,  9,  10, 10, 10, 11, 11, 12, 12,
                                        12, 12, 13, 13, 13, 13, 14, 14, 14, 14, 15, 15, 15,
                                        16, 16, 17, 17, 17, 18, 18, 18, 18, 19, 19, 19, 20,
                                        20, 20, 20, 20, 22, 23, 24, 24, 24, 24, 25};
constexpr std::array<double, 50> kDistance{2,  10, 4,  22, 16, 10, 18, 26, 34, 17,  28, 14, 20,
                                           24, 28, 26, 34, 34, 46, 26, 36, 60, 80,  20, 26, 54,
                                           32, 40, 32, 40, 50, 42, 56, 76, 84, 36,  46, 68, 32,
                                           48, 52, 56, 64, 66, 54, 70, 92, 93, 120, 85};

TEST(StoppingDistances, PredictionIntervals) {
  const LineFit fit = fit_line(kSpeed, kDistance);
  expect_printed(fit.intercept, "-17.5791");
  expect_printed(fit.slope, "3.9324");
  expect_printed(fit.residual_deviation, "15.38");
  struct Row {
    double speed;
    const char *distance, *low, *high;
  };
  constexpr std::array<Row, 3> kPrinted{{{12, "29.6", "-1.75", "61.0"},
                                         {19, "57.1", "25.76", "88.5"},
                                         {24, "76.8", "44.75", "108.8"}}};
  for (const Row& row : kPrinted) {
    const Interval interval = fit.prediction_interval(row.speed, 0.95);
    std::printf("at %.0f mph: %.2f ft, 95 %% prediction %.2f to %.2f\n", row.speed,
                fit.at(row.speed), interval.low, interval.high);
    expect_printed(fit.at(row.speed), row.distance);
    expect_printed(interval.low, row.low);
    expect_printed(interval.high, row.high);
  }
}

}  // namespace
}  // namespace scantling
