#include "verdict/axle.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdio>
#include <limits>
#include <random>
#include <vector>

namespace scantling {
namespace {

using testing::Contains;
using testing::Each;
using testing::ElementsAre;
using testing::Field;
using testing::HasSubstr;
using testing::IsEmpty;

/// Left disc, right disc, then pads: left inner, left outer, right inner, right outer.
std::vector<AxlePart> whole_axle(VerdictState state = VerdictState::keep) {
  std::vector<AxlePart> parts;
  for (const CarSide side : {CarSide::left, CarSide::right})
    parts.push_back({AxlePartKind::disc, side, PadPosition::inner, state});
  for (const CarSide side : {CarSide::left, CarSide::right})
    for (const PadPosition position : {PadPosition::inner, PadPosition::outer})
      parts.push_back({AxlePartKind::pad, side, position, state});
  return parts;
}

std::vector<AxlePart> measured_axle(double pad_mm, double disc_mm, double u_mm) {
  std::vector<AxlePart> parts = whole_axle();
  for (AxlePart& part : parts)
    part.size = Quantity{
        part.kind == AxlePartKind::pad ? pad_mm : disc_mm, u_mm, kUnlimitedDegreesOfFreedom, {}};
  return parts;
}

TEST(Axle, KeepsAnAxleWhoseEveryPartMayStay) {
  const AxleVerdict verdict = judge_axle(whole_axle());
  EXPECT_EQ(verdict.action, AxleAction::none);
  EXPECT_EQ(verdict.state, VerdictState::keep);
  EXPECT_THAT(verdict.checks, IsEmpty());
}

TEST(Axle, ChangesBothDiscsAndAllPadsForOneDisc) {
  std::vector<AxlePart> parts = whole_axle();
  parts[1].state = VerdictState::replace;
  const AxleVerdict verdict = judge_axle(parts);
  EXPECT_EQ(verdict.action, AxleAction::replace_discs_and_pads);
  EXPECT_THAT(verdict.part_states, Each(testing::Eq(VerdictState::replace)));
  EXPECT_THAT(verdict.because.front(), HasSubstr("right disc"));
}

TEST(Axle, ChangesAllPadsForOnePadAndLeavesTheDiscs) {
  std::vector<AxlePart> parts = whole_axle();
  parts[3].state = VerdictState::replace;
  const AxleVerdict verdict = judge_axle(parts);
  const std::optional<VerdictState> keep = VerdictState::keep;
  const std::optional<VerdictState> replace = VerdictState::replace;
  EXPECT_EQ(verdict.action, AxleAction::replace_pads);
  EXPECT_THAT(verdict.part_states, ElementsAre(keep, keep, replace, replace, replace, replace));
  EXPECT_THAT(verdict.because.front(), HasSubstr("left outer pad"));
}

TEST(Axle, AsksToSettleADoubtfulDiscBeforeNewPadsGoOn) {
  std::vector<AxlePart> parts = whole_axle();
  parts[0].state = VerdictState::gauge_it;
  parts[3].state = VerdictState::replace;
  const AxleVerdict verdict = judge_axle(parts);
  EXPECT_EQ(verdict.part_states[0], VerdictState::gauge_it);
  EXPECT_THAT(verdict.because, Contains(HasSubstr("Settle the discs")));
  EXPECT_THAT(verdict.because, Contains(HasSubstr("Gauge it: left disc")));
}

TEST(Axle, IsOnlyAsGoodAsItsWorstPart) {
  std::vector<AxlePart> parts = whole_axle();
  parts[5].state = VerdictState::keep_due_soon;
  EXPECT_EQ(judge_axle(parts).state, VerdictState::keep_due_soon);
  parts[4].state = VerdictState::gauge_it;
  EXPECT_EQ(judge_axle(parts).state, VerdictState::gauge_it);
  EXPECT_THAT(judge_axle(parts).because, ElementsAre("Gauge it: right inner pad."));
}

TEST(Axle, NamesThePartsNotJudged) {
  std::vector<AxlePart> parts = whole_axle();
  parts[1].state.reset();
  parts.pop_back();
  const AxleVerdict verdict = judge_axle(parts);
  EXPECT_THAT(verdict.checks, ElementsAre(Field(&Check::id, "axle_incomplete")));
  EXPECT_THAT(verdict.checks.front().message, HasSubstr("right disc, right outer pad"));
  EXPECT_EQ(verdict.state, VerdictState::gauge_it) << "what nobody judged may be worn out";
  EXPECT_THAT(verdict.checks.front().message, HasSubstr("stands at gauge it, not at keep"));
  EXPECT_FALSE(judge_axle({}).state.has_value());
  // What is certain stays certain.
  parts[0].state = VerdictState::replace;
  EXPECT_EQ(judge_axle(parts).state, VerdictState::replace);
  EXPECT_THAT(judge_axle(parts).checks.front().message, testing::Not(HasSubstr("gauge it")));
}

TEST(UnevenWear, SaysNothingOfDifferencesThatNoiseExplains) {
  std::vector<AxlePart> parts = measured_axle(6, 22, 0.1);
  parts[2].size->value_mm = 5.7;
  EXPECT_THAT(judge_axle(parts).uneven, IsEmpty());
}

TEST(UnevenWear, TellsAThinInnerPadWithWhatToLookFor) {
  std::vector<AxlePart> parts = measured_axle(6, 22, 0.05);
  parts[2].size->value_mm = 3.5;
  parts[4].size->value_mm = 3.5;
  const auto uneven = judge_axle(parts).uneven;
  ASSERT_EQ(uneven.size(), 2U);
  EXPECT_EQ(uneven[0].kind, UnevenKind::inner_against_outer);
  EXPECT_EQ(uneven[0].severity, Severity::warn);
  EXPECT_NEAR(uneven[0].difference_mm, 2.5, 1e-12);
  EXPECT_THAT(uneven[0].sentence, HasSubstr("left inner pad is thinner than the left outer pad"));
  EXPECT_THAT(uneven[0].look_for, Contains(HasSubstr("guide pins")));
  EXPECT_THAT(uneven[0].look_for, Contains(HasSubstr("piston")));
}

TEST(UnevenWear, TellsAThinOuterPadWithOtherCauses) {
  std::vector<AxlePart> parts = measured_axle(6, 22, 0.05);
  parts[3].size->value_mm = 5;
  parts[5].size->value_mm = 5;
  const auto uneven = judge_axle(parts).uneven;
  ASSERT_EQ(uneven.size(), 2U);
  EXPECT_EQ(uneven[0].severity, Severity::info) << "clear, but less than 2 mm";
  EXPECT_THAT(uneven[0].sentence, HasSubstr("left outer pad is thinner"));
  EXPECT_THAT(uneven[0].look_for, Contains(HasSubstr("drags")));
}

TEST(UnevenWear, ComparesLeftWithRight) {
  std::vector<AxlePart> parts = measured_axle(6, 22, 0.05);
  parts[1].size->value_mm = 21;
  const auto uneven = judge_axle(parts).uneven;
  ASSERT_EQ(uneven.size(), 1U);
  EXPECT_EQ(uneven[0].kind, UnevenKind::left_against_right);
  EXPECT_THAT(uneven[0].sentence, HasSubstr("right disc is thinner than the left disc"));
}

TEST(UnevenWear, TellsTaperAndUnequalLips) {
  std::vector<AxlePart> parts = whole_axle();
  parts[2].taper = Quantity{-2.4, 0.1, kUnlimitedDegreesOfFreedom, {}};
  parts[0].outboard_lip = Quantity{0.4, 0.05, kUnlimitedDegreesOfFreedom, {}};
  parts[0].inboard_lip = Quantity{0.9, 0.05, kUnlimitedDegreesOfFreedom, {}};
  const auto uneven = judge_axle(parts).uneven;
  ASSERT_EQ(uneven.size(), 2U);
  EXPECT_THAT(uneven[0].sentence, HasSubstr("left disc is worn deeper on its inboard face"));
  EXPECT_EQ(uneven[1].kind, UnevenKind::taper);
  EXPECT_EQ(uneven[1].severity, Severity::warn);
  EXPECT_NEAR(uneven[1].difference_mm, 2.4, 1e-12);
}

// One sheet's print scale moves all pads alike (GUM 5.2.2): 0.1 mm of shared error hides nothing.
TEST(UnevenWear, LetsASharedErrorCancel) {
  std::vector<AxlePart> parts = measured_axle(8, 22, 0.104403);  // own 0.03, shared 0.10
  parts[2].size->value_mm = 7.8;
  EXPECT_THAT(judge_axle(parts).uneven, IsEmpty()) << "as independent sizes 0.2 mm is noise";
  for (AxlePart& part : parts) {
    part.shared_standard_uncertainty_mm = 0.10;
    part.shared_with = "sheet 1";
  }
  const AxleVerdict verdict = judge_axle(parts);
  EXPECT_THAT(verdict.uneven, Contains(Field(&UnevenWear::kind, UnevenKind::inner_against_outer)));
  parts[2].shared_with = "sheet 2";
  EXPECT_THAT(judge_axle(parts).uneven, IsEmpty()) << "another sheet has another error";
}

TEST(UnevenWear, SaysWhatToMindWhileLooking) {
  std::vector<AxlePart> parts = measured_axle(8, 22, 0.02);
  parts[2].size->value_mm = 5;
  parts[3].taper_across = Quantity{0.5, 0.05, kUnlimitedDegreesOfFreedom, {}};
  parts[0].outboard_lip = Quantity{1.2, 0.05, kUnlimitedDegreesOfFreedom, {}};
  parts[0].inboard_lip = Quantity{0.6, 0.05, kUnlimitedDegreesOfFreedom, {}};
  const AxleVerdict verdict = judge_axle(parts);
  EXPECT_THAT(verdict.uneven, Contains(Field(&UnevenWear::kind, UnevenKind::taper_across)));
  EXPECT_THAT(verdict.uneven, Contains(Field(&UnevenWear::kind, UnevenKind::lips)));
  for (const UnevenWear& wear : verdict.uneven) {
    EXPECT_FALSE(wear.look_for.empty()) << wear.sentence;
    EXPECT_FALSE(wear.cautions.empty()) << wear.sentence;
  }
}

TEST(UnevenWear, KeepsAwayFromRubbish) {
  std::vector<AxlePart> parts = measured_axle(6, 22, 0.05);
  parts[2].size->value_mm = std::numeric_limits<double>::quiet_NaN();
  parts[4].size->standard_uncertainty_mm = -1;
  EXPECT_THAT(judge_axle(parts).uneven, IsEmpty());
}

TEST(UnevenWear, AlarmsOnEvenAxlesAtMostOnceInTwenty) {
  constexpr int kAxles = 20'000;
  std::mt19937_64 random(3);
  std::normal_distribution<double> error(0, 0.1);
  int alarms = 0;
  for (int i = 0; i < kAxles; ++i) {
    std::vector<AxlePart> parts = measured_axle(6, 22, 0.1);
    for (AxlePart& part : parts) {
      part.size->value_mm += error(random);
      if (part.kind == AxlePartKind::pad)
        part.taper = Quantity{error(random), 0.1, kUnlimitedDegreesOfFreedom, {}};
    }
    alarms += judge_axle(parts).uneven.empty() ? 0 : 1;
  }
  std::printf("even axles with an alarm: %d of %d (%.1f %%)\n", alarms, kAxles,
              100.0 * alarms / kAxles);
  EXPECT_LT(alarms, 0.05 * kAxles);
  EXPECT_GT(alarms, 0.03 * kAxles) << "the limit is far wider than it says";
}

}  // namespace
}  // namespace scantling
