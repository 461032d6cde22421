// A heap of photos in the real window: dropped, looked at, put right by keys, filed, measured.
#include <gmock/gmock.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <optional>

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

const fs::path kDemo = fs::path(SCANTLING_SOURCE_DIR) / "assets/demo";

std::vector<fs::path> demo_photos(const std::vector<std::string>& names) {
  std::vector<fs::path> files;
  for (const std::string& name : names) files.push_back(kDemo / (name + ".jpg"));
  return files;
}

/// Four pads, and both discs with rim and lips as far as twelve photos go.
std::vector<fs::path> twelve_photos() {
  return demo_photos({"pad_left_inner", "pad_left_outer", "pad_right_inner", "pad_right_outer",
                      "rim_left", "lip_left_outboard_1", "lip_left_outboard_2",
                      "lip_left_inboard_1", "lip_left_inboard_2", "rim_right",
                      "lip_right_outboard_1", "lip_right_outboard_2"});
}

bool sorted(const json& state, std::size_t rows) {
  return state.at("screen") == "sorting" && state.at("sorting").at("rows").size() == rows &&
         state.at("sorting").at("seen") == rows && state.at("busy") == false;
}

json row_of(const json& state, const std::string& photo) {
  for (const json& row : state.at("sorting").at("rows"))
    if (row.at("photo") == photo) return row;
  return {};
}

bool all_measured(const json& state) {
  return state.at("screen") == "job" && state.at("busy") == false &&
         state.at("sorting").at("filing") == false && state.at("sorting").at("to_measure") == 0;
}

/// A heap takes a loaded machine its time: each photo has the driver's whole patience.
json wait_until_sorted(const WindowDriver& window, std::size_t rows) {
  for (std::size_t seen = 1; seen <= rows; ++seen)
    window.wait_for("another photo looked at", [&](const json& state) {
      return state.at("sorting").at("rows").size() == rows &&
             state.at("sorting").at("seen") >= seen;
    });
  return window.wait_for("the sorted heap", [&](const json& state) { return sorted(state, rows); });
}

json wait_until_all_measured(const WindowDriver& window) {
  window.wait_for("the filing", [](const json& state) {
    return state.at("screen") == "job" && state.at("sorting").at("filing") == false;
  });
  for (;;) {
    const json before = window.state();
    if (all_measured(before)) return before;
    window.wait_for("another photo measured", [&](const json& state) {
      return all_measured(state) ||
             state.at("sorting").at("measured") > before.at("sorting").at("measured") ||
             state.at("sorting").at("to_measure") == 0;
    });
    if (window.state().at("sorting").at("to_measure") == 0)
      return window.wait_for("all kept", all_measured);
  }
}

struct SortingWindow : testing::Test {
  TemporaryFolder folder;
  VirtualDisplay display;
};

