#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "support/run_program.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using ::testing::ContainsRegex;
using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

class Sheet : public ::testing::TestWithParam<const char*> {
 protected:
  static ProgramResult sheet(const std::string& paper, const std::string& out) {
    return run_program({SCANTLING_EXECUTABLE, "sheet", "--paper", paper, "--out", out});
  }
  static std::string content(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
  }

  TemporaryFolder folder;
  const std::string path = (folder / "my cards.pdf").string();
};

TEST_P(Sheet, WritesTwoPagesOfExactlyThatPaper) {
  const ProgramResult result = sheet(GetParam(), path);
  ASSERT_EQ(result.exit_status, 0) << result.errors;
  EXPECT_EQ(result.output, "");
  EXPECT_THAT(result.errors, HasSubstr("100 %"));
  const bool a4 = std::string(GetParam()) == "a4";
  const std::string info = run_program({"pdfinfo", "-f", "1", "-l", "2", "-box", path}).output;
  EXPECT_THAT(info, HasSubstr("Pages:           2"));
  EXPECT_THAT(info, HasSubstr(a4 ? "Page    1 size:  595.276 x 841.89 pts (A4)"
                                 : "Page    1 size:  612 x 792 pts (letter)"));
  EXPECT_THAT(info, HasSubstr(a4 ? "Page    2 size:  841.89 x 595.276 pts (A4)"
                                 : "Page    2 size:  792 x 612 pts (letter)"));
  EXPECT_THAT(info, ContainsRegex(a4 ? "1 MediaBox: +0.00 +0.00 +595.28 +841.89"
                                     : "1 MediaBox: +0.00 +0.00 +612.00 +792.00"));
  EXPECT_THAT(info, HasSubstr("Title:           Scantling cards"));
}

TEST_P(Sheet, EmbedsItsFontsAndKeepsItsTextSearchable) {
  ASSERT_EQ(sheet(GetParam(), path).exit_status, 0);
  const std::string fonts = run_program({"pdffonts", path}).output;
  EXPECT_THAT(fonts, HasSubstr("yes yes yes"));
  EXPECT_THAT(fonts, Not(HasSubstr(" no "))) << fonts;
  const std::string text = run_program({"pdftotext", path, "-"}).output;
  for (const char* words :
       {"Scantling cards", "Scantling ground sheet", "Print at 100 %", "track card A",
        "track card B", "sheet's name", "140 mm", "x check bar: 180 mm", "y check bar: 250 mm",
        "x check bar: 250 mm", "y check bar: 180 mm", "unchecked"})
    EXPECT_THAT(text, HasSubstr(words));
}

TEST_P(Sheet, IsTheSameFileEveryTimeAndOnStandardOutput) {
  ASSERT_EQ(sheet(GetParam(), path).exit_status, 0);
  const std::string first = content(path);
  EXPECT_THAT(first, StartsWith("%PDF-1."));
  ASSERT_EQ(sheet(GetParam(), path).exit_status, 0) << "an older file is replaced";
  EXPECT_EQ(content(path), first);
  const ProgramResult streamed = sheet(GetParam(), "-");
  EXPECT_EQ(streamed.exit_status, 0);
  EXPECT_EQ(streamed.output, first);
  EXPECT_EQ(streamed.errors, "");
}

INSTANTIATE_TEST_SUITE_P(Paper, Sheet, ::testing::Values("a4", "letter"),
                         [](const auto& one) { return std::string(one.param); });

using SheetTrouble = Sheet;

TEST_F(SheetTrouble, UnknownPaperIsWrongUsage) {
  const ProgramResult result = sheet("a5", path);
  EXPECT_EQ(result.exit_status, 2);
  EXPECT_EQ(result.output, "");
  EXPECT_THAT(result.errors, HasSubstr("the paper is a4 or letter, not \"a5\""));
  EXPECT_FALSE(fs::exists(path));
}

TEST_F(SheetTrouble, MissingOptionsAreWrongUsage) {
  const std::string program = SCANTLING_EXECUTABLE;
  EXPECT_EQ(run_program({program, "sheet"}).exit_status, 2);
  EXPECT_EQ(run_program({program, "sheet", "--paper", "a4"}).exit_status, 2);
  EXPECT_EQ(run_program({program, "sheet", "--out", path}).exit_status, 2);
  EXPECT_EQ(run_program({program, "sheet", "--paper", "a4", "--out", path, "more"}).exit_status, 2);
  EXPECT_FALSE(fs::exists(path));
}

TEST_F(SheetTrouble, AMissingFolderGetsASentence) {
  const ProgramResult result = sheet("a4", (folder / "none" / "cards.pdf").string());
  EXPECT_EQ(result.exit_status, 2);
  EXPECT_EQ(result.output, "");
  EXPECT_THAT(result.errors, HasSubstr("Cannot write \""));
  EXPECT_THAT(result.errors, HasSubstr("Make its folder first"));
}

TEST_F(SheetTrouble, AFolderIsNoFile) {
  const ProgramResult result = sheet("a4", folder.path().string());
  EXPECT_EQ(result.exit_status, 2);
  EXPECT_THAT(result.errors, HasSubstr("Is a directory"));
}

TEST_F(SheetTrouble, AFullDiskGetsASentence) {
  const ProgramResult result = sheet("a4", "/dev/full");
  EXPECT_EQ(result.exit_status, 2);
  EXPECT_THAT(result.errors, HasSubstr("Make room on the disk"));
}

TEST_F(SheetTrouble, HelpHasAnExample) {
  const ProgramResult result = run_program({SCANTLING_EXECUTABLE, "sheet", "--help"});
  EXPECT_EQ(result.exit_status, 0);
  EXPECT_THAT(result.output, HasSubstr("scantling sheet --paper a4 --out cards.pdf"));
}

}  // namespace
}  // namespace scantling
