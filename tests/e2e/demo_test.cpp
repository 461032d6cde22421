#include <gmock/gmock.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <sstream>

#include "record/record.h"
#include "report/length_unit.h"
#include "report/summary.h"
#include "report/wording.h"
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
    std::vector<std::string> environment{"XDG_STATE_HOME=" + (folder / "state").string(),
                                         "XDG_DATA_HOME=" + (folder / "data").string()};
    environment.push_back("SCANTLING_ASSETS=" +
                          (assets.empty() ? SCANTLING_SOURCE_DIR "/assets" : assets));
    return run_program(words, environment);
  }
};

/// What truth.json says of a part's size; nothing where the photos of it name none.
std::optional<double> truly(const nlohmann::json& truths, const nlohmann::json& part,
                            const std::string& dimension) {
  const std::string side = part.at("side");
  if (part.at("kind") == "pad") {
    const auto& truth =
        truths.at("pad_" + side + "_" + part.at("place").get<std::string>() + ".jpg");
    return truth.at(dimension + "_mm").get<double>();
  }
  const auto& truth = truths.at("rim_" + side + ".jpg");
  if (dimension == "lip_height_out") return truth.at("lip_outboard_mm").get<double>();
  if (dimension == "lip_height_in") return truth.at("lip_inboard_mm").get<double>();
  return truth.at(dimension + "_mm").get<double>();
}

TEST_F(DemoCommand, EverySizeOfTheAxleLiesWithinItsOwnUncertainty) {
  const ProgramResult result = run({"--json", "--out", (folder / "out").string()});
  ASSERT_EQ(result.exit_status, 0) << result.errors;
  const auto json = nlohmann::json::parse(result.output);
  std::ifstream in(SCANTLING_SOURCE_DIR "/assets/demo/truth.json");
  const auto truths = nlohmann::json::parse(in);
  EXPECT_THAT(json.at("made_pictures"), HasSubstr("made pictures"));
  ASSERT_THAT(json.at("parts"), SizeIs(6));
  for (const auto& part : json.at("parts")) {
    const bool disc = part.at("kind") == "disc";
    std::set<std::string> by_edges;
    int judged = 0;
    for (const auto& size : part.at("sizes")) {
      const std::string dimension = size.at("dimension");
      ASSERT_TRUE(size.at("value_mm").is_number()) << part.at("title") << size.dump(1);
      const double error = size.at("value_mm").get<double>() - size.at("true_mm").get<double>();
      EXPECT_LE(std::abs(error), size.at("expanded_95_mm").get<double>())
          << part.at("title") << size.dump(1);
      EXPECT_EQ(size.at("inside_95"), true);
      if (size.at("from") == "edges") by_edges.insert(dimension);
      // A tapered pad is set against the truth at its thinnest place.
      const bool at_a_place = size.at("judged") == true && part.at("size").is_object() &&
                              part.at("size").at("at_mm").is_number();
      if (!at_a_place) {
        EXPECT_EQ(size.at("true_mm"), truly(truths, part, dimension).value());
      }
      // What is judged is never the rim over its lips.
      if (size.at("judged") == true) {
        ++judged;
        EXPECT_EQ(dimension, disc ? "worn_thickness" : "friction_thickness");
      }
    }
    EXPECT_EQ(judged, 1) << part.at("title");
    if (disc) {
      EXPECT_EQ(by_edges, (std::set<std::string>{"rim_thickness", "lip_height_out", "lip_height_in",
                                                 "worn_thickness"}));
      EXPECT_GE(part.at("photos").size(), 5u);
    }
    if (part.at("state") == "keep") {
      EXPECT_GT(part.at("true_mm"), part.at("minimum_mm"));
    }
    if (part.at("size").is_object()) {
      EXPECT_EQ(part.at("size").at("dimension"), disc ? "worn_thickness" : "friction_thickness");
    }
  }
  // The phone is calibrated first, from the demo's own photos, beside the record and nowhere else.
  const auto& lens = json.at("camera_profile");
  ASSERT_TRUE(lens.is_object());
  EXPECT_EQ(lens.at("photos"), 12);
  EXPECT_NEAR(lens.at("focal_px").get<double>(), lens.at("true").at("focal_px").get<double>(),
              1.96 * lens.at("focal_px_standard_deviation").get<double>());
  EXPECT_TRUE(std::filesystem::exists(folder / "out/demo-camera.json"));
  EXPECT_FALSE(std::filesystem::exists(folder / "data"));
  EXPECT_TRUE(std::filesystem::exists(json.at("record").get<std::string>()));
  EXPECT_THAT(run_program({"pdfinfo", json.at("report")}).output, HasSubstr("Pages: "));
  EXPECT_LT(std::filesystem::file_size(json.at("report").get<std::string>()), 3u << 20);
  EXPECT_TRUE(std::filesystem::exists(json.at("report_html").get<std::string>()));
  EXPECT_THAT(json.at("overlays"), SizeIs(14));
  for (const auto& overlay : json.at("overlays"))
    EXPECT_TRUE(std::filesystem::exists(overlay.get<std::string>()));
}

