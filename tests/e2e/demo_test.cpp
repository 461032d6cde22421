#include <gmock/gmock.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "support/run_program.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using ::testing::IsEmpty;

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
