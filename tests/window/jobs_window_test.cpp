// Jobs among many: found by words, handed on as a file, taken in with what differs shown; and what
// the window says when the record cannot be opened.
#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

#include <fstream>

#include "exchange/job_file.h"
#include "record/record.h"
#include "unit/report/sample_report.h"
#include "window/file_drop.h"
#include "window/shots.h"
#include "window/stand_in_dialog.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

json wait_for_screen(const WindowDriver& window, const std::string& screen) {
  return window.wait_for("the screen " + screen,
                         [&](const json& state) { return state.at("screen") == screen; });
}

void choose_in_menu(const WindowDriver& window, const std::string& item) {
  window.click("menu:job");
  window.wait_for_rect("menu:" + item);
  window.click("menu:" + item);
}

TEST(ManyJobs, AreFoundByTheirWords) {
  const TemporaryFolder folder;
  {
    Record record(folder / "record.sqlite");
    for (int car = 0; car < 40; ++car) {
      Vehicle vehicle;
      vehicle.name = "Car " + std::to_string(100 + car);
      vehicle.owner = car == 7 ? "Jóna" : "Ása";
      Job job;
      job.vehicle_id = record.add_vehicle(vehicle);
      job.date = "2026-10-" + std::to_string(10 + car % 20);
      for (int i = 0; i < 5; ++i) record.add_job(job);
    }
  }
  const VirtualDisplay display;
  WindowDriver window(display, folder.path());
  wait_for_screen(window, "job");
  choose_in_menu(window, "close_job");
  wait_for_screen(window, "start");
  window.wait_for("all jobs", [](const json& state) { return state.at("jobs_listed") == 200; });
  window.screenshot(shot("many-jobs"));
  window.fill("field:find_job", "jóna 2026");
  window.wait_for("five jobs", [](const json& state) { return state.at("jobs_listed") == 5; });
  window.screenshot(shot("jobs-found"));
  window.click("row:job:1");
  const json now = wait_for_screen(window, "job");
  EXPECT_EQ(now.at("job").at("vehicle"), "Car 107");
}

struct TakingIn : testing::Test {
  TemporaryFolder home, other;
  StandInDialog dialog;
  VirtualDisplay display;
  fs::path zip = other / "from the workshop.zip";

  /// The same car and day in both records, the owner and the odometer written otherwise.
  void fill_both() const {
    {
      Record record(home / "record.sqlite");
      add_sample_axle(record, home);
    }
    Record theirs(other / "record.sqlite");
    const std::int64_t job = add_sample_axle(theirs, other);
    Job changed = theirs.job(job).value();
    changed.odometer_km = 81300;
    theirs.update_job(changed);
    Vehicle vehicle = theirs.vehicle(changed.vehicle_id).value();
    vehicle.owner = "Þóra";
    theirs.update_vehicle(vehicle);
    export_job(theirs, job, zip);
  }
  std::size_t jobs() const { return Record(home / "record.sqlite").jobs().size(); }
};

TEST_F(TakingIn, ShowsWhatDiffersAndTakesTheChosenOne) {
  fill_both();
  WindowDriver window(display, home.path(), {}, dialog.environment());
  wait_for_screen(window, "job");
  dialog.answer(zip.string() + "\n");
  choose_in_menu(window, "take_in");
  window.wait_for("the conflicts",
                  [](const json& state) { return state.at("import_conflicts") == 3; });
  window.wait_for_rect("button:import_theirs");
  window.screenshot(shot("import-conflicts"));
  EXPECT_EQ(jobs(), 1u) << "nothing is taken in before the choice";
  window.click("button:import_theirs");
  window.wait_for("their job", [](const json& state) {
    return state.at("job").at("odometer_km") == 81300.0 && state.at("undo") == "take the job in";
  });
  EXPECT_EQ(jobs(), 1u) << "mine is hidden in its favour";
  EXPECT_EQ(Record(home / "record.sqlite").vehicles().at(0).owner, "Þóra");
  window.key("ctrl+z");
  window.wait_for("the undo",
                  [](const json& state) { return state.at("redo") == "take the job in"; });
  EXPECT_EQ(jobs(), 1u);
  EXPECT_EQ(Record(home / "record.sqlite").jobs().at(0).odometer_km, 81250.0);
  EXPECT_EQ(Record(home / "record.sqlite").vehicles().at(0).owner, "Ása Þórsdóttir");
}

TEST_F(TakingIn, AFileDroppedIntoAnEmptyRecordComesStraightIn) {
  {
    Record theirs(other / "record.sqlite");
    export_job(theirs, add_sample_axle(theirs, other), zip);
  }
  WindowDriver window(display, home.path(), {}, dialog.environment());
  drop_files(window.display(), {zip});
  const json now = window.wait_for("the job", [](const json& state) {
    return state.at("screen") == "job" && state.at("job").at("vehicle") == "Marrow estate";
  });
  // And out again.
  const fs::path again = home / "again.zip";
  dialog.answer(again.string() + "\n");
  choose_in_menu(window, "hand_on");
  window.wait_for("the file", [&](const json&) { return fs::exists(again); });
  const fs::path table = home / "sizes.csv";
  dialog.answer(table.string() + "\n");
  choose_in_menu(window, "sizes_table");
  window.wait_for("the table", [&](const json&) { return fs::exists(table); });
}

