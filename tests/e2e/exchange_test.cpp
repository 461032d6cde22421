// Closing, handing on and taking in, and readings by hand, through the executable.
#include <gmock/gmock.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "record/record.h"
#include "support/run_program.h"
#include "support/temporary_folder.h"
#include "unit/report/sample_report.h"

namespace scantling {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

struct ExchangeCommands : ::testing::Test {
  TemporaryFolder folder;
  std::string mine = (folder / "mine.sqlite").string();
  std::string theirs = (folder / "theirs.sqlite").string();
  std::string zip = (folder / "job.zip").string();

  ProgramResult run(std::vector<std::string> words) const {
    words.insert(words.begin(), SCANTLING_EXECUTABLE);
    return run_program(words, {"XDG_DATA_HOME=" + (folder / "data").string()});
  }
  void fill() const {
    Record record(mine);
    add_sample_axle(record, folder);
  }
};

TEST_F(ExchangeCommands, ClosesPrintsTheRefitListAndHandsOn) {
  fill();
  const auto work = folder.file("done.json", R"({"date": "2026-11-22", "odometer_km": 81260,
    "parts": [{"kind": "pad", "side": "right", "place": "inner", "new_size_mm": 11.5, "minimum_mm": 2}],
    "fasteners": [{"name": "bracket bolts", "count": 4, "renewed": true,
                   "tightening": "74 lbf ft, then 90 deg"}],
    "fluid_looked_at": true, "fluid": "clear", "bedding_in_km": 300, "next_check_km": 91000})");
  const ProgramResult closed = run({"close", "1", "--work", work.string(), "--record", mine});
  EXPECT_EQ(closed.exit_status, 0) << closed.errors;
  const ProgramResult refit = run({"refit", "1", "--record", mine});
  EXPECT_THAT(refit.output, HasSubstr("1: 74 lbf ft (100.3 N m); 2: 90 degrees further"));
  EXPECT_THAT(refit.output, HasSubstr("right inner pad, new 11.50 mm"));

  ASSERT_EQ(run({"export", "1", "--out", zip, "--record", mine}).exit_status, 0);
  const ProgramResult first = run({"import", zip, "--record", theirs, "--json"});
  EXPECT_EQ(first.exit_status, 0) << first.errors;
  EXPECT_EQ(json::parse(first.output).at("job"), 1);
  const ProgramResult again = run({"import", zip, "--record", theirs, "--json"});
  EXPECT_EQ(again.exit_status, 3);
  EXPECT_THAT(json::parse(again.output).at("conflicts"), SizeIs(1));
  EXPECT_THAT(again.errors, HasSubstr("mine, theirs or both"));
  EXPECT_EQ(run({"import", zip, "--record", theirs, "--on-conflict", "both"}).exit_status, 0);
  const json jobs = json::parse(run({"jobs", "--json", "--record", theirs}).output);
  ASSERT_THAT(jobs.at("jobs"), SizeIs(2));
  EXPECT_EQ(jobs.at("jobs")[0].at("closed"), true);
  EXPECT_EQ(jobs.at("jobs")[0].at("next_check_km"), 91000);
  const std::string csv = run({"jobs", "--csv", "--record", theirs}).output;
  EXPECT_EQ(std::count(csv.begin(), csv.end(), '\n'), 1 + 2 * 9);
}

