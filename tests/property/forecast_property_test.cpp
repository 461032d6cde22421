// What must hold for every plausible history of a part.

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <random>
#include <vector>

#include "verdict/forecast.h"

namespace scantling {
namespace {

constexpr double kMinimum_mm = 22.0;

double in_steps(int low, int high, double step) {
  return step * *rc::gen::inRange(low, high);
}

/// A part that gets thinner, with sizes to 0.01 mm.
std::vector<WearPoint> any_history(int at_least = 2) {
  std::vector<WearPoint> points;
  double km = in_steps(0, 100, 1000);
  double mm = 24 + in_steps(0, 400, 0.01);
  const int count = *rc::gen::inRange(at_least, 7);
  for (int i = 0; i < count; ++i) {
    points.push_back({km, mm, in_steps(5, 60, 0.001)});
    km += in_steps(1, 40, 1000);
    mm -= in_steps(1, 60, 0.01);
  }
  return points;
}

RC_GTEST_PROP(ForecastProperty, LowerBoundIsNeverBeyondTheForecast, ()) {
  const Forecast forecast = forecast_wear(any_history(), kMinimum_mm);
  RC_ASSERT(forecast.fitted);
  RC_ASSERT(forecast.distance_left_km.has_value());
  RC_ASSERT(!forecast.distance_left_lower_95_km ||
            *forecast.distance_left_lower_95_km <= *forecast.distance_left_km + 0.1);
  RC_ASSERT(forecast.now.interval_95.low <= forecast.now.size_mm);
  RC_ASSERT(forecast.now.size_mm <= forecast.now.interval_95.high);
}

RC_GTEST_PROP(ForecastProperty, AnotherStartOfTheOdometerChangesNothing, ()) {
  const std::vector<WearPoint> points = any_history();
  std::vector<WearPoint> moved = points;
  const double shift_km = in_steps(1, 300, 1000);
  for (WearPoint& point : moved) point.odometer_km += shift_km;
  const Forecast here = forecast_wear(points, kMinimum_mm);
  const Forecast there = forecast_wear(moved, kMinimum_mm);
  RC_ASSERT(std::abs(here.wear_mm_per_1000_km - there.wear_mm_per_1000_km) < 1e-9);
  RC_ASSERT(std::abs(*here.distance_left_km - *there.distance_left_km) < 1);
  RC_ASSERT(std::abs(here.now.interval_95.low - there.now.interval_95.low) < 1e-9);
}

RC_GTEST_PROP(ForecastProperty, VaguerSizesNeverPromiseMoreDistance, ()) {
  std::vector<WearPoint> points = any_history();
  const Forecast sharp = forecast_wear(points, kMinimum_mm);
  for (WearPoint& point : points) *point.standard_uncertainty_mm *= 2;
  const Forecast vague = forecast_wear(points, kMinimum_mm);
  RC_ASSERT(!vague.distance_left_lower_95_km || !sharp.distance_left_lower_95_km ||
            *vague.distance_left_lower_95_km <= *sharp.distance_left_lower_95_km + 0.1);
  RC_ASSERT(vague.distance_left_lower_95_km || !sharp.distance_left_lower_95_km);
}

RC_GTEST_PROP(ForecastProperty, AHigherMinimumNeverPromisesMoreDistance, ()) {
  const std::vector<WearPoint> points = any_history();
  const double higher_mm = kMinimum_mm + in_steps(0, 300, 0.01);
  const Forecast low = forecast_wear(points, kMinimum_mm);
  const Forecast high = forecast_wear(points, higher_mm);
  RC_ASSERT(*high.distance_left_km <= *low.distance_left_km);
  RC_ASSERT(!low.distance_left_lower_95_km ||
            *high.distance_left_lower_95_km <= *low.distance_left_lower_95_km + 0.1);
}

RC_GTEST_PROP(ForecastProperty, AnOdometerThatRunsBackwardsIsNeverFitted, ()) {
  std::vector<WearPoint> points = any_history();
  const std::size_t last = points.size() - 1;
  const std::size_t i = *rc::gen::inRange<std::size_t>(0, last);
  std::swap(points[i].odometer_km, points[last].odometer_km);
  const Forecast forecast = forecast_wear(points, kMinimum_mm);
  RC_ASSERT(!forecast.fitted);
  RC_ASSERT(any_stop(forecast.checks));
}

/// Histories with known wear and honest uncertainties: how often the true distance is below the
/// lower bound.
double broken_promises(int sizes, std::uint64_t seed) {
  constexpr int kHistories = 20'000;
  constexpr double kWear_mm_per_km = 0.03 / 1000;
  constexpr double kU_mm = 0.03;
  std::mt19937_64 random(seed);
  std::normal_distribution<double> error(0, kU_mm);
  int broken = 0;
  for (int i = 0; i < kHistories; ++i) {
    std::vector<WearPoint> points;
    for (int k = 0; k < sizes; ++k) {
      const double km = 15'000.0 * k;
      points.push_back({km, 25 - kWear_mm_per_km * km + error(random), kU_mm});
    }
    const Forecast forecast = forecast_wear(points, kMinimum_mm);
    const double true_left_km = (25 - kMinimum_mm) / kWear_mm_per_km - points.back().odometer_km;
    broken += forecast.fitted && forecast.distance_left_lower_95_km.value_or(2e6) > true_left_km;
  }
  return static_cast<double>(broken) / kHistories;
}

TEST(ForecastSimulation, BreaksItsLowerBoundLessThanOnceInForty) {
  // The bound is the lower end of a two-sided 95 % interval: 2.5 %, from two sizes exactly so.
  for (const int sizes : {2, 3, 4, 6}) {
    const double broken = broken_promises(sizes, 5);
    std::printf("%d sizes: the minimum comes before the lower bound in %.2f %% of histories\n",
                sizes, 100 * broken);
    EXPECT_LT(broken, 0.025 + 4 * std::sqrt(0.025 / 20'000));
  }
  EXPECT_GT(broken_promises(2, 6), 0.015) << "the bound is far more timid than it says";
}

}  // namespace
}  // namespace scantling
