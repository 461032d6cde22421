// The axle's history, the settings and the copied result, in the real window.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>

#include "record/record.h"
#include "unit/report/sample_report.h"
#include "window/shots.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

using nlohmann::json;

/// An invented estate's front axle over four jobs; its right disc contradicts itself.
std::int64_t fill(const TemporaryFolder& folder) {
  Record record(folder / "record.sqlite");
  Vehicle vehicle;
  vehicle.name = "Marrow estate";
  const std::int64_t car = record.add_vehicle(vehicle);
  struct Visit {
    const char* date;
    double km, left_disc_mm, right_disc_mm, outer_mm, inner_mm;
  };
  std::int64_t last = 0;
  for (const Visit& visit : {Visit{"2023-11-04", 41'200, 25.02, 24.1, 11.2, 11.0},
                             Visit{"2024-10-19", 55'900, 24.55, 24.9, 9.1, 8.6},
                             Visit{"2025-11-08", 69'800, 24.02, 23.2, 7.2, 6.4},
                             Visit{"2026-11-21", 83'500, 23.51, 24.4, 5.1, 3.9}}) {
    Job job;
    job.vehicle_id = car;
    job.date = visit.date;
    job.odometer_km = visit.km;
    job.next_check_km = visit.km + 15'000;
    last = job.id = record.add_job(job);
    const auto add = [&](PartKind kind, Side side, PadPlace place, double mm, double minimum_mm) {
      Part part;
      part.job_id = job.id;
      part.kind = kind;
      part.side = side;
      part.place = place;
      part.minimum_mm = minimum_mm;
      HandReadingEntry reading;
      reading.part_id = record.add_part(part);
      reading.as_typed = std::to_string(mm);
      reading.value_mm = mm;
      reading.standard_uncertainty_mm = kind == PartKind::disc ? 0.01 : 0.1;
      reading.instrument = kind == PartKind::disc ? "micrometer" : "digital calliper";
      record.add_hand_reading(reading);
    };
    add(PartKind::disc, Side::left, PadPlace::outer, visit.left_disc_mm, 22.4);
    add(PartKind::disc, Side::right, PadPlace::outer, visit.right_disc_mm, 22.4);
    add(PartKind::pad, Side::left, PadPlace::outer, visit.outer_mm, 2);
    add(PartKind::pad, Side::left, PadPlace::inner, visit.inner_mm, 2);
  }
  return last;
}

class HistoryPageTest : public testing::Test {
 protected:
  HistoryPageTest() : job_(fill(folder_)), window_(display_, folder_.path()) {
    window_.wait_for("the job", [](const json& state) { return state.at("screen") == "job"; });
  }
  void open_history() const {
    window_.key("h");
    window_.wait_for("the history", [](const json& state) {
      return state.at("screen") == "history" && state.at("history_jobs") == 4;
    });
  }
  void choose_disc(const char* side) const {
    const std::string name = std::string("history:") + side + "_disc";
    window_.click_until(name, [&](const json& state) {
      return state.at("part").at("kind") == "disc" && state.at("part").at("side") == side;
    });
  }

  TemporaryFolder folder_;
  std::int64_t job_;
  VirtualDisplay display_;
  WindowDriver window_;
};

TEST_F(HistoryPageTest, ShowsTheWearAndOpensAnEarlierJobByKeyAndByClick) {
  open_history();
  choose_disc("left");
  window_.wait_for_rect("wear_plot");
  EXPECT_EQ(window_.text("wear_plot"), "4 points, line");
  EXPECT_NE(window_.text("wear_sentence:1").find("From 4 sizes it wears 0.036 mm"),
            std::string::npos)
      << window_.text("wear_sentence:1");
  window_.screenshot(shot("history"));

  for (int i = 0; i < 2; ++i) window_.key("Down");
  window_.wait_for("the third row", [](const json& state) { return state.at("history_row") == 2; });
  window_.key("Return");
  json now = window_.wait_for("the job of 2024", [](const json& state) {
    return state.at("screen") == "job" && state.at("job").at("date") == "2024-10-19";
  });
  EXPECT_EQ(now.at("part").at("kind"), "disc") << "the part stays the chosen one";

  open_history();
  window_.click("row:history:1");
  window_.wait_for("the newest job", [&](const json& state) {
    return state.at("screen") == "job" && state.at("job").at("id") == job_;
  });
  open_history();
  window_.key("Escape");
  window_.wait_for("the job", [](const json& state) { return state.at("screen") == "job"; });
}

TEST_F(HistoryPageTest, SaysWhyThereIsNoLine) {
  open_history();
  choose_disc("right");
  window_.wait_for_rect("wear_plot");
  EXPECT_EQ(window_.text("wear_plot"), "4 points, no line");
  EXPECT_NE(window_.text("wear_sentence:1"), "");
  window_.screenshot(shot("history-contradiction"));
  window_.key("Right");
  window_.key("Right");
  window_.wait_for("a part without a size", [](const json& state) {
    return state.at("part").at("kind") == "pad" && state.at("part").at("side") == "left";
  });
}

TEST_F(HistoryPageTest, FiguresFollowTheSettings) {
  window_.click("disc:left");
  window_.wait_for("the disc",
                   [](const json& state) { return state.at("part").at("kind") == "disc"; });
  EXPECT_EQ(window_.text("field:minimum"), "22.4");
  window_.key("ctrl+comma");
  window_.wait_for_rect("radio:inch");
  window_.click("radio:inch");
  window_.click("radio:miles");
  window_.click("radio:comma");
  window_.fill("field:check_every", "10000");
  window_.screenshot(shot("settings"));
  window_.click("button:settings_close");
  window_.wait_for("the unit",
                   [&](const json&) { return window_.text("field:minimum") == "0,8819"; });
  // A bare number is in the unit that is shown; the record stays in millimetres.
  window_.fill("field:minimum", "0,875");
  window_.wait_for("the minimum", [](const json& state) {
    const json& mm = state.at("part").at("minimum_mm");
    return mm.is_number() && std::abs(mm.get<double>() - 22.225) < 1e-9;
  });
  open_history();
  const std::string disc = window_.text("history:left_disc");
  EXPECT_NE(disc.find("0,926"), std::string::npos) << disc;
  EXPECT_NE(disc.find("in per 1 000 miles"), std::string::npos) << disc;
  window_.screenshot(shot("history-inches"));
  EXPECT_EQ(window_.quit(), 0);
  WindowDriver again(display_, folder_.path());
  again.wait_for("the job", [](const json& state) { return state.at("screen") == "job"; });
  again.click("disc:left");
  again.wait_for("the disc",
                 [](const json& state) { return state.at("part").at("kind") == "disc"; });
  EXPECT_EQ(again.text("field:minimum"), "0,875");
  again.key("ctrl+n");
  again.wait_for_rect("field:odometer");
  again.fill("field:odometer", "60 000");
  again.wait_for("the offered check",
                 [&](const json&) { return again.text("field:next_check_km") == "70000"; });
}

TEST_F(HistoryPageTest, TheResultIsCopiedAsText) {
  window_.click("disc:left");
  window_.wait_for("the disc",
                   [](const json& state) { return state.at("part").at("kind") == "disc"; });
  window_.key("ctrl+c");
  window_.wait_for("the notice", [](const json& state) {
    return state.at("notice").get<std::string>().starts_with("Copied");
  });
  window_.click("button:edit_job");
  window_.wait_for_rect("field:note");
  window_.click_until("field:note",
                      [&](const json&) { return window_.text("typing_into") == "field:note"; });
  window_.key("ctrl+v");  // once: Ctrl let go of at once must not lose it
  window_.wait_for("the text", [&](const json&) { return !window_.text("field:note").empty(); });
  const std::string text = window_.text("field:note");
  EXPECT_NE(text.find("Marrow estate: Front left, disc"), std::string::npos) << text;
  EXPECT_NE(text.find("23.51 mm"), std::string::npos) << text;
  EXPECT_NE(text.find("Result: keep"), std::string::npos) << text;
}

TEST_F(HistoryPageTest, RecentJobsStandInTheMenu) {
  open_history();
  window_.click("row:history:3");
  window_.wait_for("the job of 2024", [](const json& state) {
    return state.at("screen") == "job" && state.at("job").at("date") == "2024-10-19";
  });
  window_.click("menu:job");
  window_.wait_for_rect("menu:recent_jobs");
  window_.click("menu:recent_jobs");
  window_.wait_for_rect("menu:recent:2");
  window_.screenshot(shot("recent-jobs"));
  window_.click("menu:recent:2");
  window_.wait_for("the job before",
                   [&](const json& state) { return state.at("job").at("id") == job_; });
}

// Nothing that is clicked may lie outside the window, whatever the size of the text.
TEST_F(HistoryPageTest, TheLargestTextKeepsEverythingInTheWindow) {
  window_.key("ctrl+comma");
  window_.wait_for_rect("radio:text_130");
  window_.click("radio:text_130");
  window_.click_until("radio:light", [](const json& state) { return state.at("light") == true; });
  window_.wait_for("the text size",
                   [](const json& state) { return state.at("text_percent") == 130; });
  const auto expect_inside = [&](const std::string& name) {
    const json rect = window_.rect(name);
    ASSERT_TRUE(rect.is_array()) << name;
    EXPECT_GE(rect[0].get<double>(), 0) << name;
    EXPECT_GE(rect[1].get<double>(), 0) << name;
    EXPECT_LE(rect[0].get<double>() + rect[2].get<double>(), 1280) << name;
    EXPECT_LE(rect[1].get<double>() + rect[3].get<double>(), 800) << name;
  };
  window_.screenshot(shot("settings-largest"));
  for (const char* name :
       {"radio:text_130", "field:person", "radio:letter", "button:settings_close"})
    expect_inside(name);
  window_.click("button:settings_close");
  window_.key("F1");
  window_.wait_for_rect("button:help_close");
  window_.screenshot(shot("keys-largest"));
  expect_inside("button:help_close");
  window_.click("button:help_close");
  window_.click("disc:left");
  window_.wait_for("the disc",
                   [](const json& state) { return state.at("part").at("kind") == "disc"; });
  window_.screenshot(shot("job-largest"));
  for (const char* name : {"verdict", "disc:left", "pad:right_inner", "menu:help"})
    expect_inside(name);
  open_history();
  window_.wait_for_rect("wear_plot");
  window_.screenshot(shot("history-largest"));
  for (const char* name : {"button:history_back", "wear_plot", "history:left_outer"})
    expect_inside(name);
}

}  // namespace
}  // namespace scantling