TEST_F(SortingWindow, AHeapIsDroppedCorrectedFiledAndTakenBack) {
  WindowDriver window(display, folder.path());
  window.wait_for_rect("button:open_photos");
  const auto heap = demo_photos({"pad_left_inner", "pad_left_outer", "rim_left"});
  const fs::path copy = folder / "z again.jpg";
  fs::copy_file(heap[1], copy);
  const fs::path no_photo = folder.file("notes.jpg", "not a picture");
  drop_files(window.display(), {heap[0], heap[1], heap[2], copy, no_photo});
  json now = wait_until_sorted(window, 5);
  window.screenshot(shot("sorting"));
  EXPECT_EQ(row_of(now, "pad_left_inner.jpg")["place"], "Left inner pad");
  EXPECT_EQ(row_of(now, "pad_left_outer.jpg")["place"], "Left outer pad");
  EXPECT_EQ(row_of(now, "rim_left.jpg")["place"], "Left disc, rim");
  EXPECT_EQ(row_of(now, "z again.jpg")["double"], true);
  EXPECT_EQ(row_of(now, "z again.jpg")["place"], "Left out");
  EXPECT_EQ(row_of(now, "notes.jpg")["checks"], "photo_not_a_photo");
  EXPECT_FALSE(fs::exists(folder / "record.sqlite.photos")) << "nothing is copied before Enter";

  // By keys: the first pad was the outer one, and the next follows it.
  window.key("Right");
  now = window.wait_for("the next place", [](const json& state) {
    return row_of(state, "pad_left_inner.jpg")["place"] == "Left outer pad";
  });
  EXPECT_EQ(row_of(now, "pad_left_outer.jpg")["place"], "Right inner pad");
  window.key("ctrl+z");
  window.wait_for("the place before", [](const json& state) {
    return row_of(state, "pad_left_outer.jpg")["place"] == "Left outer pad";
  });
  // By mouse: another part for the second photo.
  window.click("sorting_row:2");
  window.click_until("button:goes_right_outer", [](const json& state) {
    return row_of(state, "pad_left_outer.jpg")["place"] == "Right outer pad";
  });
  window.click_until("button:shows_rim", [](const json& state) {
    return row_of(state, "pad_left_outer.jpg")["view"] == "rim";
  });
  window.click_until("button:shows_pad", [](const json& state) {
    return row_of(state, "pad_left_outer.jpg")["place"] == "Left outer pad";
  });
  // Away and back: the list waits.
  window.key("Escape");
  window.wait_for_rect("button:to_sort");
  window.key("s");
  window.wait_for("the page again", [](const json& state) { return sorted(state, 5); });

  window.key("Return");
  now = wait_until_all_measured(window);
  EXPECT_EQ(now["map"], true);
  EXPECT_EQ(now["undo"], "file 3 photos");
  EXPECT_EQ(now["sorting"]["rows"].size(), 0u);
  window.screenshot(shot("sorting-filed"));
  const Record record(window.record());
  ASSERT_THAT(record.jobs(), SizeIs(1));
  std::size_t measured = 0;
  for (const Part& part : record.parts(record.jobs()[0].id))
    for (const PhotoEntry& photo : record.photos(part.id))
      measured += record.newest_measurement(photo.id).has_value();
  EXPECT_EQ(measured, 3u);

  // Taken back, all of them stand on the sorting page as before, and nothing is looked at again.
  window.key("ctrl+z");
  now = window.wait_for("the sorting page", [](const json& state) {
    return sorted(state, 5) && state.at("redo") == "file 3 photos";
  });
  EXPECT_EQ(row_of(now, "pad_left_outer.jpg")["place"], "Left outer pad");
  EXPECT_EQ(row_of(now, "rim_left.jpg")["place"], "Left disc, rim");
  EXPECT_EQ(row_of(now, "z again.jpg")["place"], "Left out");
  EXPECT_EQ(now["sorting"]["to_file"], 3);
  window.screenshot(shot("sorting-taken-back"));
  window.key("ctrl+shift+z");
  window.wait_for("the job again", [](const json& state) {
    return state.at("screen") == "job" && state.at("part").at("photos") == 1 &&
           state.at("sorting").at("rows").empty();
  });
}

TEST_F(SortingWindow, InANarrowWindowTheMouseStillChangesAPlace) {
  VirtualDisplay fine(192);
  WindowDriver window(fine, folder.path());
  window.wait_for_rect("button:open_photos");
  drop_files(window.display(), demo_photos({"pad_left_inner", "pad_left_outer"}));
  wait_until_sorted(window, 2);
  window.wait_for_rect("sorting_photo");
  window.screenshot(shot("sorting-narrow"));
  window.wheel("button:shows_rim", 2, false);
  window.click_until("button:goes_right_outer", [](const json& state) {
    return row_of(state, "pad_left_inner.jpg")["place"] == "Right outer pad";
  });
  // And by keys: taken back, said again.
  window.key("ctrl+z");
  window.wait_for("the place before", [](const json& state) {
    return row_of(state, "pad_left_inner.jpg")["place"] == "Left inner pad";
  });
  window.key("ctrl+shift+z");
  window.wait_for("the choice again", [](const json& state) {
    return state.at("screen") == "sorting" &&
           row_of(state, "pad_left_inner.jpg")["place"] == "Right outer pad";
  });
  window.key("ctrl+comma");
  window.wait_for("the settings", [](const json& state) { return state.at("dialog") == true; });
  window.key("Escape");
  window.wait_for("no dialog", [](const json& state) { return state.at("dialog") == false; });
}

TEST_F(SortingWindow, AFolderIsSortedAndTheLookingIsStopped) {
  WindowDriver window(display, folder.path());
  window.wait_for_rect("button:open_photos");
  const fs::path heap = folder / "phone";
  fs::create_directory(heap);
  for (const fs::path& photo : twelve_photos()) fs::copy_file(photo, heap / photo.filename());
  folder.file("phone/notes.txt", "no photo");
  drop_files(window.display(), {heap});
  window.click_until("button:sorting_stop", [](const json& state) {
    return state.at("busy") == false && state.at("sorting").at("seen") < 12;
  });
  window.screenshot(shot("sorting-stopped"));
  window.click("button:sorting_go_on");
  wait_until_sorted(window, 12);
  window.click_until("button:sorting_clear",
                     [](const json& state) { return state.at("sorting").at("rows").empty(); });
  window.key("Escape");
  window.wait_for("the first screen",
                  [](const json& state) { return state.at("screen") == "start"; });
}

