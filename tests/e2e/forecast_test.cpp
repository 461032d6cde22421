#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "support/run_program.h"

namespace scantling {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using Words = std::vector<std::string>;

ProgramResult forecast(Words words) {
  words.insert(words.begin(), "forecast");
  words.insert(words.begin(), SCANTLING_EXECUTABLE);
  return run_program(words);
}

TEST(ForecastCommand, PrintsOneJsonObjectAndNothingElse) {
  const ProgramResult run =
      forecast({"--minimum", "22", "--json", "--now", "80000", "--next-check", "170000", "0:25.00",
                "20000:24.62", "40000:24.21", "60000:23.80"});
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_THAT(run.errors, IsEmpty());
  const auto json = nlohmann::json::parse(run.output);
  EXPECT_NEAR(json.at("wear_mm_per_1000_km").get<double>(), 0.02005, 1e-12);
  EXPECT_NEAR(json.at("now").at("prediction_95_low_mm").get<double>(), 23.3259552220, 1e-8);
  EXPECT_NEAR(json.at("distance_left_km").get<double>(), 1.405 / 0.02005 * 1000, 1e-6);
  EXPECT_LT(json.at("distance_left_lower_95_km").get<double>(),
            json.at("distance_left_km").get<double>());
  EXPECT_EQ(json.at("reaches_minimum_before_next_check"), true);
  EXPECT_TRUE(json.at("checks").empty());
}

TEST(ForecastCommand, SaysItInWords) {
  const ProgramResult run = forecast({"--minimum", "22", "0:26.2:0.02", "80000:23.1:0.03"});
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_THAT(run.output, HasSubstr("0.039 mm per 1000 km"));
  EXPECT_THAT(run.output, HasSubstr("go by this"));
}

TEST(ForecastCommand, WhatAllSizesShareCancelsInTheWear) {
  const auto wear_u = [](Words more) {
    Words words{"--minimum", "22", "--json", "0:25:0.05", "40000:24.2:0.05"};
    words.insert(words.end(), more.begin(), more.end());
    return nlohmann::json::parse(forecast(words).output)
        .at("wear_standard_uncertainty_mm_per_1000_km")
        .get<double>();
  };
  // GUM 5.2.2: of 0.05 mm each with 0.04 in common, 0.03 mm each is left for the difference.
  EXPECT_NEAR(wear_u({}), 0.05 * std::sqrt(2.0) / 40, 1e-9);
  EXPECT_NEAR(wear_u({"--common-uncertainty", "0.04"}), 0.03 * std::sqrt(2.0) / 40, 1e-9);
}

TEST(ForecastCommand, TellsImplausibleInputInJsonToo) {
  const struct {
    Words words;
    const char* id;
  } cases[] = {{{"--minimum", "22", "0:25", "20000:24", "10000:23"}, "odometer_backwards"},
               {{"--minimum", "22", "0:24:0.03", "10000:24.2:0.03"}, "part_grew"},
               {{"--minimum", "22", "0:24"}, "too_few_sizes"},
               {{"--minimum", "22", "5:24", "5:24"}, "no_distance"},
               {{"--minimum", "22", "0:nan", "5:24"}, "size_unusable"},
               {{"--minimum", "0", "0:25", "5:24"}, "minimum_unusable"}};
  for (const auto& [words, id] : cases) {
    Words with_json = words;
    with_json.push_back("--json");
    const ProgramResult run = forecast(with_json);
    EXPECT_EQ(run.exit_status, 3) << id;
    const auto json = nlohmann::json::parse(run.output);
    EXPECT_EQ(json.at("fitted"), false);
    EXPECT_EQ(json.at("checks").at(0).at("id"), id);
    EXPECT_FALSE(json.contains("wear_mm_per_1000_km"));
    EXPECT_FALSE(run.errors.empty());
  }
}

TEST(ForecastCommand, RefusesWrongUsage) {
  for (const Words& words :
       {Words{}, Words{"--minimum", "22"}, Words{"0:25", "5:24"}, Words{"--minimum", "22", "0"},
        Words{"--minimum", "22", "0:25:0.1:7"}, Words{"--minimum", "22", "0:25,1", "5:24"},
        Words{"--minimum", "thin", "0:25", "5:24"}, Words{"--minimum", "22", "0:", "5:24"},
        Words{"--minimum", "22", "--now", "soon", "0:25", "5:24"},
        Words{"--minimum", "22", "--common-uncertainty", "0.1", "0:25:0.05", "5:24:0.2"},
        Words{"--minimum", "22", "--common-uncertainty", "-1", "0:25:0.05", "5:24:0.2"}}) {
    const ProgramResult run = forecast(words);
    EXPECT_EQ(run.exit_status, 2) << testing::PrintToString(words);
    EXPECT_THAT(run.output, IsEmpty());
    EXPECT_FALSE(run.errors.empty());
  }
}

}  // namespace
}  // namespace scantling
