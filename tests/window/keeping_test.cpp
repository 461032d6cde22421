// Nothing that was typed, dropped or entered is lost or lands elsewhere: not while photos come in,
// not by quitting in the middle of it, not by a sudden end.
#include <SQLiteCpp/SQLiteCpp.h>
#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>

#include "record/record.h"
#include "support/temporary_folder.h"
#include "window/file_drop.h"
#include "window/shots.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::SizeIs;

/// Holds the record, as another program may for a moment: what comes in waits meanwhile, up to five
/// seconds.
class HeldRecord {
 public:
  explicit HeldRecord(const fs::path& record) : database_(record.string(), SQLite::OPEN_READWRITE) {
    database_.exec("PRAGMA busy_timeout = 5000; BEGIN IMMEDIATE");
  }
  ~HeldRecord() { database_.exec("ROLLBACK"); }
  HeldRecord(const HeldRecord&) = delete;
  HeldRecord& operator=(const HeldRecord&) = delete;

 private:
  SQLite::Database database_;
};

std::vector<PhotoEntry> all_photos(const Record& record) {
  std::vector<PhotoEntry> all;
  for (const Job& job : record.jobs())
    for (const Part& part : record.parts(job.id))
      for (const PhotoEntry& photo : record.photos(part.id)) all.push_back(photo);
  return all;
}

std::size_t measured(const Record& record) {
  std::size_t count = 0;
  for (const PhotoEntry& photo : all_photos(record))
    count += record.newest_measurement(photo.id).has_value();
  return count;
}

/// As after a sudden end: photos that nobody has measured yet, `each` of every pad. The record
/// takes a photo once only, so each has a byte of its own at the end.
void start_job_with_pads(const fs::path& path, std::size_t each) {
  const TemporaryFolder copies;
  Record record(path);
  Job job;
  job.vehicle_id = record.add_vehicle({0, "Blue estate", "", "", ""});
  job.date = "2026-05-16";
  const std::int64_t id = record.add_job(job);
  std::size_t which = 0;
  for (const Side side : {Side::left, Side::right})
    for (const PadPlace place : {PadPlace::inner, PadPlace::outer}) {
      const std::int64_t part = record.add_part({0, id, PartKind::pad, side, place, {}, ""});
      for (std::size_t i = 0; i < each; ++i) {
        const fs::path copy = copies / (std::to_string(which) + " " + std::to_string(i) + ".jpg");
        fs::copy_file(demo_photo((which + i) % 4), copy);
        std::ofstream(copy, std::ios::binary | std::ios::app) << static_cast<char>(i);
        record.add_photo(part, View::pad, copy);
      }
      ++which;
    }
}

bool idle(const json& state) {
  return state.at("busy") == false && state.at("sorting").at("to_measure") == 0 &&
         state.at("sorting").at("filing") == false;
}

/// Each photo has the driver's whole patience.
void wait_until_idle(const WindowDriver& window) {
  for (;;) {
    const json before = window.state();
    if (idle(before)) return;
    window.wait_for("another photo measured", [&](const json& state) {
      return idle(state) || state.at("sorting") != before.at("sorting") ||
             state.at("photo") != before.at("photo");
    });
  }
}

struct Keeping : testing::Test {
  TemporaryFolder folder;
  VirtualDisplay display;
  fs::path path = folder / "record.sqlite";

  fs::path photo(const std::string& name, std::size_t which, std::uintmax_t bytes = 0) {
    const fs::path file = folder / name;
    fs::copy_file(demo_photo(which), file);
    if (bytes > 0) fs::resize_file(file, bytes);
    return file;
  }
};

