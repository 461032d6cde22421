// What must hold for every input: nothing but a larger or a surer size ever leads to keep.

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <limits>
#include <random>
#include <vector>

#include "uncertainty/distribution.h"
#include "verdict/verdict.h"

namespace scantling {
namespace {

constexpr double kMinimum_mm = 22.0;

double in_steps(int low, int high, double step) {
  return step * *rc::gen::inRange(low, high);
}

bool kept(const std::optional<Verdict>& verdict) {
  return verdict &&
         (verdict->state == VerdictState::keep || verdict->state == VerdictState::keep_due_soon);
}

Quantity any_size() {
  const double nu = *rc::gen::element(1.0, 2.5, 4.0, 9.0, 40.0, kUnlimitedDegreesOfFreedom);
  return {kMinimum_mm + in_steps(-400, 1000, 0.001), in_steps(0, 300, 0.001), nu, {}};
}

std::vector<HandReading> any_readings(int at_least = 0) {
  std::vector<HandReading> readings(static_cast<std::size_t>(*rc::gen::inRange(at_least, 5)));
  for (HandReading& reading : readings) {
    reading.value_mm = kMinimum_mm + in_steps(-100, 300, 0.001);
    reading.standard_uncertainty_mm = in_steps(0, 60, 0.001);
  }
  return readings;
}

RC_GTEST_PROP(VerdictProperty, LowerSizeNeverTurnsIntoKeep, ()) {
  const Quantity size = any_size();
  Quantity lower = size;
  lower.value_mm -= in_steps(0, 2000, 0.001);
  RC_PRE(!kept(judge(size, {}, kMinimum_mm)));
  RC_ASSERT(!kept(judge(lower, {}, kMinimum_mm)));
}

RC_GTEST_PROP(VerdictProperty, LargerUncertaintyNeverTurnsIntoKeep, ()) {
  const Quantity size = any_size();
  Quantity vaguer = size;
  vaguer.standard_uncertainty_mm += in_steps(0, 2000, 0.001);
  RC_PRE(!kept(judge(size, {}, kMinimum_mm)));
  RC_ASSERT(!kept(judge(vaguer, {}, kMinimum_mm)));
}

RC_GTEST_PROP(VerdictProperty, FewerDegreesOfFreedomNeverTurnIntoKeep, ()) {
  const Quantity size = any_size();
  Quantity vaguer = size;
  vaguer.degrees_of_freedom = std::max(0.5, std::min(size.degrees_of_freedom, 100.0) / 2);
  RC_PRE(vaguer.degrees_of_freedom <= size.degrees_of_freedom);
  RC_PRE(!kept(judge(size, {}, kMinimum_mm)));
  RC_ASSERT(!kept(judge(vaguer, {}, kMinimum_mm)));
}

RC_GTEST_PROP(VerdictProperty, LowerOrVaguerHandReadingNeverTurnsIntoKeep, ()) {
  std::vector<HandReading> readings = any_readings(1);
  const std::optional<Quantity> photo =
      *rc::gen::arbitrary<bool>() ? std::optional(any_size()) : std::nullopt;
  RC_PRE(!kept(judge(photo, readings, kMinimum_mm)));
  HandReading& changed = readings[*rc::gen::inRange<std::size_t>(0, readings.size())];
  changed.value_mm -= in_steps(0, 500, 0.001);
  changed.standard_uncertainty_mm += in_steps(0, 100, 0.001);
  RC_ASSERT(!kept(judge(photo, readings, kMinimum_mm)));
}

RC_GTEST_PROP(VerdictProperty, OneMoreHandReadingNeverTurnsIntoKeep, ()) {
  std::vector<HandReading> readings = any_readings(1);
  RC_PRE(!kept(judge(std::nullopt, readings, kMinimum_mm)));
  readings.push_back({kMinimum_mm + in_steps(0, 300, 0.001), in_steps(0, 60, 0.001), ""});
  RC_ASSERT(!kept(judge(std::nullopt, readings, kMinimum_mm)));
}

RC_GTEST_PROP(VerdictProperty, HigherMinimumNeverTurnsIntoKeep, ()) {
  const Quantity size = any_size();
  const std::vector<HandReading> readings = any_readings();
  RC_PRE(!kept(judge(size, readings, kMinimum_mm)));
  RC_ASSERT(!kept(judge(size, readings, kMinimum_mm + in_steps(0, 2000, 0.001))));
}

RC_GTEST_PROP(VerdictProperty, RubbishNeverLeadsToKeep, ()) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinity = std::numeric_limits<double>::infinity();
  const double bad = *rc::gen::element(nan, infinity, -infinity, -1e-9, -1.0);
  Quantity size = any_size();
  std::vector<HandReading> readings = any_readings();
  double minimum_mm = kMinimum_mm;
  switch (*rc::gen::inRange(0, 5)) {
    case 0:
      size.value_mm = bad;
      break;
    case 1:
      size.standard_uncertainty_mm = bad;
      break;
    case 2:
      minimum_mm = bad;
      break;
    case 3:
      readings.push_back({bad, 0.01, ""});
      break;
    default:
      readings.push_back({23.0, bad, ""});
  }
  RC_ASSERT(!kept(judge(size, readings, minimum_mm)));
}

RC_GTEST_PROP(VerdictProperty, EveryVerdictSaysWhyAndStaysWithinZeroToOne, ()) {
  const auto verdict = judge(any_size(), any_readings(), kMinimum_mm, *rc::gen::arbitrary<bool>());
  RC_ASSERT(verdict.has_value());
  RC_ASSERT(!verdict->because.empty());
  RC_ASSERT(*verdict->probability_below >= 0 && *verdict->probability_below <= 1);
}

/// Parts with true sizes spread evenly over a band round the minimum, each measured once.
struct Simulated {
  int below = 0;
  int below_kept = 0;
};

Simulated measure_parts(int parts, double u_mm, double half_band_mm, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> true_size(kMinimum_mm - half_band_mm,
                                                   kMinimum_mm + half_band_mm);
  std::normal_distribution<double> error(0, u_mm);
  Simulated count;
  for (int i = 0; i < parts; ++i) {
    const double truth_mm = true_size(random);
    const Quantity measured{truth_mm + error(random), u_mm, kUnlimitedDegreesOfFreedom, {}};
    const bool keep = kept(judge(measured, {}, kMinimum_mm));
    if (truth_mm < kMinimum_mm) {
      ++count.below;
      count.below_kept += keep ? 1 : 0;
    }
  }
  return count;
}

TEST(VerdictSimulation, KeepsAtMostOneInAHundredWornPartsOfAHundredThousand) {
  constexpr int kParts = 100'000;
  for (const double half_band_mm : {2.0, 0.5, 0.2}) {
    const Simulated count = measure_parts(kParts, 0.05, half_band_mm, 20'261'125);
    const double share = static_cast<double>(count.below_kept) / count.below;
    std::printf(
        "true sizes within %.1f mm of the minimum, u 0.05 mm: %d of %d parts below it were "
        "called keep (%.3f %%)\n",
        half_band_mm, count.below_kept, count.below, 100 * share);
    EXPECT_GT(count.below, kParts / 3);
    EXPECT_LE(share, 0.01);
  }
}

TEST(VerdictSimulation, KeepsAtMostOneInAHundredOfPartsOnTheVeryLimit) {
  // The hardest case: every part a hair below. Four standard errors of the count are allowed.
  constexpr int kParts = 100'000;
  std::mt19937_64 random(7);
  std::normal_distribution<double> error(0, 0.05);
  int keeps = 0;
  for (int i = 0; i < kParts; ++i)
    keeps += kept(
        judge(Quantity{kMinimum_mm - 1e-6 + error(random), 0.05, kUnlimitedDegreesOfFreedom, {}},
              {}, kMinimum_mm));
  std::printf("on the very limit: %d of %d called keep\n", keeps, kParts);
  EXPECT_LE(keeps, 0.01 * kParts + 4 * std::sqrt(0.01 * kParts));
  EXPECT_GT(keeps, 0.005 * kParts) << "the rule is far more timid than it says";
}

TEST(VerdictSimulation, HoldsTheShareWhereTheUncertaintyItselfIsEstimatedFromFiveReadings) {
  constexpr int kParts = 100'000;
  std::mt19937_64 random(13);
  std::normal_distribution<double> error(0, 0.05);
  int keeps = 0;
  for (int i = 0; i < kParts; ++i) {
    std::array<double, 5> readings{};
    for (double& reading : readings) reading = kMinimum_mm - 1e-6 + error(random);
    const ReadingStatistics s = statistics_of(readings);
    keeps += kept(
        judge(Quantity{s.mean, s.standard_uncertainty, s.degrees_of_freedom, {}}, {}, kMinimum_mm));
  }
  std::printf("on the very limit, five readings: %d of %d called keep\n", keeps, kParts);
  EXPECT_LE(keeps, 0.01 * kParts + 4 * std::sqrt(0.01 * kParts));
  EXPECT_GT(keeps, 0.005 * kParts);
}

TEST(VerdictSimulation, GaugeItShareByMargin) {
  // In units of u: with one measured size, gauge it is what lies between -1.645 and +2.326.
  constexpr int kParts = 40'000;
  constexpr std::array<double, 9> kMargins{-4, -3, -2, -1, 0, 1, 2, 3, 5};
  std::mt19937_64 random(11);
  std::normal_distribution<double> error(0, 1);
  std::printf("margin/u    keep  gauge it  replace\n");
  for (const double margin : kMargins) {
    std::array<int, 3> count{};
    for (int i = 0; i < kParts; ++i) {
      const double u_mm = 0.05;
      const Quantity measured{
          kMinimum_mm + u_mm * (margin + error(random)), u_mm, kUnlimitedDegreesOfFreedom, {}};
      const VerdictState state = judge(measured, {}, kMinimum_mm)->state;
      ++count[state == VerdictState::keep ? 0 : state == VerdictState::gauge_it ? 1 : 2];
    }
    const auto share = [&](std::size_t i) { return 100.0 * count[i] / kParts; };
    std::printf("%8.0f %6.2f %% %6.2f %% %6.2f %%\n", margin, share(0), share(1), share(2));
    const auto phi = [](double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); };
    EXPECT_NEAR(share(0), 100 * phi(margin - 2.326348), 1.0);
    EXPECT_NEAR(share(2), 100 * phi(-1.644854 - margin), 1.0);
  }
}

}  // namespace
}  // namespace scantling
