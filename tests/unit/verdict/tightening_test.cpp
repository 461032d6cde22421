#include "verdict/tightening.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace scantling {
namespace {

using testing::HasSubstr;
using testing::SizeIs;

TEST(Tightening, ReadsStagesAsMakersGiveThem) {
  const TighteningText two = tightening_from_text("35 N m, then 90 deg");
  ASSERT_THAT(two.tightening.stages, SizeIs(2)) << two.problem;
  EXPECT_EQ(two.tightening.stages[0].value, 35);
  EXPECT_EQ(two.tightening.stages[1].unit, TighteningUnit::degree);
  EXPECT_EQ(tightening_words(two.tightening), "1: 35 N m (25.8 lbf ft); 2: 90 degrees further");
  EXPECT_THAT(tightening_from_text("30 Nm + 60\xC2\xB0 + 60\xC2\xB0").tightening.stages, SizeIs(3));
  const TighteningText imperial = tightening_from_text("26 lbf ft");
  ASSERT_THAT(imperial.tightening.stages, SizeIs(1)) << imperial.problem;
  EXPECT_EQ(tightening_words(imperial.tightening), "26 lbf ft (35.3 N m)");
  EXPECT_THAT(tightening_from_text("110,5 N\xC2\xB7m").tightening.stages, SizeIs(1));
  EXPECT_THAT(tightening_from_text("80 ft-lb").tightening.stages, SizeIs(1));
}

TEST(Tightening, RefusesWithASentenceThatSaysWhatToDo) {
  const std::pair<const char*, const char*> cases[] = {{"", "Write the maker's figure"},
                                                       {"tight", "no tightening stage"},
                                                       {"35", "needs its unit"},
                                                       {"35 kg", "needs its unit"},
                                                       {"90 deg", "begin with the torque"},
                                                       {"3500 N m", "cannot be right"},
                                                       {"0 N m", "cannot be right"},
                                                       {"30 N m + 900 deg", "cannot be right"},
                                                       {"3.5.1 N m", "no tightening stage"}};
  for (const auto& [text, says] : cases) {
    const TighteningText read = tightening_from_text(text);
    EXPECT_THAT(read.problem, HasSubstr(says)) << text;
    EXPECT_THAT(read.tightening.stages, SizeIs(0)) << text;
  }
}

}  // namespace
}  // namespace scantling