TEST_F(Keeping, AFigureTypedWhileAPhotoComesInGoesToItsOwnPart) {
  WindowDriver window(display, folder.path(), {demo_photo().string()});
  window.wait_until_measured();
  const fs::path coming = photo("coming.jpg", 1, 100 << 20);
  {
    const HeldRecord held(path);
    drop_files(window.display(), {coming});
    window.click_until("pad:right_outer",
                       [](const json& state) { return state.at("part").at("side") == "right"; });
    window.click_until("field:minimum",
                       [&](const json&) { return window.text("typing_into") == "field:minimum"; });
    window.type("2.5");
    window.wait_for("the figure",
                    [&](const json&) { return window.text("field:minimum") == "2.5"; });
  }
  const json now = window.wait_for("the photo", [](const json& state) {
    return state.at("notice").get<std::string>().find("coming.jpg added") != std::string::npos;
  });
  window.screenshot(shot("keeping-typing"));
  EXPECT_EQ(now["part"]["side"], "right");
  EXPECT_EQ(window.text("typing_into"), "field:minimum");
  window.key("Return");
  window.wait_for("the minimum",
                  [](const json& state) { return state.at("part").at("minimum_mm") == 2.5; });
  const Record record(path);
  for (const Part& part : record.parts(record.jobs().at(0).id)) {
    EXPECT_EQ(part.minimum_mm, part.side == Side::right ? std::optional(2.5) : std::nullopt);
    EXPECT_THAT(record.photos(part.id), SizeIs(part.side == Side::right ? 0 : 2));
  }
}

TEST_F(Keeping, APhotoThatComesInWhileItsPartIsTypedAboutIsShownAfterwards) {
  WindowDriver window(display, folder.path(), {demo_photo().string()});
  window.wait_until_measured();
  drop_files(window.display(), {photo("second.jpg", 1, 50 << 20)});
  window.click_until("field:minimum",
                     [&](const json&) { return window.text("typing_into") == "field:minimum"; });
  window.type("2");
  window.wait_for("both photos",
                  [](const json& state) { return state.at("part").at("photos") == 2; });
  window.key("Return");
  window.wait_for("the second photo with the minimum", [](const json& state) {
    return state.at("photo").at("name") == "second.jpg" && state.at("part").at("minimum_mm") == 2.0;
  });
}

TEST_F(Keeping, AFigureBeingTypedWhenAnotherPageComesUpIsTaken) {
  WindowDriver window(display, folder.path(), {demo_photo().string()});
  window.wait_until_measured();
  window.click_until("field:minimum",
                     [&](const json&) { return window.text("typing_into") == "field:minimum"; });
  window.type("2.5");
  window.wait_for("the figure", [&](const json&) { return window.text("field:minimum") == "2.5"; });
  drop_files(window.display(), {demo_photo(1), demo_photo(2)});
  window.wait_for("the sorting page with the minimum taken", [](const json& state) {
    return state.at("screen") == "sorting" && state.at("part").at("minimum_mm") == 2.5;
  });
}

TEST_F(Keeping, APhotoOpensWhileTheDemoIsMeasured) {
  WindowDriver window(display, folder.path());
  window.click("button:demo");
  window.wait_for("the measuring", [](const json& state) { return state.at("busy") == true; });
  drop_files(window.display(), {demo_photo()});
  const json now = window.wait_for("the photo", [](const json& state) {
    return state.at("photo").at("shown") == true && state.at("photo").at("analysed") == true;
  });
  EXPECT_EQ(now["job"]["vehicle"], "Unsorted photos") << "the demo's job comes later";
}

TEST_F(Keeping, QuittingWaitsForPhotosThatAreStillBeingCopied) {
  {
    WindowDriver window(display, folder.path(), {demo_photo().string()});
    window.wait_until_measured();
    const fs::path large = photo("large.jpg", 1, 100 << 20), next = photo("next.jpg", 2);
    {
      const HeldRecord held(path);
      drop_files(window.display(), {large});
      drop_files(window.display(), {next});
      window.key("ctrl+q");
      window.wait_for("the sentence", [&](const json&) {
        return window.text("finishing").find("still being copied") != std::string::npos;
      });
      window.screenshot(shot("keeping-finishing"));
    }
    EXPECT_EQ(window.quit(), 0);
  }
  const Record record(path);
  const std::vector<PhotoEntry> photos = all_photos(record);
  EXPECT_THAT(photos, SizeIs(3));
  for (const PhotoEntry& photo : photos) EXPECT_TRUE(record.photo_intact(photo));
}

