#include "verdict/agreement.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <limits>
#include <random>

#include "verdict/verdict.h"

namespace scantling {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

/// Photos that read 0.04 mm too much, give or take a little.
std::vector<AgreementPair> pairs_of(std::size_t count) {
  const double wobble[] = {0.00, 0.02, -0.02, 0.01, -0.01, 0.015, -0.015, 0.005};
  std::vector<AgreementPair> pairs;
  for (std::size_t i = 0; i < count; ++i) {
    const double hand = 5 + 0.3 * static_cast<double>(i);
    pairs.push_back(
        {"pad " + std::to_string(i + 1), hand + 0.04 + wobble[i % 8], 0.03, hand, 0.03});
  }
  return pairs;
}

TEST(Agreement, CorrectsFromFivePairsOn) {
  const Quantity photo{5.04, 0.03, 40, {{"edges", 0.03, 40, ""}}};
  const Agreement four = agreement_of(pairs_of(4)).value();
  EXPECT_FALSE(four.corrects);
  EXPECT_EQ(corrected_by(photo, four).value_mm, photo.value_mm);
  EXPECT_TRUE(correction_sentence(four).empty());
  EXPECT_THAT(four.sentences, Contains(HasSubstr("not corrected")));

  const Agreement five = agreement_of(pairs_of(5)).value();
  EXPECT_NEAR(five.bias_mm, 0.04, 1e-12);
  ASSERT_TRUE(five.corrects);
  const Quantity corrected = corrected_by(photo, five);
  EXPECT_NEAR(corrected.value_mm, 5.00, 1e-12);
  // The instrument's 0.03 mm is one error for all pairs: no number of them averages it away.
  EXPECT_NEAR(five.bias_standard_uncertainty_mm, std::hypot(five.deviation_mm / std::sqrt(5), 0.03),
              1e-12);
  EXPECT_NEAR(corrected.standard_uncertainty_mm,
              std::hypot(0.03, five.bias_standard_uncertainty_mm), 1e-12);
  EXPECT_THAT(correction_sentence(five), HasSubstr("Corrected by -0.040 mm"));
  EXPECT_THAT(correction_sentence(five), HasSubstr("5 readings by hand"));
}

TEST(Agreement, NamesAnOutlierAndAPairThatDisagrees) {
  std::vector<AgreementPair> pairs = pairs_of(8);
  pairs[3].photo_mm += 0.6;
  const Agreement a = agreement_of(pairs).value();
  EXPECT_TRUE(a.pairs[3].outlier);
  EXPECT_TRUE(a.pairs[3].disagrees);
  EXPECT_GT(std::abs(a.pairs[3].normalised_error), 1);
  EXPECT_THAT(a.sentences, Contains(HasSubstr("pad 4 stands apart")));
  for (std::size_t i = 0; i < pairs.size(); ++i) EXPECT_EQ(a.pairs[i].outlier, i == 3) << i;
  // The misreading would be spread over every later size.
  EXPECT_FALSE(a.corrects);
  EXPECT_THAT(a.sentences, Contains(HasSubstr("while one pair stands apart")));
}

TEST(Agreement, NormalisedErrorIsTheDifferenceOverBothExpandedUncertainties) {
  const std::vector<AgreementPair> one{{"pad", 5.10, 0.03, 5.00, 0.04}};
  const Agreement a = agreement_of(one).value();
  EXPECT_NEAR(a.pairs[0].normalised_error, 0.10 / 0.10, 1e-9);
  EXPECT_EQ(a.degrees_of_freedom, 0);
  EXPECT_FALSE(a.corrects);
}

TEST(Agreement, RefusesWhatIsNoPair) {
  EXPECT_FALSE(agreement_of({}));
  std::vector<AgreementPair> pairs = pairs_of(5);
  pairs[2].hand_mm = std::numeric_limits<double>::quiet_NaN();
  EXPECT_FALSE(agreement_of(pairs));
}

TEST(Agreement, CorrectionNeverMakesASizeSurer) {
  for (std::size_t count = 5; count < 60; count += 9) {
    const Quantity photo{5.04, 0.03, 40, {}};
    EXPECT_GT(corrected_by(photo, agreement_of(pairs_of(count)).value()).standard_uncertainty_mm,
              0.03);
  }
}

/// Pads of 3 to 9 mm, with photos that claim `u_mm` and scatter by `s_mm` about a bias.
std::vector<AgreementPair> scattered(std::size_t count, double u_mm, double s_mm, double bias_mm,
                                     std::mt19937_64& random) {
  std::normal_distribution<double> error(bias_mm, s_mm), hand_error(0, 0.005);
  std::uniform_real_distribution<double> size(3, 9);
  std::vector<AgreementPair> pairs;
  for (std::size_t i = 0; i < count; ++i) {
    const double true_mm = size(random);
    pairs.push_back({"pad", true_mm + error(random), u_mm, true_mm + hand_error(random), 0.005});
  }
  return pairs;
}

TEST(Agreement, ScatterThatNoBudgetExplainsWidensEverySize) {
  std::vector<AgreementPair> pairs = pairs_of(5);
  for (AgreementPair& pair : pairs) pair.photo_standard_uncertainty_mm = 0.002;
  for (AgreementPair& pair : pairs) pair.hand_standard_uncertainty_mm = 0.001;
  const Agreement a = agreement_of(pairs).value();
  ASSERT_TRUE(a.corrects) << "the bias, not a doubt of the pairs, puts them beyond |E_n| = 1";
  EXPECT_TRUE(a.pairs[1].disagrees);
  EXPECT_NEAR(a.excess_mm, std::sqrt(std::pow(a.deviation_mm, 2) - 5e-6), 1e-12);
  EXPECT_THAT(a.sentences, Contains(HasSubstr("scatter more than")));
  const Quantity corrected = corrected_by({5.04, 0.002, 40, {}}, a);
  EXPECT_NEAR(corrected.standard_uncertainty_mm,
              std::hypot(0.002, a.bias_standard_uncertainty_mm, a.excess_mm), 1e-12);
  EXPECT_GT(corrected.standard_uncertainty_mm, a.deviation_mm);
  EXPECT_EQ(corrected.degrees_of_freedom, 4);
  EXPECT_EQ(agreement_of(pairs_of(5))->excess_mm, 0) << "0.03 mm each explains 0.016 mm";
}

// Photos that claim a fifth of their true scatter, parts a hair below their minimum.
TEST(Agreement, KeepsAtMostOneInAHundredWhereScatterIsFiveTimesWhatPhotosClaim) {
  constexpr int kParts = 100'000;
  constexpr double kClaimed_mm = 0.02, kTrue_mm = 0.10, kBias_mm = 0.05, kMinimum_mm = 2;
  std::mt19937_64 random(41);
  std::normal_distribution<double> error(kBias_mm, kTrue_mm);
  for (const std::size_t count : {5U, 7U, 20U}) {
    int keeps = 0, corrected = 0, uncorrected_keeps = 0;
    for (int i = 0; i < kParts; ++i) {
      const Agreement a =
          agreement_of(scattered(count, kClaimed_mm, kTrue_mm, kBias_mm, random)).value();
      const Quantity photo{kMinimum_mm - 1e-6 + error(random), kClaimed_mm, 40, {}};
      const Quantity judged = corrected_by(photo, a);
      corrected += a.corrects;
      keeps += probability_below(judged, kMinimum_mm) <= kKeepAtMost;
      uncorrected_keeps += probability_below(photo, kMinimum_mm) <= kKeepAtMost;
    }
    std::printf(
        "%zu pairs, scatter 5 times what is claimed: %d of %d parts just below their minimum "
        "called keep (%.2f %%; without the record %.0f %%), %.1f %% corrected\n",
        count, keeps, kParts, 100.0 * keeps / kParts, 100.0 * uncorrected_keeps / kParts,
        100.0 * corrected / kParts);
    EXPECT_LE(keeps, 0.01 * kParts);
    EXPECT_GT(corrected, 0.9 * kParts);
    EXPECT_GT(uncorrected_keeps, 0.3 * kParts);
  }
}

TEST(Agreement, CorrectsNothingWhereTheDifferenceDependsOnTheSize) {
  std::vector<AgreementPair> pairs = pairs_of(8);
  for (AgreementPair& pair : pairs) pair.photo_mm += 0.08 * (pair.hand_mm - 6);
  const Agreement a = agreement_of(pairs).value();
  ASSERT_TRUE(a.by_size);
  EXPECT_NEAR(a.by_size->slope, 0.08, 0.02);
  EXPECT_FALSE(a.corrects);
  EXPECT_THAT(a.sentences, Contains(HasSubstr("depends on the size")));
  EXPECT_THAT(correction_sentence(a), HasSubstr("depends on the size"));
  const Quantity photo{2.04, 0.03, 40, {}};
  EXPECT_EQ(corrected_by(photo, a).value_mm, 2.04);
  // At 2 mm the line says -0.28 mm, which the pairs of 5 to 7 mm do not show by themselves.
  EXPECT_GT(corrected_by(photo, a).standard_uncertainty_mm, 0.2);
}

TEST(Agreement, FindsNoDependenceOnTheSizeByChanceMoreOftenThanOneInTwenty) {
  constexpr int kRecords = 20'000;
  std::mt19937_64 random(5);
  int found = 0;
  for (int i = 0; i < kRecords; ++i)
    found += agreement_of(scattered(6, 0.03, 0.03, 0.05, random))->by_size.has_value();
  std::printf("dependence on the size found by chance: %d of %d\n", found, kRecords);
  EXPECT_LT(found, 0.055 * kRecords);
  // Sizes all alike: difference and mean then rise together by nothing but the photo's own error.
  std::vector<AgreementPair> alike = pairs_of(8);
  for (AgreementPair& pair : alike) {
    pair.photo_mm += 5 - pair.hand_mm;
    pair.hand_mm = 5;
  }
  EXPECT_FALSE(agreement_of(alike)->by_size);
}

TEST(Agreement, WhatMayNotCorrectStillMakesSizesLessSure) {
  std::vector<AgreementPair> pairs = pairs_of(8);
  pairs[3].photo_mm += 2;
  const Agreement a = agreement_of(pairs).value();
  ASSERT_FALSE(a.corrects);
  const Quantity photo{5.04, 0.03, 40, {}};
  const Quantity judged = corrected_by(photo, a);
  EXPECT_EQ(judged.value_mm, photo.value_mm);
  EXPECT_NEAR(judged.standard_uncertainty_mm, 2.05 / std::sqrt(8), 0.01);
  EXPECT_THAT(correction_sentence(a), HasSubstr("stands apart (pad 4)"));
}

}  // namespace
}  // namespace scantling
