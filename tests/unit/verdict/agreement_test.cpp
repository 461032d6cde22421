#include "verdict/agreement.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

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

}  // namespace
}  // namespace scantling
