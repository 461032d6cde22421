#include <gmock/gmock.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "record/record.h"
#include "support/run_program.h"
#include "support/temporary_folder.h"
#include "unit/record/sample_record.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

struct JobsCommand : ::testing::Test {
  TemporaryFolder folder;
  std::string file = (folder / "record.sqlite").string();

  ProgramResult run(std::vector<std::string> words) const {
    words.insert(words.begin(), SCANTLING_EXECUTABLE);
    return run_program(words, {"XDG_DATA_HOME=" + (folder / "data").string()});
  }
};

TEST_F(JobsCommand, ListsJobsAsOneJsonObject) {
  {
    Record record(file);
    const SampleJob ids = add_sample_job(record);
    const auto photo = record.add_photo(ids.pad, View::pad, folder.file("p.jpg", "abc"));
    record.add_measurement(sample_entry(photo.id));
  }
  const ProgramResult result = run({"jobs", "--json", "--record", file});
  EXPECT_EQ(result.exit_status, 0);
  EXPECT_THAT(result.errors, IsEmpty());
  const auto json = nlohmann::json::parse(result.output);
  ASSERT_THAT(json.at("jobs"), SizeIs(1));
  EXPECT_EQ(json.at("jobs").at(0).at("vehicle").at("owner"), "Ása Þórsdóttir");
  EXPECT_EQ(json.at("jobs").at(0).at("parts").at(0).at("state"), "keep");
  EXPECT_EQ(json.at("jobs").at(0).at("parts").at(0).at("size").at("value_mm"), 5.02);
}

TEST_F(JobsCommand, ListsJobsInWords) {
  add_sample_job(*std::make_unique<Record>(file));
  for (const auto& words : {std::vector<std::string>{"jobs", "--record", file},
                            std::vector<std::string>{"--record", file, "jobs"}}) {
    const ProgramResult result = run(words);
    EXPECT_EQ(result.exit_status, 0);
    EXPECT_THAT(result.output, HasSubstr("2026-11-21  Bödvar's estate (XQ 417 T), rear axle"));
    EXPECT_THAT(result.output, HasSubstr("Rear right, outer pad"));
    EXPECT_THAT(result.output, HasSubstr("not measured; minimum 2.0"));
  }
}

TEST_F(JobsCommand, AMissingRecordIsToldAndNotMade) {
  const ProgramResult result = run({"jobs", "--json", "--record", file});
  EXPECT_EQ(result.exit_status, 3);
  EXPECT_EQ(nlohmann::json::parse(result.output).at("checks").at(0).at("id"), "record_missing");
  EXPECT_THAT(result.errors, HasSubstr("There is no record"));
  EXPECT_FALSE(std::filesystem::exists(file));
  EXPECT_EQ(run({"jobs"}).exit_status, 3);
  EXPECT_FALSE(std::filesystem::exists(folder / "data"));
}

TEST_F(JobsCommand, AFileThatIsNoRecordIsTold) {
  const ProgramResult result =
      run({"jobs", "--record", folder.file("letter", std::string(4000, 'A'))});
  EXPECT_EQ(result.exit_status, 3);
  EXPECT_THAT(result.output, IsEmpty());
  EXPECT_THAT(result.errors, HasSubstr("is not a job record"));
}

TEST_F(JobsCommand, WrongUsageIsTold) {
  EXPECT_EQ(run({"jobs", "--sideways"}).exit_status, 2);
  EXPECT_EQ(run({"jobs", "nonsense"}).exit_status, 2);
  EXPECT_EQ(run({"jobs", "--record"}).exit_status, 2);
}

}  // namespace
}  // namespace scantling
