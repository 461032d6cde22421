#include "report/report.h"

#include <gmock/gmock.h>

#include <fstream>
#include <regex>

#include "report/wording.h"
#include "support/rendered_pdf.h"
#include "support/temporary_folder.h"
#include "unit/report/sample_report.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

struct ReportTest : ::testing::Test {
  TemporaryFolder folder;
  Record record{folder / "record.sqlite"};
  std::int64_t job = add_sample_axle(record, folder);
  std::string file = (folder / "report.pdf").string();

  void write(PageSize paper = kA4, LengthUnit unit = LengthUnit::millimetre) {
    make_report(record, summarise_job(record, job).value(), paper, unit).save_pdf(file);
  }
  /// The text of some pages with every run of blanks made one.
  std::string text(int first, int last) const {
    return joined(run_program({"pdftotext", "-layout", "-f", std::to_string(first), "-l",
                               std::to_string(last), file, "-"})
                      .output);
  }
  /// The same as one reads it, one column after the other, so that sentences stay whole.
  std::string sentences(int first, int last) const {
    return joined(run_program({"pdftotext", "-f", std::to_string(first), "-l", std::to_string(last),
                               file, "-"})
                      .output);
  }
  static std::string joined(const std::string& raw) {
    return std::regex_replace(raw, std::regex("(\\s|\u00A0)+"), " ");
  }
  std::string info(const std::string& field) const {
    const std::string all = run_program({"pdfinfo", file}).output;
    std::smatch found;
    return std::regex_search(all, found, std::regex(field + ": +([^\n]*)")) ? found[1].str() : "";
  }
};

TEST_F(ReportTest, TheFirstPageDecides) {
  write();
  const std::string page = text(1, 1);
  for (const char* wanted :
       {"Marrow estate", "QX 21 HLW", "Ása Þórsdóttir", "21 November 2026", "front axle, 81 250 km",
        "4 parts: 1 replace, 1 gauge it, 1 confirm the edges first, 1 keep.",
        "Front left, outer pad", "5.02 ± 0.06 mm", "3.02 mm left above it", "2.04 ± 0.06 mm",
        "no size", "1.73 ± 0.06 mm", "By hand: 1.68 mm vernier calliper", "0.32 mm below it",
        "Minimum 2.0 mm, workshop manual", "all pads of the front axle, left and right",
        "cracks, heat damage", "29 CFR 1910.1001 appendix F"})
    EXPECT_THAT(page, HasSubstr(wanted));
  EXPECT_THAT(sentences(1, 1), HasSubstr("chock it and set it on stands: never rely on the jack."));
  EXPECT_THAT(page, Not(HasSubstr("6.41"))) << "an unconfirmed size is no result";
}

TEST_F(ReportTest, EachPartHasAPageWithItsEvidence) {
  write();
  EXPECT_EQ(info("Pages"), "5");
  const std::string page = text(2, 2);
  for (const char* wanted :
       {"Front left, outer pad", "keep", "photo.png", "backing plate", "5.40 ± 0.04 mm",
        "found by the program", "print scale", "0.018 mm", "friction face: chamfer and texture",
        "0.024 mm", "78 corners", "No camera profile for this phone.", "page 2 of 5"})
    EXPECT_THAT(page, HasSubstr(wanted));
  EXPECT_LT(page.find("0.024 mm"), page.find("0.018 mm")) << "the largest source comes first";
  EXPECT_THAT(text(4, 4), HasSubstr("nobody yet: confirm it first"));
  EXPECT_THAT(text(4, 4), Not(HasSubstr("6.41"))) << "an unconfirmed size is no result";
  EXPECT_THAT(text(5, 5), HasSubstr("1,68"));
}

TEST_F(ReportTest, NumbersAreTheRecords) {
  write();
  const JobSummary summary = summarise_job(record, job).value();
  const std::string all = text(1, 5);
  for (const PartSummary& part : summary.parts)
    for (const PhotoFinding& finding : part.photos)
      for (const Dimension& d : finding.newest->measurement.dimensions) {
        if (!finding.edges_to_confirm.empty()) continue;
        char number[64];
        std::snprintf(number, sizeof number, "%.2f ± %.2f mm", d.quantity.value_mm,
                      d.quantity.expanded_95_mm());
        EXPECT_THAT(all, HasSubstr(number));
      }
}

