// `scantling measure` on files that no one can measure from: exit status 3, one JSON object all the
// same, one sentence that says what to do, never a crash.

#include <gmock/gmock.h>
#include <unistd.h>

#include <nlohmann/json.hpp>

#include "support/bad_files.h"
#include "support/run_program.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

ProgramResult measure(const std::string& photo, bool json) {
  std::vector<std::string> words = {SCANTLING_EXECUTABLE, "measure", "--view", "pad"};
  if (json) words.push_back("--json");
  words.push_back(photo);
  return run_program(words);
}

void expect_refusal(const std::string& photo, const std::string& id, const std::string& sentence) {
  SCOPED_TRACE(photo);
  const ProgramResult run = measure(photo, true);
  EXPECT_EQ(run.exit_status, 3) << run.errors;
  const Json json = Json::parse(run.output);
  EXPECT_EQ(json.at("view"), "pad");
  EXPECT_TRUE(json.at("dimensions").empty());
  EXPECT_TRUE(json.at("edges").empty());
  EXPECT_TRUE(json.at("card").is_null());
  bool found = false;
  for (const Json& check : json.at("checks")) {
    if (check.at("id") != id) continue;
    found = true;
    EXPECT_EQ(check.at("severity"), "stop");
    EXPECT_THAT(check.at("message").get<std::string>(), HasSubstr(sentence));
  }
  EXPECT_TRUE(found) << json["checks"].dump();
  EXPECT_THAT(run.errors, HasSubstr(sentence));
}

TEST(MeasureBadInput, IsRefusedFileByFile) {
  const TemporaryFolder folder;
  for (const test::BadFile& bad : test::bad_files())
    expect_refusal(folder.file(bad.name, bad.bytes), bad.id, bad.words);
}

TEST(MeasureBadInput, IncludesWhatIsNoFile) {
  const TemporaryFolder folder;
  expect_refusal(folder / "missing.jpg", "photo_missing", "There is no file");
  expect_refusal(folder.path(), "photo_not_a_photo", "a folder");
}

TEST(MeasureBadInput, IncludesAPhotoWithoutACard) {
  const TemporaryFolder folder;
  const auto photo = folder.file("pad.jpg", test::jpeg_file(test::asymmetric_picture(2000, 1500)));
  const ProgramResult run = measure(photo, true);
  EXPECT_EQ(run.exit_status, 3);
  const Json json = Json::parse(run.output);
  EXPECT_EQ(json.at("checks").at(0).at("severity"), "stop");
  EXPECT_TRUE(json.at("dimensions").empty());
}

TEST(MeasureBadInput, IsToldToPeopleToo) {
  const TemporaryFolder folder;
  const ProgramResult run = measure(folder.file("notes.jpg", "Pads bought in May.\n"), false);
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_THAT(run.output, HasSubstr("no size"));
  EXPECT_THAT(run.errors, HasSubstr("choose a JPEG, PNG, TIFF or HEIC photo"));
}

TEST(MeasureBadInput, MayHaveANameThatIsNotUtf8) {
  const TemporaryFolder folder;
  const ProgramResult run = measure(folder / "pad\xff\xfe.jpg", true);
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_EQ(Json::parse(run.output).at("checks").at(0).at("id"), "photo_missing");
}

TEST(MeasureBadInput, LeavesNoOverlayBehind) {
  const TemporaryFolder folder;
  const auto photo = folder.file("notes.jpg", "Pads bought in May.\n");
  const ProgramResult run = run_program(
      {SCANTLING_EXECUTABLE, "measure", "--view", "pad", "--overlay", folder / "edges.png", photo});
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_FALSE(std::filesystem::exists(folder / "edges.png"));
}

}  // namespace
}  // namespace scantling
