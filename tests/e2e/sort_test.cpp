#include <gmock/gmock.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "support/run_program.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;
using ::testing::SizeIs;

struct SortCommand : ::testing::Test {
  TemporaryFolder folder;

  ProgramResult run(std::vector<std::string> words) const {
    words.insert(words.begin(), {SCANTLING_EXECUTABLE, "sort"});
    return run_program(words, {"XDG_STATE_HOME=" + (folder / "state").string(),
                               "XDG_DATA_HOME=" + (folder / "data").string()});
  }
  void copy(const std::string& demo_photo, const std::string& name) const {
    fs::copy_file(fs::path(SCANTLING_SOURCE_DIR) / "assets/demo" / demo_photo, folder / name);
  }
};

TEST_F(SortCommand, AFolderOfPhotosTheSameOnOneCoreAndOnTwo) {
  copy("pad_left_inner.jpg", "IMG_2.jpg");
  copy("rim_left.jpg", "IMG_10.jpg");
  copy("pad_left_inner.jpg", "IMG_3.jpg");
  folder.file("IMG_11.jpg", "no picture");
  const ProgramResult one = run({"--json", "--jobs", "1", folder.path().string()});
  const ProgramResult two = run({"--json", "--jobs", "2", folder.path().string()});
  ASSERT_EQ(one.exit_status, 0) << one.errors;
  EXPECT_EQ(one.output, two.output);
  const auto json = nlohmann::json::parse(one.output);
  const auto& photos = json.at("photos");
  ASSERT_THAT(photos, SizeIs(4));
  EXPECT_EQ(photos[0].at("view"), "pad");
  EXPECT_EQ(photos[0].at("part").at("side"), "left");
  EXPECT_EQ(photos[0].at("part").at("place"), "inner");
  EXPECT_EQ(photos[1].at("goes_to"), "aside");
  EXPECT_EQ(photos[1].at("same_file"), true);
  EXPECT_EQ(photos[2].at("view"), "rim");
  EXPECT_EQ(photos[2].at("part").at("kind"), "disc");
  EXPECT_EQ(photos[3].at("view"), nullptr);
  EXPECT_EQ(photos[3].at("checks")[0].at("id"), "photo_not_a_photo");
  EXPECT_EQ(json.at("time_groups"), 2);
  EXPECT_THAT(one.errors, HasSubstr("IMG_11.jpg"));
}

TEST_F(SortCommand, PrintsATable) {
  copy("sheet_01.jpg", "sheet.jpg");
  const ProgramResult result = run({(folder / "sheet.jpg").string()});
  EXPECT_EQ(result.exit_status, 0) << result.errors;
  EXPECT_THAT(result.output, HasSubstr("sheet.jpg"));
  EXPECT_THAT(result.output, HasSubstr("Your phone's camera"));
  EXPECT_THAT(result.output, HasSubstr("1 photo: 0 left out, 0 to be looked at."));
}

TEST_F(SortCommand, RefusesWhatCannotBeSorted) {
  EXPECT_EQ(run({}).exit_status, 2);
  EXPECT_EQ(run({"--jobs", "0", folder.path().string()}).exit_status, 2);
  const ProgramResult empty = run({folder.path().string()});
  EXPECT_EQ(empty.exit_status, 3);
  EXPECT_THAT(empty.errors, HasSubstr("no photos"));
  EXPECT_EQ(run({folder.file("a.jpg", "no picture").string()}).exit_status, 3);
}

}  // namespace
}  // namespace scantling