TEST_F(Keeping, QuittingWaitsForAHeapThatIsBeingFiled) {
  {
    WindowDriver window(display, folder.path());
    window.wait_for_rect("button:open_photos");
    drop_files(window.display(), {photo("a.jpg", 0), photo("b.jpg", 1)});
    window.wait_for("the sorted heap", [](const json& state) {
      return state.at("sorting").at("seen") == 2 && state.at("busy") == false;
    });
    {
      const HeldRecord held(path);
      window.key("Return");
      window.wait_for("the filing",
                      [](const json& state) { return state.at("sorting").at("filing") == true; });
      window.key("ctrl+q");
      window.wait_for("the sentence", [&](const json&) {
        return window.text("finishing") == "2 photos are being filed.";
      });
    }
    EXPECT_EQ(window.quit(), 0);
  }
  EXPECT_THAT(all_photos(Record(path)), SizeIs(2));
}

TEST_F(Keeping, AllPhotosOfTheOpenJobAreMeasured) {
  start_job_with_pads(path, 1);
  WindowDriver window(display, folder.path());
  wait_until_idle(window);
  EXPECT_EQ(measured(Record(path)), 4u);
}

// So many photos that no machine is done with them before the button is pressed.
TEST_F(Keeping, MeasuringIsStoppedAndGoesOn) {
  constexpr std::size_t kEach = 20;
  start_job_with_pads(path, kEach);
  WindowDriver window(display, folder.path());
  window.click_until("button:measuring_stop", [](const json& state) {
    return state.at("sorting").at("not_measured") > 0 && idle(state);
  });
  const std::size_t left = window.state()["sorting"]["not_measured"];
  window.key("m");
  window.wait_for_rect("button:map_go_on");
  window.screenshot(shot("keeping-stopped"));
  EXPECT_EQ(window.state()["sorting"]["not_measured"], left) << "it must not go on by itself";
  EXPECT_LE(measured(Record(path)), 4 * kEach - left);
  window.click_until("button:map_go_on", [](const json& state) {
    return state.at("sorting").at("not_measured") == 0 && state.at("busy") == true;
  });
  window.wait_for("more photos measured",
                  [&](const json&) { return measured(Record(path)) > 4 * kEach - left; });
}

TEST_F(Keeping, APrintScaleEnteredJustBeforeASuddenEndIsNotLost) {
  start_job_with_pads(path, 1);
  {
    WindowDriver window(display, folder.path());
    wait_until_idle(window);
    window.scroll_to("fold:sheet", "entries");
    window.click("fold:sheet");
    window.scroll_to("field:sheet_name", "entries");
    window.fill("field:bar_x_printed", "160");
    window.fill("field:bar_x_measured", "163.2");
    window.fill("field:bar_y_printed", "240");
    window.fill("field:bar_y_measured", "244.8");
    window.click("button:use_bars");
    window.wait_for("the entry",
                    [](const json& state) { return state.at("undo") == "set the print scale"; });
    window.kill_now();
  }
  WindowDriver window(display, folder.path());
  wait_until_idle(window);
  const Record record(path);
  for (const PhotoEntry& photo : all_photos(record))
    EXPECT_NEAR(record.newest_measurement(photo.id)->options.sheet_scale.x, 1.02, 1e-9);
}

TEST_F(Keeping, ASettingIsKeptAtOnce) {
  {
    WindowDriver window(display, folder.path(), {demo_photo().string()});
    window.wait_until_measured();
    window.click("menu:view");
    window.click_until("menu:theme", [](const json& state) { return state.at("light") == true; });
    window.kill_now();
  }
  WindowDriver window(display, folder.path());
  window.wait_until_measured();
  EXPECT_EQ(window.state()["light"], true);
}

}  // namespace
}  // namespace scantling
