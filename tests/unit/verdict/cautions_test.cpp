#include "verdict/cautions.h"

#include <gmock/gmock.h>

#include <string>

namespace scantling {
namespace {

using testing::HasSubstr;

std::string said(WorkStage stage) {
  return std::string(caution_at(stage).text);
}

// Common practice but for the dust: 29 CFR 1910.1001 appendix F, mandatory work practices for brake
// repair, forbids dry brushing and blowing with compressed air.
TEST(Cautions, EachStageHasItsOwnLineWithWhereItIsFrom) {
  EXPECT_THAT(said(WorkStage::wheel_off), HasSubstr("on stands"));
  EXPECT_THAT(said(WorkStage::at_the_disc), HasSubstr("cool"));
  EXPECT_THAT(said(WorkStage::at_the_disc), HasSubstr("never blow"));
  EXPECT_THAT(said(WorkStage::at_the_disc), HasSubstr("asbestos"));
  EXPECT_THAT(said(WorkStage::tightening), HasSubstr("maker's figures"));
  EXPECT_THAT(said(WorkStage::putting_in_use), HasSubstr("bedded in"));
  EXPECT_THAT(said(WorkStage::deciding), HasSubstr("licensed technician"));
  EXPECT_THAT(std::string(caution_at(WorkStage::at_the_disc).basis), HasSubstr("1910.1001"));
  EXPECT_EQ(caution_at(WorkStage::wheel_off).basis, "common practice");
}

// One line each, not a wall.
TEST(Cautions, AreShort) {
  for (const WorkStage stage : {WorkStage::wheel_off, WorkStage::at_the_disc, WorkStage::tightening,
                                WorkStage::putting_in_use, WorkStage::deciding})
    EXPECT_LE(said(stage).size(), 100u) << said(stage);
}

}  // namespace
}  // namespace scantling