TEST_F(SortingWindow, NewPhotosOfAWatchedFolderComeByThemselves) {
  const fs::path phone = folder / "phone";
  fs::create_directory(phone);
  fs::copy_file(kDemo / "rim_left.jpg", phone / "old.jpg");
  fs::create_directories(folder / "state/scantling");
  folder.file("state/scantling/window.json", json{{"watched_folder", phone.string()}}.dump());
  std::optional<WindowDriver> started(std::in_place, display, folder.path());
  started->wait_for_rect("status:watching");
  started->wait_for("the first look", [&](const json&) {
    return fs::exists(folder / "state/scantling/watched-photos");
  });
  // Half of it first, as a slow copy over the air.
  std::ifstream in(kDemo / "pad_left_inner.jpg", std::ios::binary);
  const std::string bytes(std::istreambuf_iterator<char>(in), {});
  std::ofstream(phone / "new.jpg", std::ios::binary) << bytes.substr(0, bytes.size() / 2);
  std::ofstream(phone / "new.jpg", std::ios::binary | std::ios::app)
      << bytes.substr(bytes.size() / 2);
  started->wait_for("the new photo", [](const json& state) { return sorted(state, 1); });
  // A sudden end before it was filed: it is offered again, until it was.
  started->kill_now();
  started.emplace(display, folder.path());
  const json now =
      started->wait_for("the new photo again", [](const json& state) { return sorted(state, 1); });
  EXPECT_EQ(row_of(now, "new.jpg")["place"], "Left inner pad");
  started->screenshot(shot("sorting-watched"));
  started->key("Return");
  wait_until_all_measured(*started);
  EXPECT_EQ(started->quit(), 0);
  std::ofstream(phone / "next.jpg", std::ios::binary) << bytes << "another";
  started.emplace(display, folder.path());
  WindowDriver& window = *started;
  const json next = window.wait_for("the next photo alone", [](const json& state) {
    return state.at("sorting").at("rows").size() == 1 && state.at("sorting").at("seen") == 1;
  });
  EXPECT_EQ(next["sorting"]["rows"][0]["photo"], "next.jpg");
  window.click("menu:job");
  window.click_until("menu:unwatch",
                     [](const json& state) { return state.at("sorting").at("watching") == ""; });
}

// As after "next job of this axle": the parts with their minima, the sheet with its scale.
void start_known_job(const fs::path& path) {
  Record record(path);
  Sheet sheet;
  sheet.name = "Demo sheet";
  sheet.scale = {1.004, 0.998, 0.001, true};
  sheet.how_checked = "calliper";
  Job job;
  job.vehicle_id = record.add_vehicle({0, "Blue estate", "", "", ""});
  job.date = "2026-05-16";
  job.sheet_id = record.add_sheet(sheet);
  const std::int64_t id = record.add_job(job);
  for (const Side side : {Side::left, Side::right}) {
    for (const PadPlace place : {PadPlace::inner, PadPlace::outer})
      record.add_part({0, id, PartKind::pad, side, place, 2.0, "workshop manual"});
    record.add_part({0, id, PartKind::disc, side, {}, 22.4, "cast in", 284.0});
  }
}

TEST_F(SortingWindow, TwelvePhotosBecomeADecidedAxleInAFewActions) {
  start_known_job(folder / "record.sqlite");
  WindowDriver window(display, folder.path());
  window.wait_for("the job", [](const json& state) { return state.at("screen") == "job"; });
  int actions = 0;
  drop_files(window.display(), twelve_photos());
  ++actions;
  json now = wait_until_sorted(window, 12);
  window.screenshot(shot("sorting-twelve"));
  int misplaced = 0;
  for (const json& row : now["sorting"]["rows"]) misplaced += row["look"] == true;
  window.key("Return");
  ++actions;
  now = wait_until_all_measured(window);
  const int to_confirm = now["sorting"]["to_confirm"];
  for (int left = to_confirm; left > 0; --left) {
    window.key("n");
    window.wait_for("the photo", [](const json& state) {
      return state.at("map") == false && state.at("busy") == false;
    });
    window.key("Return");
    actions += 2;
    window.wait_for("one less", [&](const json& state) {
      return state.at("sorting").at("to_confirm") == left - 1;
    });
  }
  now = window.state();
  std::printf(
      "Twelve photos: %d actions, %.1f a photo; %d photos wanted a look at their edges, %d "
      "at their place; %d of 6 parts judged\n",
      actions, actions / 12.0, to_confirm, misplaced, now["sorting"]["judged"].get<int>());
  EXPECT_LE(actions, 3 * 12);
  EXPECT_EQ(now["sorting"]["judged"], 6);
  window.key("m");
  window.wait_for("the map", [](const json& state) { return state.at("map") == true; });
  window.screenshot(shot("sorting-decided"));
}

}  // namespace
}  // namespace scantling
