// `--monte-carlo` on every view of the demo's made pictures: both figures, and which one counts.

#include <gmock/gmock.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "support/run_program.h"

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;
using ::testing::HasSubstr;

std::string demo(const std::string& name) {
  return SCANTLING_SOURCE_DIR "/assets/demo/" + name + ".jpg";
}

struct View {
  const char* name;
  std::vector<std::string> words;
  std::size_t dimensions;
};

void PrintTo(const View& view, std::ostream* out) {
  *out << view.name;
}

class MonteCarlo : public testing::TestWithParam<View> {};

TEST_P(MonteCarlo, StandsBesideFirstOrderOrTheBudgetSaysWhyNot) {
  std::vector<std::string> words = GetParam().words;
  words.insert(words.begin(), SCANTLING_EXECUTABLE);
  words.insert(words.end(), {"--sheet-scale", "1.004,0.998,0.001", "--monte-carlo", "--json"});
  const ProgramResult run = run_program(words);
  ASSERT_EQ(run.exit_status, 0) << run.errors;
  const Json dimensions = Json::parse(run.output).at("dimensions");
  ASSERT_EQ(dimensions.size(), GetParam().dimensions);
  for (const Json& d : dimensions) {
    SCOPED_TRACE(d.at("name").get<std::string>());
    const Json& drawn = d.at("monte_carlo");
    const double value = d.at("value_mm"), half = d.at("expanded_95_mm");
    const double low = drawn.at("interval_95_mm")[0], high = drawn.at("interval_95_mm")[1];
    if (drawn.at("first_order_holds").get<bool>()) {
      // JCGM 101 clause 8 asks for a tighter match; this one needs no knowledge of its digits.
      EXPECT_NEAR(low, value - half, 0.25 * half);
      EXPECT_NEAR(high, value + half, 0.25 * half);
    } else {
      EXPECT_THAT(drawn.at("message").get<std::string>(), HasSubstr("because"));
    }
    EXPECT_LT(low, value);
    EXPECT_GT(high, value);
  }
}

INSTANTIATE_TEST_SUITE_P(
    Views, MonteCarlo,
    testing::Values(
        View{"rim", {"measure", "--view", "rim", "--disc-diameter", "280", demo("rim_left")}, 1},
        View{"lip", {"measure", "--view", "lip", demo("lip_left_outboard_1")}, 1},
        View{"worn",
             {"worn", "--rim", demo("rim_left"), "--lip-out", demo("lip_left_outboard_1"),
              demo("lip_left_outboard_2"), "--lip-in", demo("lip_left_inboard_1"),
              demo("lip_left_inboard_2")},
             4},
        View{"planes",
             {"planes", "--view", "faces", demo("faces_left_outboard_1"),
              demo("faces_left_outboard_2"), demo("faces_left_inboard_1"),
              demo("faces_left_inboard_2")},
             1}),
    [](const testing::TestParamInfo<View>& view) { return view.param.name; });

}  // namespace
}  // namespace scantling
