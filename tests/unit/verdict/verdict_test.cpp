#include "verdict/verdict.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <string>

namespace scantling {
namespace {

using testing::ElementsAre;
using testing::Field;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinity = std::numeric_limits<double>::infinity();

Quantity size_of(double value_mm, double u_mm, double nu = kUnlimitedDegreesOfFreedom) {
  return {value_mm, u_mm, nu, {}};
}

Verdict by_photo(const Quantity& size, double minimum_mm, bool due = false) {
  return judge(size, {}, minimum_mm, due).value();
}

Verdict by_hand(const std::vector<HandReading>& readings, double minimum_mm) {
  return judge(std::nullopt, readings, minimum_mm).value();
}

struct Row {
  double value_mm, u_mm, minimum_mm, nu, probability;
  VerdictState state;
};

// Own vectors: chance by the normal or t distribution, worked out outside this program.
TEST(Judge, FollowsTheChanceOfBeingBelow) {
  const double unlimited = kUnlimitedDegreesOfFreedom;
  const std::array<Row, 10> rows{{
      {22.30, 0.05, 22.00, unlimited, 9.8659e-10, VerdictState::keep},
      {22.12, 0.05, 22.00, unlimited, 0.00819754, VerdictState::keep},
      {22.12, 0.05, 22.00, 9, 0.01994894, VerdictState::gauge_it},
      {22.12, 0.05, 22.00, 4, 0.03717816, VerdictState::gauge_it},
      {22.10, 0.05, 22.00, unlimited, 0.02275013, VerdictState::gauge_it},
      {22.00, 0.05, 22.00, unlimited, 0.5, VerdictState::gauge_it},
      {21.92, 0.05, 22.00, unlimited, 0.94520071, VerdictState::gauge_it},
      {21.91, 0.05, 22.00, unlimited, 0.96406968, VerdictState::replace},
      {2.50, 0.25, 2.00, unlimited, 0.02275013, VerdictState::gauge_it},
      {1.50, 0.30, 2.00, unlimited, 0.95220965, VerdictState::replace},
  }};
  for (const Row& row : rows) {
    const Verdict verdict = by_photo(size_of(row.value_mm, row.u_mm, row.nu), row.minimum_mm);
    EXPECT_EQ(verdict.state, row.state) << row.value_mm << " nu " << row.nu;
    EXPECT_NEAR(verdict.probability_below.value(), row.probability, 1e-8);
    EXPECT_THAT(verdict.checks, IsEmpty());
    EXPECT_FALSE(verdict.because.empty());
  }
}

TEST(Judge, GivesNothingWithoutAMinimum) {
  EXPECT_FALSE(judge(size_of(22, 0.1), {}, std::nullopt).has_value());
}

TEST(Judge, AsksForTheGaugeWithoutAnySize) {
  const Verdict verdict = judge(std::nullopt, {}, 22.0).value();
  EXPECT_EQ(verdict.state, VerdictState::gauge_it);
  EXPECT_FALSE(verdict.probability_below.has_value());
  EXPECT_THAT(verdict.because, ElementsAre(HasSubstr("gauge it with a micrometer")));
}

TEST(Judge, TakesAReadingBelowTheMinimumAsReplaceHoweverCoarse) {
  EXPECT_EQ(by_hand({{21.99, 0.5, ""}}, 22).state, VerdictState::replace);
  EXPECT_EQ(judge(size_of(23, 0.01), std::vector<HandReading>{{21.99, 0.01, ""}}, 22)->state,
            VerdictState::replace);
}

TEST(Judge, KeepsAReadingClearByItsOwnUncertainty) {
  EXPECT_EQ(by_hand({{22.03, 0.01, "micrometer"}}, 22).state, VerdictState::keep);
  EXPECT_EQ(by_hand({{22.02, 0.01, "micrometer"}}, 22).state, VerdictState::gauge_it);
  EXPECT_EQ(by_hand({{22.00, 0.01, "micrometer"}}, 22).state, VerdictState::gauge_it);
}

TEST(Judge, HoldsReadingsToTheSameOneInAHundred) {
  // The 99 % point of the normal distribution is 2.3263.
  EXPECT_EQ(by_hand({{22.0232, 0.01, ""}}, 22).state, VerdictState::gauge_it);
  EXPECT_EQ(by_hand({{22.0233, 0.01, ""}}, 22).state, VerdictState::keep);
}

TEST(Judge, SaysWhatToDoAtTheLimit) {
  EXPECT_EQ(by_hand({{22.01, 0.01, "micrometer"}}, 22).because.front(),
            "At the limit: repeat with a finer instrument, or replace.");
}

TEST(Judge, LetsTheSmallestReadingGovern) {
  const Verdict verdict = by_hand({{22.40, 0.01, ""}, {21.98, 0.01, ""}, {22.41, 0.01, ""}}, 22);
  EXPECT_EQ(verdict.state, VerdictState::replace);
  EXPECT_THAT(verdict.because.front(), HasSubstr("21.98 mm"));
}

TEST(Judge, NeverLetsAFineReadingHideACoarseOne) {
  const Verdict verdict = by_hand({{22.05, 0.005, "micrometer"}, {22.06, 0.05, "calliper"}}, 22);
  EXPECT_EQ(verdict.state, VerdictState::gauge_it);
  EXPECT_NEAR(verdict.probability_below.value(), 0.11506967, 1e-8);  // Phi(-1.2)
  EXPECT_THAT(verdict.because, testing::Contains(HasSubstr("take the coarse one out")));
}

TEST(Judge, LetsAHandReadingOutrankThePhotoAndFlagsTheDisagreement) {
  const std::vector<HandReading> hand{{22.50, 0.01, "micrometer"}};
  const Verdict verdict = judge(size_of(21.50, 0.05), hand, 22).value();
  EXPECT_EQ(verdict.state, VerdictState::keep);
  EXPECT_THAT(verdict.checks, ElementsAre(Field(&Check::id, "photo_and_hand_disagree")));
  EXPECT_THAT(verdict.checks.front().message, HasSubstr("1.00 mm apart"));
}

TEST(Judge, FlagsDisagreementOnlyBeyondTheJointUncertainty) {
  // Joint: 1.959964 * sqrt(0.04^2 + 0.03^2) = 0.098 mm.
  const std::vector<HandReading> hand{{22.50, 0.03, ""}};
  EXPECT_THAT(judge(size_of(22.597, 0.04), hand, 22)->checks, IsEmpty());
  EXPECT_EQ(judge(size_of(22.599, 0.04), hand, 22)->checks.size(), 1U);
  EXPECT_EQ(judge(size_of(22.401, 0.04), hand, 22)->checks.size(), 1U);
}

TEST(Judge, NeverAveragesPhotoAndHand) {
  const std::vector<HandReading> hand{{22.01, 0.01, ""}};
  EXPECT_EQ(judge(size_of(22.50, 0.01), hand, 22)->state, VerdictState::gauge_it);
}

TEST(Judge, TurnsKeepIntoDueSoonAndNothingElse) {
  EXPECT_EQ(by_photo(size_of(22.3, 0.05), 22, true).state, VerdictState::keep_due_soon);
  EXPECT_EQ(by_photo(size_of(22.0, 0.05), 22, true).state, VerdictState::gauge_it);
  EXPECT_EQ(by_photo(size_of(21.5, 0.05), 22, true).state, VerdictState::replace);
}

TEST(Judge, NeverKeepsOnRubbish) {
  for (const double bad : {kNaN, kInfinity, -kInfinity, -1.0}) {
    const Verdict size = by_photo(size_of(bad, 0.05), 22);
    EXPECT_EQ(size.state, VerdictState::gauge_it) << bad;
    EXPECT_THAT(size.checks, ElementsAre(Field(&Check::id, "size_unusable")));
    EXPECT_FALSE(size.probability_below.has_value());
    EXPECT_EQ(by_photo(size_of(22.5, bad), 22).state, VerdictState::gauge_it) << bad;
    EXPECT_EQ(by_photo(size_of(22.5, 0.05), bad).state, VerdictState::gauge_it) << bad;
    EXPECT_EQ(by_hand({{bad, 0.01, ""}}, 22).state, VerdictState::gauge_it) << bad;
    EXPECT_EQ(by_hand({{22.5, bad, ""}}, 22).state, VerdictState::gauge_it) << bad;
    // A good entry beside the bad one does not save it.
    EXPECT_EQ(by_hand({{22.5, 0.01, ""}, {bad, 0.01, ""}}, 22).state, VerdictState::gauge_it);
    EXPECT_EQ(by_hand({{21.5, 0.01, ""}, {bad, 0.01, ""}}, 22).state, VerdictState::replace);
  }
  EXPECT_EQ(by_photo(size_of(22.5, 0.05), 0).state, VerdictState::gauge_it);
  EXPECT_EQ(by_photo(size_of(22.5, 0.05, 0), 22).state, VerdictState::gauge_it);
  EXPECT_EQ(by_photo(size_of(22.5, 0.05, kNaN), 22).state, VerdictState::gauge_it);
}

TEST(Judge, TreatsAnExactSizeAsAStep) {
  EXPECT_EQ(by_photo(size_of(22.001, 0), 22).state, VerdictState::keep);
  EXPECT_EQ(by_photo(size_of(22.000, 0), 22).state, VerdictState::gauge_it);
  EXPECT_EQ(by_photo(size_of(21.999, 0), 22).state, VerdictState::replace);
}

// 0.866 in is 22 mm, .079 in 2 mm: as millimetres they would clear parts that are worn out.
TEST(Judge, DoubtsAMinimumThatLooksLikeInches) {
  for (const auto& [size_mm, minimum] :
       {std::pair{22.4, 0.866}, {21.5, 0.866}, {0.9, 0.079}, {6.0, 0.079}, {0.9, 0.78}}) {
    for (const bool due_soon : {false, true}) {
      const Verdict verdict = by_photo(size_of(size_mm, 0.02), minimum, due_soon);
      EXPECT_EQ(verdict.state, VerdictState::gauge_it) << size_mm << " " << minimum;
      EXPECT_THAT(verdict.checks, ElementsAre(Field(&Check::id, "units_doubtful")));
      EXPECT_THAT(verdict.because.front(), HasSubstr("look it up again and enter it"));
    }
    const Verdict hand = by_hand({{size_mm, 0.01, "micrometer"}}, minimum);
    EXPECT_EQ(hand.state, VerdictState::gauge_it) << size_mm << " " << minimum;
    EXPECT_THAT(hand.checks, ElementsAre(Field(&Check::id, "units_doubtful")));
  }
}

TEST(Judge, DoubtfulUnitsCondemnAsBefore) {
  const Verdict verdict = by_hand({{0.05, 0.01, ""}}, 0.079);
  EXPECT_EQ(verdict.state, VerdictState::replace);
  EXPECT_THAT(verdict.checks, ElementsAre(Field(&Check::id, "units_doubtful")));
}

// 1/32 in, the smallest floor known (49 CFR 570.59(c)), is printed as 0.79 mm.
TEST(Judge, DoubtsNoMinimumThatMakersAndLawUse) {
  for (const double minimum : {0.79, 1.0, 1.5, 2.0}) {
    const Verdict verdict = by_photo(size_of(9.4, 0.05), minimum);
    EXPECT_EQ(verdict.state, VerdictState::keep) << minimum;
    EXPECT_THAT(verdict.checks, IsEmpty()) << minimum;
  }
}

TEST(ProbabilityBelow, SurvivesExtremes) {
  EXPECT_EQ(probability_below(size_of(1e308, 5e-324), 1), 0);
  EXPECT_EQ(probability_below(size_of(1, 5e-324), 1e308), 1);
  EXPECT_NEAR(probability_below(size_of(1, 1e308), 2), 0.5, 1e-12);
  EXPECT_GT(probability_below(size_of(25, 0.1, 0.5), 22), 0.01) << "half a degree of freedom";
}

TEST(VerdictWord, IsTheContractsWord) {
  EXPECT_STREQ(verdict_word(VerdictState::keep), "keep");
  EXPECT_STREQ(verdict_word(VerdictState::keep_due_soon), "keep, due soon");
  EXPECT_STREQ(verdict_word(VerdictState::replace), "replace");
  EXPECT_STREQ(verdict_word(VerdictState::gauge_it), "gauge it");
}

}  // namespace
}  // namespace scantling