/// All sizes that the record knows, as they are written.
std::string known_sizes(const JobSummary& job, LengthUnit unit) {
  std::string known;
  const auto know = [&](const Quantity& size) { known += in_unit(size_with_95(size), unit) + ";"; };
  for (const PartSummary& part : job.parts) {
    if (part.size) know(part.size->quantity);
    if (part.worn)
      for (const auto& size :
           {part.worn->rim, part.worn->lip_out, part.worn->lip_in, part.worn->worn})
        if (size) know(size->quantity);
    for (const PhotoFinding& finding : part.photos)
      if (finding.newest)
        for (const Dimension& d : finding.newest->measurement.dimensions) know(d.quantity);
  }
  return std::regex_replace(known, std::regex(" "), " ");
}

// The whole report as it is handed over: text, fonts, pages, size, and no figure but the record's.
TEST_F(DemoCommand, ItsReportSaysWhatTheRecordSays) {
  const ProgramResult result = run({"--json", "--out", (folder / "out").string()});
  ASSERT_EQ(result.exit_status, 0) << result.errors;
  const std::string record_file = nlohmann::json::parse(result.output).at("record");
  const Record record(record_file);
  const Job entry = record.jobs().at(0);
  const JobSummary job = summarise_job(record, entry.id).value();
  for (const auto& [unit, paper] :
       {std::pair{LengthUnit::millimetre, "a4"}, std::pair{LengthUnit::inch, "letter"}}) {
    const std::string file = (folder / paper).string() + ".pdf";
    const bool inches = unit == LengthUnit::inch;
    const ProgramResult written = run_program(
        {SCANTLING_EXECUTABLE, "report", std::to_string(entry.id), "--record", record_file,
         "--paper", paper, "--units", inches ? "in" : "mm", "--out", file});
    ASSERT_EQ(written.exit_status, 0) << written.errors;
    EXPECT_LT(std::filesystem::file_size(file), 3u << 20);
    const std::string info = run_program({"pdfinfo", file}).output;
    EXPECT_THAT(info, HasSubstr("Title:           Brake check, The estate, front axle"));
    EXPECT_THAT(info, HasSubstr(inches ? "letter" : "A4"));
    std::smatch pages;
    ASSERT_TRUE(std::regex_search(info, pages, std::regex("Pages: +([0-9]+)")));
    EXPECT_THAT(written.errors, HasSubstr(pages[1].str() + " pages"));
    EXPECT_GE(std::stoi(pages[1]), 7) << "one that decides and one a part at least";
    std::istringstream fonts(run_program({"pdffonts", file}).output);
    int embedded = 0;
    for (std::string line; std::getline(fonts, line);) {
      if (line.find("CID") == std::string::npos && line.find("Type") == std::string::npos) continue;
      if (line.starts_with("name")) continue;
      ++embedded;
      EXPECT_TRUE(std::regex_search(line, std::regex("yes +yes +yes"))) << line;
    }
    EXPECT_GT(embedded, 0);
    const std::string text = std::regex_replace(
        run_program({"pdftotext", "-layout", file, "-"}).output, std::regex("(\\s| )+"), " ");
    for (const PartSummary& part : job.parts)
      EXPECT_THAT(text, HasSubstr(part_title(part.part, entry.axle)));
    EXPECT_THAT(text, HasSubstr("page " + pages[1].str() + " of " + pages[1].str()));
    const std::string known = known_sizes(job, unit);
    const std::regex size("[0-9.]+ ± [0-9.]+ (mm|in)");
    int sizes = 0;
    for (auto i = std::sregex_iterator(text.begin(), text.end(), size); i != std::sregex_iterator();
         ++i, ++sizes)
      EXPECT_THAT(known, HasSubstr(i->str()));
    EXPECT_GE(sizes, 40);
  }
}

TEST_F(DemoCommand, SolvesThePileFromPlanesBesideTheEdges) {
  const ProgramResult result = run({"--json", "--out", (folder / "out").string()});
  ASSERT_EQ(result.exit_status, 0) << result.errors;
  const auto json = nlohmann::json::parse(result.output);
  const auto& pad = json.at("parts").at(0);
  ASSERT_THAT(pad.at("planes"), SizeIs(1));
  double by_edges_95 = 0, by_planes_95 = 0;
  for (const auto& size : pad.at("sizes"))
    if (size.at("dimension") == "overall_thickness")
      (size.at("from") == "planes" ? by_planes_95 : by_edges_95) = size.at("expanded_95_mm");
  EXPECT_GT(by_planes_95, 0);
  EXPECT_GT(by_edges_95, by_planes_95) << "which is what the planes are for";
}

TEST_F(DemoCommand, PrintsATableAndKeepsAnEarlierRun) {
  ProgramResult result = run({});
  ASSERT_EQ(result.exit_status, 0) << result.errors;
  for (const char* wanted :
       {"made pictures", "invented", "known from 12 photos of the ground sheet", "focal length",
        "Camera ", "Front left, inner pad", "true", "error", "inside", "minimum",
        "Front right, disc", "over the lips", "less the outboard lip", "less the inboard lip",
        "worn, inside the lips", "Report ", "Record ", "Overlay ", "scantling --record"})
    EXPECT_THAT(result.output, HasSubstr(wanted));
  // The verdict stands beside the worn thickness alone.
  std::istringstream lines(result.output);
  for (std::string line; std::getline(lines, line);)
    if (line.find("over the lips  ") != std::string::npos) {
      EXPECT_EQ(line.find("22.4"), std::string::npos) << line;
    }
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