TEST_F(ExchangeCommands, GivesAFormToFillInAndStartsTheNextJob) {
  fill();
  const ProgramResult form = run({"close", "1", "--form", "--record", mine});
  EXPECT_EQ(form.exit_status, 0) << form.errors;
  json work = json::parse(form.output);
  EXPECT_EQ(work.at("odometer_km"), 81250);
  EXPECT_THAT(work.at("parts"), SizeIs(4));
  work.at("parts")[0]["minimum_mm"] = 3;
  const auto file = folder.file("done.json", work.dump());
  EXPECT_EQ(run({"close", "1", "--work", file.string(), "--record", mine}).exit_status, 0);
  EXPECT_EQ(run({"close", "1", "--record", mine}).exit_status, 2);
  const ProgramResult next =
      run({"next", "1", "--date", "2027-11-25", "--odometer", "95100", "--record", mine});
  EXPECT_EQ(next.exit_status, 0) << next.errors;
  const json jobs = json::parse(run({"jobs", "--json", "--record", mine}).output).at("jobs");
  ASSERT_THAT(jobs, SizeIs(2));
  EXPECT_EQ(jobs[0].at("odometer_km"), 95100);
  Record record(mine);
  EXPECT_EQ(record.parts(2).at(0).minimum_mm, 3.0) << "the new part's";
  const ProgramResult backwards =
      run({"next", "1", "--date", "2027-11-25", "--odometer", "10", "--record", mine});
  EXPECT_EQ(backwards.exit_status, 3);
  EXPECT_THAT(backwards.errors, HasSubstr("runs backwards"));
}

TEST_F(ExchangeCommands, FindsJobsByTheirWords) {
  fill();
  EXPECT_THAT(run({"jobs", "--find", "marrow front", "--record", mine}).output,
              HasSubstr("Marrow estate"));
  const ProgramResult none = run({"jobs", "--find", "marrow rear", "--record", mine});
  EXPECT_THAT(none.output, IsEmpty());
  EXPECT_THAT(none.errors, HasSubstr("No job with all of these words"));
}

TEST_F(ExchangeCommands, SavesWhatCanBeReadOfADamagedRecord) {
  {
    Record record(mine);
    for (int i = 0; i < 10; ++i) add_sample_axle(record, folder);
  }
  const auto size = std::filesystem::file_size(mine);
  {
    // The last pages hold what was added last.
    std::fstream file(mine, std::ios::binary | std::ios::in | std::ios::out);
    file.seekp(static_cast<std::streamoff>(size - 3 * 4096));
    for (int i = 0; i < 4096; ++i) file.put(static_cast<char>(i * 31 + 7));
  }
  const ProgramResult damaged = run({"jobs", "--record", mine});
  EXPECT_EQ(damaged.exit_status, 3);
  EXPECT_THAT(damaged.errors, HasSubstr("scantling rescue"));
  const std::string saved = (folder / "saved.sqlite").string();
  const ProgramResult rescue = run({"rescue", mine, "--out", saved});
  EXPECT_EQ(rescue.exit_status, 0) << rescue.errors;
  EXPECT_THAT(rescue.output, HasSubstr("Saved: 10 cars, 10 jobs"));
  EXPECT_THAT(json::parse(run({"jobs", "--json", "--record", saved}).output).at("jobs"),
              SizeIs(10));
  EXPECT_EQ(run({"rescue", mine, "--out", saved}).exit_status, 3) << "nothing is written over";
}

TEST_F(ExchangeCommands, RefusesWhatIsNoJobAndSaysSoInJson) {
  const auto file = folder.file("evil.zip", "PK\x03\x04 nothing");
  const ProgramResult result = run({"import", file.string(), "--record", theirs, "--json"});
  EXPECT_EQ(result.exit_status, 3);
  EXPECT_EQ(json::parse(result.output).at("checks")[0].at("id"), "file_unusable");
  EXPECT_FALSE(std::filesystem::exists(theirs)) << "no record is made for a bad file";
  fill();
  EXPECT_EQ(run({"export", "99", "--out", zip, "--record", mine}).exit_status, 3);
  EXPECT_EQ(run({"close", "1", "--work", "nowhere.json", "--record", mine}).exit_status, 3);
  const auto bad = folder.file("bad.json", R"({"date": "soon"})");
  const ProgramResult refused = run({"close", "1", "--work", bad.string(), "--record", mine});
  EXPECT_EQ(refused.exit_status, 3);
  EXPECT_THAT(refused.errors, HasSubstr("is not a date"));
}