// The other way round: no size stands in the report that is not one of the record's.
TEST_F(ReportTest, EverySizeOnItsPagesIsOneOfTheRecords) {
  const JobSummary summary = summarise_job(record, job).value();
  for (const LengthUnit unit : {LengthUnit::millimetre, LengthUnit::inch}) {
    write(kA4, unit);
    std::string known;
    const auto know = [&](const Quantity& size) {
      known += in_unit(size_with_95(size), unit) + ";";
    };
    for (const PartSummary& part : summary.parts) {
      if (part.size) know(part.size->quantity);
      for (const PhotoFinding& finding : part.photos)
        for (const Dimension& d : finding.newest->measurement.dimensions) know(d.quantity);
      for (const HandReadingEntry& r : part.readings)
        know({r.value_mm, r.standard_uncertainty_mm, kUnlimitedDegreesOfFreedom, {}});
    }
    known = joined(known);
    const std::string all = text(1, 5);
    const std::regex size("[0-9.]+ ± [0-9.]+ (mm|in)");
    int sizes = 0;
    for (auto i = std::sregex_iterator(all.begin(), all.end(), size); i != std::sregex_iterator();
         ++i, ++sizes)
      EXPECT_THAT(known, HasSubstr(i->str()));
    EXPECT_GE(sizes, 10);
  }
}

TEST_F(ReportTest, InInchesNoLengthIsLeftInMillimetres) {
  write(kLetter, LengthUnit::inch);
  EXPECT_EQ(info("Pages"), "5");
  const std::string all =
      std::regex_replace(text(1, 5), std::regex("1 in = 25.4 mm|px per mm|measured in mm"), "");
  std::smatch left;
  EXPECT_FALSE(std::regex_search(all, left, std::regex(".{20}[0-9] mm.{10}"))) << left.str();
  EXPECT_THAT(all, HasSubstr("0.198 ± 0.002 in"));
  EXPECT_THAT(all, HasSubstr("minimum 0.079 in"));
}

TEST_F(ReportTest, SaysWhoConfirmedWhichEdge) {
  const Part part = record.parts(job).at(0);
  const PhotoEntry photo = record.photos(part.id).at(0);
  record.set_confirmations(photo.id, {{photo.id, "friction_outer", "Ása", "2026-11-21T11:05:00Z"}});
  write();
  EXPECT_THAT(text(2, 2), HasSubstr("Ása, 21 November 2026, 11:05 UTC"));
}

TEST_F(ReportTest, FontsAreEmbeddedAndTheFileIsSmall) {
  write();
  const std::string fonts = run_program({"pdffonts", file}).output;
  std::istringstream lines(fonts);
  std::string line;
  int count = 0;
  while (std::getline(lines, line)) {
    if (line.find("yes") == std::string::npos && line.find("no ") == std::string::npos) continue;
    ++count;
    EXPECT_TRUE(std::regex_search(line, std::regex("yes +yes +yes"))) << line;
  }
  EXPECT_GT(count, 0);
  EXPECT_LT(std::filesystem::file_size(file), 3u << 20);
  EXPECT_THAT(info("Title"), HasSubstr("Marrow estate"));
  EXPECT_EQ(info("Author"), "Ása Þórsdóttir");
}

TEST_F(ReportTest, KnowsBothPapersAndFillsNoPageOver) {
  write(kLetter);
  EXPECT_THAT(info("Page size"), HasSubstr("612 x 792"));
  EXPECT_EQ(info("Pages"), "5");
  const cv::Mat page = rendered_pdf(file, 1, 50);
  // Nothing is drawn in the margins.
  EXPECT_EQ(cv::countNonZero(page.col(10) != 255), 0);
  EXPECT_EQ(cv::countNonZero(page.col(page.cols - 10) != 255), 0);
  EXPECT_EQ(cv::countNonZero(page.row(page.rows - 8) != 255), 0);
}

TEST_F(ReportTest, AMissingPhotoIsToldAndTheRestStays) {
  const PhotoEntry photo = record.photos(record.parts(job).at(0).id).at(0);
  std::filesystem::remove(record.photo_path(photo));
  write();
  const std::string page = text(2, 2);
  EXPECT_THAT(page, HasSubstr("cannot be shown"));
  EXPECT_THAT(page, HasSubstr("5.02 ± 0.06 mm"));
}

TEST_F(ReportTest, AnEmptyJobHasOnePage) {
  Job empty = record.job(job).value();
  job = record.add_job(empty);
  write();
  EXPECT_EQ(info("Pages"), "1");
  EXPECT_THAT(text(1, 1), HasSubstr("No parts in this job yet."));
}

}  // namespace
}  // namespace scantling
