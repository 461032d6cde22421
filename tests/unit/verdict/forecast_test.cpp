#include "verdict/forecast.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>
#include <string>
#include <vector>

namespace scantling {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::Field;
using testing::IsEmpty;

using Points = std::vector<WearPoint>;

// Common practice: 26.2 mm when new, 23.1 mm after 80 000 km is 0.039 mm per 1 000 km.
TEST(Forecast, DrawsALineThroughTwoSizes) {
  const Forecast forecast = forecast_wear(Points{{0, 26.2, 0.02}, {80'000, 23.1, 0.03}}, 22.0);
  ASSERT_TRUE(forecast.fitted);
  EXPECT_NEAR(forecast.wear_mm_per_1000_km, 0.03875, 1e-12);
  EXPECT_NEAR(forecast.wear_standard_uncertainty, std::hypot(0.02, 0.03) / 80, 1e-12);
  EXPECT_TRUE(std::isinf(forecast.degrees_of_freedom));
  EXPECT_NEAR(forecast.distance_left_km.value(), 1.1 / 0.03875 * 1000, 1e-6);
  EXPECT_THAT(forecast.checks, IsEmpty());
}

TEST(Forecast, CarriesTwoUncertaintiesAlongTheLine) {
  // At 120 000 km the size is 1.5 b - 0.5 a: u = sqrt((1.5 * 0.03)^2 + (0.5 * 0.02)^2).
  const Forecast forecast =
      forecast_wear(Points{{0, 26.2, 0.02}, {80'000, 23.1, 0.03}}, 20.0, {.now_km = 120'000.0});
  EXPECT_NEAR(forecast.now.size_mm, 21.55, 1e-9);
  EXPECT_NEAR(forecast.now.interval_95.high - forecast.now.size_mm,
              1.959964 * std::hypot(0.045, 0.010), 1e-6);
}

TEST(Forecast, PutsTheLowerBoundWhereTheIntervalMeetsTheMinimum) {
  const Points points{{0, 26.2, 0.02}, {80'000, 23.1, 0.03}};
  const Forecast forecast = forecast_wear(points, 22.0);
  const double reached_km = 80'000 + forecast.distance_left_lower_95_km.value();
  EXPECT_LT(*forecast.distance_left_lower_95_km, *forecast.distance_left_km);
  EXPECT_NEAR(forecast_wear(points, 22.0, {.now_km = reached_km}).now.interval_95.low, 22.0, 1e-5);
}

// Own vector: 25.00, 24.62, 24.21, 23.80 mm every 20 000 km; figures worked out elsewhere.
TEST(Forecast, FitsALineFromThreeSizesOn) {
  const Points points{
      {0, 25.00, {}}, {20'000, 24.62, {}}, {40'000, 24.21, {}}, {60'000, 23.80, {}}};
  const Forecast forecast =
      forecast_wear(points, 22.0, {.now_km = 80'000.0, .next_check_km = 100'000.0});
  EXPECT_NEAR(forecast.wear_mm_per_1000_km, 0.02005, 1e-12);
  EXPECT_NEAR(forecast.wear_standard_uncertainty, 0.000259807621135, 1e-14);
  EXPECT_EQ(forecast.degrees_of_freedom, 2);
  EXPECT_NEAR(forecast.now.size_mm, 23.4050, 1e-9);
  EXPECT_NEAR(forecast.now.interval_95.low, 23.3259552220, 1e-8);
  EXPECT_NEAR(forecast.now.interval_95.high, 23.4840447780, 1e-8);
  EXPECT_NEAR(forecast.at_next_check->interval_95.low, 22.9078378773, 1e-8);
  EXPECT_NEAR(forecast.at_next_check->interval_95.high, 23.1001621227, 1e-8);
  EXPECT_FALSE(forecast.reaches_minimum_before_next_check);
}

TEST(Forecast, IsNeverSurerThanTheStatedUncertainties) {
  // Three points that happen to lie exactly on a line have no scatter at all.
  const Forecast forecast =
      forecast_wear(Points{{0, 25.0, 0.05}, {20'000, 24.5, 0.05}, {40'000, 24.0, 0.05}}, 22.0);
  // At the last point the least-squares weights are -1/6, 1/3, 5/6.
  const double u = 0.05 * std::sqrt(1.0 / 36 + 1.0 / 9 + 25.0 / 36);
  EXPECT_NEAR(forecast.now.size_mm - forecast.now.interval_95.low, 1.959964 * u, 1e-6);
  EXPECT_NEAR(forecast.wear_standard_uncertainty, 0.05 * std::sqrt(2.0) / 40, 1e-9);
}

/// A size from a photo, of which the sheet's scale makes `shared_mm`.
WearPoint photo(double km, double mm, double own_mm, double shared_mm,
                const std::string& sheet = "sheet 1") {
  return {km, mm, std::hypot(own_mm, shared_mm), shared_mm, sheet};
}

TEST(Forecast, LetsACommonErrorWidenSizesAndLeaveTheWearAlone) {
  const Points points{{0, 26.2, 0.02}, {80'000, 23.1, 0.03}};
  const Forecast alone = forecast_wear(points, 22.0);
  const Forecast common =
      forecast_wear(Points{photo(0, 26.2, 0.02, 0.05), photo(80'000, 23.1, 0.03, 0.05)}, 22.0);
  EXPECT_NEAR(common.wear_standard_uncertainty, alone.wear_standard_uncertainty, 1e-15);
  EXPECT_NEAR(common.now.interval_95.high - common.now.size_mm, 1.959964 * std::hypot(0.03, 0.05),
              1e-6);
  EXPECT_LT(*common.distance_left_lower_95_km, *alone.distance_left_lower_95_km);
}

// A new part with its own uncertainty and two photos with one sheet. At 0, 40 000 and 80 000 km the
// weights of the slope are -1, 0 and 1 over 80 000 km, of the size at the last point -1/6, 2/6 and
// 5/6: the sheet's error adds up over both photos before it is squared.
TEST(Forecast, PropagatesWhatSomeSizesShareGroupByGroup) {
  const Points points{
      {0, 26.20, 0.05}, photo(40'000, 24.65, 0.03, 0.12), photo(80'000, 23.10, 0.03, 0.12)};
  const Forecast forecast = forecast_wear(points, 22.0);
  ASSERT_TRUE(forecast.fitted);
  EXPECT_NEAR(forecast.wear_standard_uncertainty,
              std::sqrt(0.05 * 0.05 + 0.03 * 0.03 + 0.12 * 0.12) / 80, 1e-12);
  const double own =
      std::sqrt(std::pow(0.05 / 6, 2) + std::pow(0.03 * 2 / 6, 2) + std::pow(0.03 * 5 / 6, 2));
  const double shared = 0.12 * (2.0 + 5.0) / 6;
  EXPECT_NEAR(forecast.now.size_mm - forecast.now.interval_95.low,
              1.959964 * std::hypot(own, shared), 1e-6);
  // Taken for independent the two photos would promise more than they can.
  Points independent = points;
  for (WearPoint& point : independent) point.shared_with.clear();
  EXPECT_GT(*forecast_wear(independent, 22.0).distance_left_lower_95_km,
            *forecast.distance_left_lower_95_km);
  // Two sheets have two errors.
  Points two_sheets = points;
  two_sheets[2].shared_with = "sheet 2";
  EXPECT_NEAR(forecast_wear(two_sheets, 22.0).now.interval_95.low,
              forecast_wear(independent, 22.0).now.interval_95.low, 1e-9);
}

// The same by drawing the errors: new part and two photos with one sheet.
TEST(Forecast, SpreadsAsDrawnErrorsDo) {
  const Points points{
      {0, 26.20, 0.05}, photo(40'000, 24.65, 0.03, 0.12), photo(80'000, 23.10, 0.03, 0.12)};
  const Forecast stated = forecast_wear(points, 22.0);
  std::mt19937_64 random(9);
  std::normal_distribution<double> normal;
  constexpr int kDraws = 20'000;
  double wear_square = 0, size_square = 0;
  for (int i = 0; i < kDraws; ++i) {
    const double sheet = normal(random);
    std::vector<double> km, mm;
    for (const WearPoint& point : points) {
      const double own =
          std::sqrt(std::pow(*point.standard_uncertainty_mm, 2) - std::pow(point.shared_mm, 2));
      km.push_back(point.odometer_km);
      mm.push_back(point.size_mm + own * normal(random) + point.shared_mm * sheet);
    }
    const LineFit fit = fit_line(km, mm);
    wear_square += std::pow(-1000 * fit.slope - stated.wear_mm_per_1000_km, 2);
    size_square += std::pow(fit.at(80'000) - stated.now.size_mm, 2);
  }
  EXPECT_NEAR(std::sqrt(wear_square / kDraws) / stated.wear_standard_uncertainty, 1, 0.02);
  EXPECT_NEAR(std::sqrt(size_square / kDraws) * 1.959964 /
                  (stated.now.size_mm - stated.now.interval_95.low),
              1, 0.02);
}

TEST(Forecast, CountsTheSizesDegreesOfFreedom) {
  Points points{{0, 26.2, 0.02}, {80'000, 23.1, 0.03}};
  const Forecast sure = forecast_wear(points, 22.0);
  points[1].degrees_of_freedom = 4;
  const Forecast doubtful = forecast_wear(points, 22.0);
  // At the second point its own four are all there are: t_95(4) = 2.776445.
  EXPECT_NEAR(doubtful.degrees_of_freedom, 4, 1e-9);
  EXPECT_NEAR(doubtful.now.size_mm - doubtful.now.interval_95.low, 2.776445 * 0.03, 1e-6);
  EXPECT_LT(*doubtful.distance_left_lower_95_km, *sure.distance_left_lower_95_km);
}

TEST(Forecast, TellsWhetherTheNextCheckComesTooLate) {
  const Points points{{0, 26.2, 0.02}, {80'000, 23.1, 0.03}};
  const double lower_km = 80'000 + *forecast_wear(points, 22.0).distance_left_lower_95_km;
  EXPECT_FALSE(forecast_wear(points, 22.0, {.next_check_km = lower_km - 10})
                   .reaches_minimum_before_next_check);
  EXPECT_TRUE(forecast_wear(points, 22.0, {.next_check_km = lower_km + 10})
                  .reaches_minimum_before_next_check);
  EXPECT_THAT(forecast_wear(points, 22.0, {.next_check_km = 70'000.0}).checks,
              ElementsAre(Field(&Check::id, "next_check_passed")));
}

TEST(Forecast, HasNothingLeftBelowTheMinimum) {
  const Forecast forecast = forecast_wear(Points{{0, 26.2, 0.02}, {80'000, 21.9, 0.03}}, 22.0);
  EXPECT_EQ(forecast.distance_left_km, 0);
  EXPECT_EQ(forecast.distance_left_lower_95_km, 0);
}

TEST(Forecast, GivesNoDistanceWhereNoWearShows) {
  const Forecast forecast = forecast_wear(Points{{0, 24.00, 0.03}, {1'000, 24.02, 0.03}}, 22.0);
  EXPECT_TRUE(forecast.fitted) << "growth within the uncertainty is noise";
  EXPECT_FALSE(forecast.distance_left_km.has_value());
  EXPECT_THAT(forecast.checks, ElementsAre(Field(&Check::id, "wear_not_clear")));
}

TEST(Forecast, TellsImplausibleInputAndFitsNothing) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const struct {
    Points points;
    const char* id;
  } cases[] = {
      {{}, "too_few_sizes"},
      {{{0, 25, {}}}, "too_few_sizes"},
      {{{0, 25, {}}, {20'000, 24, {}}, {10'000, 23, {}}}, "odometer_backwards"},
      {{{0, 24.0, 0.03}, {10'000, 24.2, 0.03}}, "part_grew"},
      {{{0, 24.0, {}}, {10'000, 24.2, {}}}, "part_grew"},
      {{{10'000, 25, {}}, {10'000, 25, {}}}, "no_distance"},
      {{{0, nan, {}}, {10'000, 25, {}}}, "size_unusable"},
      {{{-5, 25, {}}, {10'000, 25, {}}}, "size_unusable"},
      {{{0, 25, -0.1}, {10'000, 25, {}}}, "size_unusable"},
      {{{0, 25, {}}, {std::numeric_limits<double>::infinity(), 24, {}}}, "size_unusable"},
  };
  for (const auto& [points, id] : cases) {
    const Forecast forecast = forecast_wear(points, 22.0);
    EXPECT_FALSE(forecast.fitted) << id;
    EXPECT_THAT(forecast.checks, Contains(Field(&Check::id, id)));
    EXPECT_TRUE(any_stop(forecast.checks));
    EXPECT_FALSE(forecast.reaches_minimum_before_next_check);
  }
  const Points good{{0, 25, {}}, {10'000, 24.9, {}}};
  EXPECT_FALSE(forecast_wear(good, nan).fitted);
  EXPECT_FALSE(forecast_wear(good, 0).fitted);
  EXPECT_FALSE(forecast_wear(good, 22, {.now_km = 9'000.0}).fitted);
}

TEST(Forecast, SeesOneStepOfGrowthInAPartThatWearsOverall) {
  // Joint 95 % of two such sizes: 1.959964 * 0.03 * sqrt(2) = 0.0832 mm.
  const auto with_step = [](double step_mm) {
    return forecast_wear(
        Points{{0, 25, 0.03}, {10'000, 24, 0.03}, {20'000, 24 + step_mm, 0.03}, {30'000, 23, 0.03}},
        22.0);
  };
  EXPECT_THAT(with_step(0.084).checks, ElementsAre(Field(&Check::id, "part_grew")));
  EXPECT_TRUE(with_step(0.083).fitted);
}

TEST(Forecast, SeesSlowGrowthThatNoSingleStepShows) {
  Points points;
  for (int i = 0; i < 12; ++i) points.push_back({10'000.0 * i, 22.5 + 0.02 * i, 0.03});
  EXPECT_THAT(forecast_wear(points, 22.0).checks, ElementsAre(Field(&Check::id, "part_grew")));
}

}  // namespace
}  // namespace scantling
