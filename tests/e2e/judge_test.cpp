#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "support/run_program.h"

namespace scantling {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using Words = std::vector<std::string>;

ProgramResult judge(Words words) {
  words.insert(words.begin(), "judge");
  words.insert(words.begin(), SCANTLING_EXECUTABLE);
  return run_program(words);
}

Words photo(const std::string& size, const std::string& u, const std::string& minimum) {
  return {"--size", size, "--standard-uncertainty", u, "--minimum", minimum, "--json"};
}

TEST(JudgeCommand, PrintsOneJsonObjectAndNothingElse) {
  const ProgramResult run = judge(photo("22.12", "0.05", "22.00"));
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_THAT(run.errors, IsEmpty());
  const nlohmann::json json = nlohmann::json::parse(run.output);
  EXPECT_EQ(json.at("state"), "keep");
  EXPECT_NEAR(json.at("probability_below").get<double>(), 0.00819754, 1e-8);
  EXPECT_FALSE(json.at("because").empty());
  EXPECT_TRUE(json.at("checks").empty());
}

TEST(JudgeCommand, GivesEachState) {
  EXPECT_EQ(nlohmann::json::parse(judge(photo("21.91", "0.05", "22")).output).at("state"),
            "replace");
  EXPECT_EQ(nlohmann::json::parse(judge(photo("22.10", "0.05", "22")).output).at("state"),
            "gauge it");
  Words few = photo("22.12", "0.05", "22");
  few.insert(few.end(), {"--degrees-of-freedom", "9"});
  const auto json = nlohmann::json::parse(judge(few).output);
  EXPECT_EQ(json.at("state"), "gauge it");
  EXPECT_NEAR(json.at("probability_below").get<double>(), 0.01994894, 1e-8);
}

TEST(JudgeCommand, AKeptPartIsDueSoonWhereItsWearReachesTheMinimumBeforeTheNextCheck) {
  // 2.2 mm in 60 000 km leave 0.8 mm for 21 800 km.
  const auto with_next_check = [](const std::string& km) {
    Words words = photo("22.80", "0.05", "22.00");
    words.insert(words.end(), {"--earlier", "0:25.00", "--now", "60000", "--next-check", km});
    return nlohmann::json::parse(judge(words).output);
  };
  EXPECT_EQ(with_next_check("65000").at("state"), "keep");
  const auto due = with_next_check("90000");
  EXPECT_EQ(due.at("state"), "keep, due soon");
  EXPECT_THAT(due.at("because").back().get<std::string>(), HasSubstr("before the next"));
}

TEST(JudgeCommand, TheSmallestReadingByHandIsWhatWears) {
  Words words{"--hand",    "23.9,0.02", "--hand", "22.8,0.02", "--minimum",    "22",   "--json",
              "--earlier", "0:25.00",   "--now",  "60000",     "--next-check", "90000"};
  EXPECT_EQ(nlohmann::json::parse(judge(words).output).at("state"), "keep, due soon");
}

TEST(JudgeCommand, AnImplausibleWearIsToldAndTakesNothingFromTheSize) {
  Words words = photo("22.80", "0.05", "22.00");
  words.insert(words.end(),
               {"--earlier", "70000:25.00:0.05", "--now", "60000", "--next-check", "90000"});
  const ProgramResult run = judge(words);
  EXPECT_EQ(run.exit_status, 0);
  const auto json = nlohmann::json::parse(run.output);
  EXPECT_EQ(json.at("state"), "keep");
  EXPECT_EQ(json.at("checks").at(0).at("id"), "odometer_backwards");
  EXPECT_EQ(json.at("checks").at(0).at("severity"), "warn");
}

TEST(JudgeCommand, AskedForWearItNeedsBothOdometerReadings) {
  for (const Words& half : {Words{"--earlier", "0:25"},
                            Words{"--earlier", "0:25", "--now", "60000"}, Words{"--now", "60000"},
                            Words{"--earlier", "0", "--now", "60000", "--next-check", "9e4"}}) {
    Words words = photo("22.80", "0.05", "22.00");
    words.insert(words.end(), half.begin(), half.end());
    const ProgramResult run = judge(words);
    EXPECT_EQ(run.exit_status, 2) << testing::PrintToString(half);
    EXPECT_FALSE(run.errors.empty());
  }
}

TEST(JudgeCommand, LetsHandReadingsOutrankThePhoto) {
  Words words = photo("22.60", "0.05", "22");
  words.insert(words.end(), {"--hand", "22.55,0.01", "--hand", "21.98,0.01"});
  const ProgramResult run = judge(words);
  EXPECT_EQ(run.exit_status, 0);
  const auto json = nlohmann::json::parse(run.output);
  EXPECT_EQ(json.at("state"), "replace");
  EXPECT_EQ(json.at("checks").at(0).at("id"), "photo_and_hand_disagree");
  EXPECT_EQ(json.at("checks").at(0).at("severity"), "warn");
  EXPECT_THAT(run.errors, HasSubstr("apart"));
}

TEST(JudgeCommand, JudgesAHandReadingAlone) {
  const ProgramResult run = judge({"--minimum", "22", "--hand", "22.5"});
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_THAT(run.output, testing::StartsWith("keep\n"));
  EXPECT_THAT(run.output, HasSubstr("cracks"));
}

TEST(JudgeCommand, CallsUnusableNumbersUnusableAndStillPrintsJson) {
  for (const Words& words :
       {photo("nan", "0.05", "22"), photo("inf", "0.05", "22"), photo("-3", "0.05", "22"),
        photo("22.5", "-0.05", "22"), photo("22.5", "nan", "22"), photo("22.5", "0.05", "0"),
        photo("22.5", "0.05", "-22"), photo("22.5", "0.05", "nan"),
        Words{"--minimum", "22", "--json", "--hand=-3"}}) {
    const ProgramResult run = judge(words);
    EXPECT_EQ(run.exit_status, 3) << testing::PrintToString(words);
    const auto json = nlohmann::json::parse(run.output);
    EXPECT_EQ(json.at("state"), "gauge it") << testing::PrintToString(words);
    EXPECT_EQ(json.at("checks").at(0).at("severity"), "stop");
    EXPECT_THAT(run.errors, HasSubstr(json.at("checks").at(0).at("message").get<std::string>()));
  }
}

TEST(JudgeCommand, RefusesWrongUsageWithOneSentence) {
  for (const Words& words :
       {Words{}, Words{"--minimum", "22"}, Words{"--size", "22", "--minimum", "22"},
        Words{"--size", "22", "--standard-uncertainty", "0.1"}, photo("thick", "0.05", "22"),
        photo("22", "0.05", ""), photo("", "0.05", "22"), photo("22,5", "0.05", "22"),
        photo("0x16", "0.05", "22"), Words{"--minimum", "22", "--hand", "22.5,0.01,3"},
        Words{"--minimum", "22", "--hand", "22.5,"}, Words{"--minimum", "22", "--hand", ""},
        Words{"--minimum", "22", "--hand", "22.5 mm"}, Words{"--minimum", "22", "--boldly"}}) {
    const ProgramResult run = judge(words);
    EXPECT_EQ(run.exit_status, 2) << testing::PrintToString(words);
    EXPECT_THAT(run.output, IsEmpty());
    EXPECT_FALSE(run.errors.empty());
  }
}

TEST(JudgeCommand, CatchesADecimalComma) {
  for (const char* typed :
       {"22,4", "22,0", "22,00", "22,000", "22.40,0", "22.40,0.0", "22.40,-0.02", "22.40,nan"}) {
    const ProgramResult run = judge({"--minimum", "21", "--hand", typed});
    EXPECT_EQ(run.exit_status, 2) << typed;
    EXPECT_THAT(run.output, IsEmpty()) << typed;
    EXPECT_THAT(run.errors, HasSubstr("decimal mark as a point")) << typed;
  }
}

}  // namespace
}  // namespace scantling
