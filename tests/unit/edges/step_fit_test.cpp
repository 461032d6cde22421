#include "edges/step_fit.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <random>

#include "unit/edges/step_profile.h"

namespace scantling {
namespace {

constexpr int kSamples = 25;

TEST(StepFit, HasNoBiasAtAnyPlaceWithinAPixel) {
  double worst = 0;
  for (const double blur : {0.5, 0.7, 1.0, 1.5, 2.0})
    for (int phase = 0; phase < 20; ++phase) {
      const double place = 12 + phase / 20.0;
      const std::array start{12.3};
      const StepFit fit = fit_steps(step_profile(kSamples, place, blur, 0.05, 0.6), start);
      ASSERT_TRUE(fit.converged);
      worst = std::max(worst, std::abs(fit.place[0] - place));
      EXPECT_NEAR(fit.height[0], 0.55, 0.01);
      EXPECT_NEAR(fit.blur, std::sqrt(blur * blur + 1.0 / 12), 0.04);
    }
  std::printf("largest bias over blur and phase: %.5f px\n", worst);
  EXPECT_LT(worst, 0.01);
}

TEST(StepFit, ScattersNoMoreThanTheCramerRaoBoundAllows) {
  std::mt19937 random(1);
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> phase(11.5, 12.5);
  std::printf("blur  SNR   scatter  bound   ratio  stated/true\n");
  for (const double blur : {0.7, 1.0, 1.5, 2.0})
    for (const double snr : {10.0, 40.0, 150.0}) {
      constexpr int kTrials = 500;
      double square = 0, stated = 0;
      for (int trial = 0; trial < kTrials; ++trial) {
        const double place = phase(random);
        std::vector<float> values;
        for (int i = 0; i < kSamples; ++i)
          values.push_back(static_cast<float>(0.5 * std::erfc((place - i) / blur * M_SQRT1_2) +
                                              normal(random) / snr));
        const std::array start{12.0};
        const StepFit fit = fit_steps(values, start);
        ASSERT_TRUE(fit.converged);
        square += std::pow(fit.place[0] - place, 2) / kTrials;
        stated += std::pow(fit.place_u[0], 2) / kTrials;
      }
      const double scatter = std::sqrt(square);
      const double bound = 1 / snr / std::sqrt(1 / (2 * std::sqrt(M_PI) * blur) - 1.0 / kSamples);
      std::printf("%.1f  %5.0f  %.5f  %.5f  %.3f  %.3f\n", blur, snr, scatter, bound,
                  scatter / bound, std::sqrt(stated) / scatter);
      EXPECT_LT(scatter, 1.15 * bound);
      EXPECT_GT(scatter, 0.85 * bound);  // less would mean that the test's noise is not there
      EXPECT_NEAR(std::sqrt(stated) / scatter, 1, 0.2);
    }
}

TEST(StepFit, TellsTwoCloseStepsApart) {
  std::mt19937 random(2);
  std::normal_distribution<double> noise(0, 0.003);
  double mean_first = 0, mean_second = 0, mean_single = 0;
  constexpr int kTrials = 100;
  for (int trial = 0; trial < kTrials; ++trial) {
    std::vector<float> values;
    for (int i = 0; i < kSamples; ++i)
      values.push_back(static_cast<float>(0.1 + 0.25 * pixel_of_step(i, 10.3, 0.9) +
                                          0.2 * pixel_of_step(i, 13.4, 0.9) + noise(random)));
    const std::array starts{9.5, 14.0};
    const std::array start{12.0};
    const StepFit pair = fit_steps(values, starts);
    const StepFit single = fit_steps(values, start);
    ASSERT_TRUE(pair.converged);
    mean_first += pair.place[0] / kTrials;
    mean_second += pair.place[1] / kTrials;
    mean_single += single.place[0] / kTrials;
  }
  std::printf("steps at 10.3 and 13.4: fitted as two %.3f, %.3f; as one %.3f\n", mean_first,
              mean_second, mean_single);
  EXPECT_NEAR(mean_first, 10.3, 0.02);
  EXPECT_NEAR(mean_second, 13.4, 0.02);
  EXPECT_GT(std::abs(mean_single - 10.3), 0.5);
}

TEST(StepFit, LeavesOutMissingValuesAndShrugsOffOneSpike) {
  auto values = step_profile(kSamples, 12.4, 1, 0.1, 0.5);
  const std::array start{12.0};
  values[2] = values[11] = values[20] = NAN;
  StepFit fit = fit_steps(values, start);
  ASSERT_TRUE(fit.converged);
  EXPECT_NEAR(fit.place[0], 12.4, 0.01);
  std::mt19937 random(3);
  std::normal_distribution<float> noise(0, 0.003f);
  values = step_profile(kSamples, 12.4, 1, 0.1, 0.5);
  for (float& v : values) v += noise(random);
  values[16] += 0.2f;  // half the step's height
  fit = fit_steps(values, start);
  ASSERT_TRUE(fit.converged);
  EXPECT_NEAR(fit.place[0], 12.4, 0.03);
}

TEST(StepFit, RefusesWhatItCannotFit) {
  const std::array start{3.0};
  EXPECT_FALSE(fit_steps(step_profile(6, 3, 1, 0, 1), start).converged);
  EXPECT_FALSE(fit_steps({}, start).converged);
  EXPECT_FALSE(fit_steps(step_profile(kSamples, 12, 1, 0, 1), {}).converged);
  const std::array many{2.0, 6.0, 10.0, 14.0, 18.0};
  EXPECT_FALSE(fit_steps(step_profile(kSamples, 12, 1, 0, 1), many).converged);
  EXPECT_FALSE(fit_steps(std::vector<float>(kSamples, NAN), start).converged);
  // The only step lies outside the window.
  EXPECT_FALSE(fit_steps(step_profile(kSamples, 60, 1, 0, 1), std::array{-1.0}).converged);
}

TEST(FitShift, FindsTheShiftUnderAnotherGainAndLevel) {
  const std::array start{12.0};
  const StepFit model = fit_steps(step_profile(kSamples, 12.1, 1.1, 0.1, 0.6), start);
  ASSERT_TRUE(model.converged);
  for (const double shift : {-2.7, -0.4, 0.0, 0.3, 1.9}) {
    const auto moved = step_profile(kSamples, 12.1 + shift, 1.1, 0.25, 0.55);
    EXPECT_NEAR(fit_shift(moved, model, 4), shift, 0.01) << shift;
  }
  EXPECT_LE(std::abs(fit_shift(step_profile(kSamples, 14.1, 1.1, 0.1, 0.6), model, 1)), 1);
}

TEST(FitShift, SaysNothingWhereThereIsNoContrast) {
  const std::array start{12.0};
  const StepFit model = fit_steps(step_profile(kSamples, 12.1, 1.1, 0.1, 0.6), start);
  EXPECT_TRUE(std::isnan(fit_shift(std::vector<float>(kSamples, 0.3f), model, 4)));
  EXPECT_TRUE(std::isnan(fit_shift(std::vector<float>(kSamples, NAN), model, 4)));
  EXPECT_TRUE(std::isnan(fit_shift(step_profile(kSamples, 12.1, 1.1, 0.6, 0.1), model, 4)));
}

}  // namespace
}  // namespace scantling
