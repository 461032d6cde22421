#include <gmock/gmock.h>

#include <filesystem>

#include "support/run_program.h"
#include "unit/report/sample_report.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::StartsWith;

struct ReportCommand : ::testing::Test {
  TemporaryFolder folder;
  std::string record_file = (folder / "record.sqlite").string();
  std::string pdf = (folder / "out.pdf").string();

  ReportCommand() {
    Record record(record_file);
    add_sample_axle(record, folder);
  }
  ProgramResult run(std::vector<std::string> words) const {
    words.insert(words.begin(), {SCANTLING_EXECUTABLE, "report", "--record", record_file});
    return run_program(words);
  }
};

TEST_F(ReportCommand, WritesAPdfOnEitherPaper) {
  ProgramResult result = run({"1", "--out", pdf});
  EXPECT_EQ(result.exit_status, 0) << result.errors;
  EXPECT_THAT(result.output, IsEmpty());
  EXPECT_THAT(result.errors, HasSubstr("5 pages"));
  EXPECT_THAT(run_program({"pdfinfo", pdf}).output, HasSubstr("A4"));
  EXPECT_THAT(run_program({"pdftotext", pdf, "-"}).output, HasSubstr("Marrow estate"));
  EXPECT_EQ(run({"1", "--paper", "letter", "--out", pdf}).exit_status, 0);
  EXPECT_THAT(run_program({"pdfinfo", pdf}).output, HasSubstr("letter"));
}

TEST_F(ReportCommand, WritesToStandardOutput) {
  const ProgramResult result = run({"1", "--out", "-"});
  EXPECT_EQ(result.exit_status, 0);
  EXPECT_THAT(result.output, StartsWith("%PDF-"));
  EXPECT_THAT(result.errors, IsEmpty());
}

TEST_F(ReportCommand, WritesInInches) {
  EXPECT_EQ(run({"1", "--units", "in", "--out", pdf}).exit_status, 0);
  const std::string text = run_program({"pdftotext", "-layout", pdf, "-"}).output;
  EXPECT_THAT(text, HasSubstr("0.198 ± 0.002 in"));
  EXPECT_THAT(text, HasSubstr("1 in = 25.4 mm"));
  EXPECT_EQ(run({"1", "--units", "feet", "--out", pdf}).exit_status, 2);
}

TEST_F(ReportCommand, TellsAnUnknownJobAndAnUnwritableFile) {
  ProgramResult result = run({"99", "--out", pdf});
  EXPECT_EQ(result.exit_status, 3);
  EXPECT_THAT(result.errors, HasSubstr("There is no job 99"));
  EXPECT_FALSE(std::filesystem::exists(pdf));
  result = run({"1", "--out", (folder / "none/out.pdf").string()});
  EXPECT_EQ(result.exit_status, 2);
  EXPECT_FALSE(result.errors.empty());
}

TEST_F(ReportCommand, WrongUsageIsTold) {
  EXPECT_EQ(run({}).exit_status, 2);
  EXPECT_EQ(run({"1"}).exit_status, 2);
  EXPECT_EQ(run({"first", "--out", pdf}).exit_status, 2);
  EXPECT_EQ(run({"1", "--out", pdf, "--paper", "a5"}).exit_status, 2);
}

}  // namespace
}  // namespace scantling
