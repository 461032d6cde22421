// The web page says what the printed report says.
#include "report/html_report.h"

#include <fmt/format.h>
#include <gmock/gmock.h>

#include <regex>

#include "report/planes_beside.h"
#include "report/report.h"
#include "report/report_words.h"
#include "report/wording.h"
#include "support/run_program.h"
#include "unit/report/sample_report.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

/// The text that a browser shows, every run of blanks made one.
std::string plain(const std::string& html) {
  std::string text;
  bool in_tag = false;
  for (const char c : html) {
    if (c == '<') in_tag = true;
    if (!in_tag) text += c;
    if (c == '>') in_tag = false, text += ' ';
  }
  for (const auto& [code, sign] :
       {std::pair{"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&amp;", "&"}})
    text = std::regex_replace(text, std::regex(code), sign);
  return std::regex_replace(text, std::regex("(\\s|\u00A0)+"), " ");
}

struct HtmlReport : ::testing::Test {
  TemporaryFolder folder;
  Record record{folder / "record.sqlite"};
  std::int64_t job = add_sample_axle(record, folder);

  JobSummary summary() const { return summarise_job(record, job).value(); }
  std::string page(LengthUnit unit = LengthUnit::millimetre) const {
    std::string html = html_report(record, summary(), unit);
    return plain(html.substr(html.find("<body>")));
  }
};

TEST_F(HtmlReport, SaysWhatThePrintedOneSays) {
  const std::string html = page();
  for (const char* wanted : {"Brake check: Marrow estate",
                             "QX 21 HLW",
                             "Ása Þórsdóttir",
                             "4 parts: 1 replace, 1 gauge it, 1 confirm the edges first, 1 keep.",
                             "Front left, outer pad",
                             "5.02 ± 0.06 mm",
                             "3.02 mm left above it",
                             "By hand: 1.68 mm vernier calliper",
                             "0.32 mm below it",
                             "Minimum 2.0 mm, workshop manual",
                             "What this does not tell",
                             "cracks, heat damage",
                             "never rely on the jack",
                             "found by the program",
                             "nobody yet: confirm it first",
                             "78 corners",
                             "Note: No camera profile for this phone.",
                             "0.024 mm",
                             "print scale",
                             "confirm the edge",
                             "SHA-256",
                             "1,68"})
    EXPECT_THAT(html, HasSubstr(wanted));
  EXPECT_THAT(html, Not(HasSubstr("6.41"))) << "an unconfirmed size is no result";
}

// Every figure of the printed pages stands on the web page, too.
TEST_F(HtmlReport, HasEveryFigureOfThePrintedOne) {
  for (const LengthUnit unit : {LengthUnit::millimetre, LengthUnit::inch}) {
    const std::string file = (folder / "report.pdf").string();
    make_report(record, summary(), kA4, unit).save_pdf(file);
    const std::string printed = std::regex_replace(
        run_program({"pdftotext", "-layout", file, "-"}).output, std::regex("(\\s| )+"), " ");
    const std::string html = page(unit);
    const std::regex figure(unit == LengthUnit::inch ? "[0-9]+\\.[0-9]{3,4} (± [0-9.]+ )?in"
                                                     : "[0-9]+\\.[0-9]+ (± [0-9.]+ )?mm");
    int figures = 0;
    for (auto i = std::sregex_iterator(printed.begin(), printed.end(), figure);
         i != std::sregex_iterator(); ++i, ++figures)
      EXPECT_THAT(html, HasSubstr(i->str()));
    EXPECT_GT(figures, 30);
  }
}

TEST_F(HtmlReport, InInchesNoMillimetresAreLeft) {
  const std::string html = page(LengthUnit::inch);
  EXPECT_THAT(html, HasSubstr("0.198 ± 0.002 in"));
  EXPECT_THAT(html, HasSubstr("measured in mm, 1 in = 25.4 mm"));
  const std::string body =
      std::regex_replace(html, std::regex("1 in = 25.4 mm|px per mm|in mm,"), "");
  std::smatch left;
  EXPECT_FALSE(std::regex_search(body, left, std::regex(".{30}[0-9] mm.{10}"))) << left.str();
}

TEST_F(HtmlReport, WritesMilesAndACommaWhereTheReaderWantsThem) {
  const std::string html = html_report(
      record, summary(), {LengthUnit::millimetre, DistanceUnit::mile, DecimalMark::comma});
  EXPECT_THAT(html, HasSubstr("5,02\u00A0"));
  EXPECT_THAT(html, HasSubstr("50\u00A0486\u00A0miles"));
  EXPECT_THAT(html, Not(HasSubstr("81\u00A0250\u00A0km")));
}

TEST_F(HtmlReport, PlanesCountOnlyWhereTheirPhotosWereSolvedTogether) {
  const Part part = record.parts(job).at(0);
  std::vector<PhotoEntry> photos;
  for (const char* content : {"one", "two"})
    photos.push_back(record.add_photo(part.id, View::pile,
                                      folder.file("pile.png", sample_photo_png() + content)));
  const auto keep = [&](bool together) {
    for (const PhotoEntry& photo : photos) {
      MeasurementEntry entry;
      entry.photo_id = photo.id;
      entry.measurement.view = View::pile;
      entry.options.view = View::pile;
      entry.measurement.dimensions = {sample_dimension("overall_thickness", 10.77, 0.02)};
      if (together)
        for (const PhotoEntry& other : photos)
          if (other.id != photo.id) entry.read_with.push_back(other.sha256);
      record.add_measurement(entry);
    }
  };
  keep(false);
  EXPECT_THAT(page(), HasSubstr("have not been solved together yet"));
  EXPECT_THAT(page(), Not(HasSubstr("10.77")));
  keep(true);
  EXPECT_THAT(page(), Not(HasSubstr("have not been solved together yet")));
  EXPECT_THAT(page(), HasSubstr("10.77 ± 0.04 mm"));
}

TEST_F(HtmlReport, WhatUsersWroteIsTextAndNothingElse) {
  Vehicle vehicle = record.vehicle(record.job(job)->vehicle_id).value();
  vehicle.name = "<img src=x onerror=\"alert('5 mm')\">";
  record.update_vehicle(vehicle);
  const std::string html = html_report(record, summary());
  EXPECT_THAT(html, Not(HasSubstr("<img src=x")));
  EXPECT_THAT(html, HasSubstr("&lt;img src=x"));
  for (const char* foreign : {"<script", "http://", "https://", "<link", "url(http"})
    EXPECT_THAT(html, Not(HasSubstr(foreign)));
}

}  // namespace
}  // namespace scantling
