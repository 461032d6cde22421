#include <gmock/gmock.h>

#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "support/run_program.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

struct DemoCommand : ::testing::Test {
  TemporaryFolder folder;

  ProgramResult run(std::vector<std::string> words, const std::string& assets = {}) const {
    words.insert(words.begin(), {SCANTLING_EXECUTABLE, "demo"});
    std::vector<std::string> environment{"XDG_STATE_HOME=" + (folder / "state").string()};
    environment.push_back("SCANTLING_ASSETS=" +
                          (assets.empty() ? SCANTLING_SOURCE_DIR "/assets" : assets));
    return run_program(words, environment);
  }
};

TEST_F(DemoCommand, MeasuresAfreshAndComesWithinItsOwnUncertainty) {
  const ProgramResult result = run({"--json", "--out", (folder / "out").string()});
  ASSERT_EQ(result.exit_status, 0) << result.errors;
  const auto json = nlohmann::json::parse(result.output);
  EXPECT_THAT(json.at("made_pictures"), HasSubstr("made pictures"));
  ASSERT_THAT(json.at("parts"), SizeIs(4));
  int sized = 0;
  for (const auto& part : json.at("parts")) {
    EXPECT_TRUE(part.at("true_mm").is_number());
    if (part.at("size").is_null()) continue;
    ++sized;
    // Four sizes at 95 %: one beyond its interval is no surprise, one beyond 1.5 times it is.
    EXPECT_LT(std::abs(part.at("error_mm").get<double>()),
              1.5 * part.at("size").at("expanded_95_mm").get<double>())
        << part.dump(1);
    if (part.at("state") == "keep") {
      EXPECT_GT(part.at("true_mm"), part.at("minimum_mm"));
    }
  }
  EXPECT_GE(sized, 2);
  EXPECT_TRUE(std::filesystem::exists(json.at("record").get<std::string>()));
  EXPECT_THAT(run_program({"pdfinfo", json.at("report")}).output, HasSubstr("Pages: "));
  EXPECT_LT(std::filesystem::file_size(json.at("report").get<std::string>()), 3u << 20);
  EXPECT_THAT(json.at("overlays"), SizeIs(4));
  for (const auto& overlay : json.at("overlays"))
    EXPECT_TRUE(std::filesystem::exists(overlay.get<std::string>()));
}

TEST_F(DemoCommand, PrintsATableAndKeepsAnEarlierRun) {
  ProgramResult result = run({});
  ASSERT_EQ(result.exit_status, 0) << result.errors;
  for (const char* wanted : {"made pictures", "invented", "Front left, inner pad", "true", "error",
                             "minimum", "Report ", "Record ", "Overlay ", "scantling --record"})
    EXPECT_THAT(result.output, HasSubstr(wanted));
  const auto record = folder / "state/scantling/demo/demo.sqlite";
  const auto written = std::filesystem::last_write_time(record);
  result = run({});
  EXPECT_EQ(result.exit_status, 0);
  EXPECT_THAT(result.output, HasSubstr("demo-2.sqlite"));
  EXPECT_EQ(std::filesystem::last_write_time(record), written);
}

TEST_F(DemoCommand, WithoutItsFilesItSaysSo) {
  std::filesystem::create_directory(folder / "assets");
  const ProgramResult result =
      run({"--json", "--out", (folder / "out").string()}, (folder / "assets").string());
  EXPECT_EQ(result.exit_status, 3);
  EXPECT_EQ(nlohmann::json::parse(result.output).at("checks").at(0).at("id"), "demo_missing");
  EXPECT_FALSE(std::filesystem::exists(folder / "out"));
}

TEST_F(DemoCommand, AFolderThatCannotBeMadeIsTold) {
  const ProgramResult result = run({"--out", folder.file("file", "x")});
  EXPECT_EQ(result.exit_status, 3);
  EXPECT_THAT(result.output, IsEmpty());
  EXPECT_FALSE(result.errors.empty());
}

}  // namespace
}  // namespace scantling