TEST_F(ExchangeCommands, WritesTheReportAsHtml) {
  fill();
  const std::string out = (folder / "report.html").string();
  EXPECT_EQ(run({"report", "1", "--out", out, "--record", mine}).exit_status, 0);
  const std::string html = run_program({"cat", out}).output;
  EXPECT_THAT(html, HasSubstr("data:image/jpeg;base64,"));
  EXPECT_THAT(html, HasSubstr("QX 21 HLW"));
  Record record(mine);
  EXPECT_THAT(record.verdicts(record.parts(1).at(0).id), SizeIs(1)) << "the verdict is on record";
}

TEST_F(ExchangeCommands, ShowsHowPhotosAgreeWithReadings) {
  fill();
  const ProgramResult result = run({"agreement", "--json", "--record", mine});
  EXPECT_EQ(result.exit_status, 0);
  const json entry = json::parse(result.output).at("agreements").at(0);
  EXPECT_NEAR(entry.at("bias_mm").get<double>(), 0.05, 1e-9);
  EXPECT_EQ(entry.at("corrects"), false);
  EXPECT_THAT(run({"agreement", "--record", mine}).output, HasSubstr("not corrected"));
}

TEST_F(ExchangeCommands, GaugesReadingsAsTyped) {
  const ProgramResult result =
      run({"gauge", "--instrument", "micrometer", "--zero", "0,02", "--minimum", "22", "12=22,41",
           "3=22.38 mm", "6=.881 in", "9=22.40", "--json"});
  EXPECT_EQ(result.exit_status, 0);
  const json said = json::parse(result.output);
  EXPECT_NEAR(said.at("smallest_mm").get<double>(), 22.3574, 1e-9);
  EXPECT_EQ(said.at("smallest_at_clock"), 6);
  EXPECT_NEAR(said.at("thickness_variation_mm").get<double>(), 0.0326, 1e-9);
  EXPECT_EQ(said.at("state"), "keep");
  EXPECT_EQ(said.at("readings")[2].at("as_typed"), "6=.881 in");
  // Bare figures beside readings in inches are inches too: .881 less .001 is above .879.
  const json inches = json::parse(run({"gauge", "--instrument", "micrometer", "--zero", ".001",
                                       "--minimum", ".879", ".881 in", ".882 in", "--json"})
                                      .output);
  EXPECT_NEAR(inches.at("smallest_mm").get<double>(), 0.880 * 25.4, 1e-9);
  EXPECT_EQ(inches.at("state"), "keep");
  const ProgramResult mixed =
      run({"gauge", "--instrument", "micrometer", "--zero", ".001", ".881 in", "22.38 mm"});
  EXPECT_EQ(mixed.exit_status, 3);
  EXPECT_THAT(mixed.errors, HasSubstr("several units"));
  const ProgramResult bad = run({"gauge", "--instrument", "micrometer", "thick", "--json"});
  EXPECT_EQ(bad.exit_status, 3);
  EXPECT_THAT(bad.errors, HasSubstr("write one number and its unit"));
  EXPECT_EQ(run({"gauge", "--instrument", "micrometer", "13=22.4"}).exit_status, 2);
  EXPECT_EQ(run({"gauge", "--instrument", "eye", "22.4"}).exit_status, 3);
}

TEST_F(ExchangeCommands, ForecastsInMiles) {
  const ProgramResult km = run({"forecast", "--minimum", "22", "0:26.2:0.01", "80000:23.1:0.01"});
  EXPECT_THAT(km.output, HasSubstr("Wear 0.039 mm per 1000 km"));
  const ProgramResult miles =
      run({"forecast", "--miles", "--minimum", "22", "0:26.2:0.01", "49709.7:23.1:0.01"});
  EXPECT_THAT(miles.output, HasSubstr("Wear 0.062 mm per 1000 miles"));
}

}  // namespace
}  // namespace scantling