TEST_F(TakingIn, InCapitalsAndAmongPhotosAFileIsTakenInAsWell) {
  {
    Record theirs(other / "record.sqlite");
    export_job(theirs, add_sample_axle(theirs, other), zip);
  }
  const fs::path capitals = other / "FROM THE WORKSHOP.ZIP";
  fs::rename(zip, capitals);
  WindowDriver window(display, home.path(), {}, dialog.environment());
  window.wait_for_rect("button:open_photos");
  drop_files(window.display(), {demo_photo(), demo_photo(1), capitals});
  window.wait_for("the photos to be sorted", [](const json& state) {
    return state.at("screen") == "sorting" && state.at("sorting").at("rows").size() == 2;
  });
  window.wait_for("the job",
                  [](const json& state) { return state.at("undo") == "take the job in"; });
  EXPECT_EQ(jobs(), 1u);
}

TEST_F(TakingIn, AHostileFileIsRefusedInASentence) {
  std::ofstream(zip) << "PK no zip at all";
  WindowDriver window(display, home.path(), {}, dialog.environment());
  drop_files(window.display(), {zip});
  window.wait_for("the refusal", [](const json& state) {
    return state.at("fault").get<std::string>().find("no whole zip file") != std::string::npos;
  });
  EXPECT_EQ(jobs(), 0u);
}

TEST(RecordInTrouble, OfANewerProgramIsToldInTheWindow) {
  const TemporaryFolder folder;
  { Record record(folder / "record.sqlite"); }
  SQLite::Database((folder / "record.sqlite").string(), SQLite::OPEN_READWRITE)
      .exec("PRAGMA user_version = 4711");
  const VirtualDisplay display;
  WindowDriver window(display, folder.path());
  const json told = wait_for_screen(window, "trouble");
  EXPECT_NE(told.at("fault").get<std::string>().find("newer Scantling"), std::string::npos);
  window.screenshot(shot("trouble-newer"));
  // Once it is put right, the same window goes on.
  SQLite::Database((folder / "record.sqlite").string(), SQLite::OPEN_READWRITE)
      .exec("PRAGMA user_version = 3");
  window.key("Return");  // the first button has the keys
  wait_for_screen(window, "start");
}

TEST(RecordInTrouble, DamagedOnesAreSavedAsFarAsTheyCanBeRead) {
  const TemporaryFolder folder;
  const fs::path path = folder / "record.sqlite";
  int page = 0;
  {
    Record record(path);
    for (int i = 0; i < 30; ++i) add_sample_axle(record, folder);
  }
  {
    SQLite::Database raw(path.string());
    page = raw.execAndGet(
                  "SELECT pageno FROM dbstat WHERE name = 'measurement' AND "
                  "pagetype = 'leaf' ORDER BY pageno LIMIT 1 OFFSET 5")
               .getInt();
  }
  {
    std::fstream file(path, std::ios::binary | std::ios::in | std::ios::out);
    file.seekp((page - 1) * 4096L);
    for (int i = 0; i < 4096; ++i) file.put(static_cast<char>(i * 31 + 7));
  }
  const VirtualDisplay display;
  WindowDriver window(display, folder.path());
  const json told = wait_for_screen(window, "trouble");
  EXPECT_NE(told.at("fault").get<std::string>().find("is damaged"), std::string::npos);
  window.screenshot(shot("trouble-damaged"));
  window.click("button:rescue");
  window.wait_for("what was saved", [](const json& state) { return state.at("told") != ""; });
  window.screenshot(shot("trouble-saved"));
  window.click("button:open");
  wait_for_screen(window, "job");
  EXPECT_EQ(Record(folder / "record-saved.sqlite").jobs().size(), 30u);
}

TEST(TwoWindows, OnOneRecordBothWork) {
  const TemporaryFolder first_home, second_home;
  {
    Record record(first_home / "record.sqlite");
    add_sample_axle(record, first_home);
  }
  const VirtualDisplay one, two;
  WindowDriver first(one, first_home.path());
  for (const char* name : {"record.sqlite", "record.sqlite.photos"})
    fs::create_symlink(first_home / name, second_home / name);
  WindowDriver second(two, second_home.path());
  wait_for_screen(first, "job");
  wait_for_screen(second, "job");
  first.fill("field:minimum", "3");
  second.fill("field:reading", "4.9");
  second.click("button:add_reading");
  second.wait_for("the reading",
                  [](const json& state) { return state.at("part").at("readings") == 1; });
  first.wait_for("the minimum",
                 [](const json& state) { return state.at("part").at("minimum_mm") == 3.0; });
  // What the second one wrote, and what it now reads, is the same record's.
  second.wait_for("the other's minimum",
                  [](const json& state) { return state.at("part").at("minimum_mm") == 3.0; });
  EXPECT_EQ(second.state().at("fault"), "");
}

}  // namespace
}  // namespace scantling
