#include "window/whole_job.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstring>
#include <stdexcept>

#include "window/file_drop.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

struct Place {
  const char* cell;
  const char* minimum;
};
// Another part than the one in hand comes first: its entries are shown from the top.
constexpr std::array kPlaces = {Place{"disc:left", "22.4"},    Place{"pad:left_inner", "2"},
                                Place{"pad:right_inner", "2"}, Place{"disc:right", "22.4"},
                                Place{"pad:right_outer", "2"}, Place{"pad:left_outer", "2"}};

std::vector<fs::path> demo_heap() {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(fs::path(SCANTLING_SOURCE_DIR) / "assets/demo")) {
    const std::string name = entry.path().filename().string();
    if (entry.path().extension() == ".jpg" &&
        (name.starts_with("pad_") || name.starts_with("rim_") || name.starts_with("lip_")))
      files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

/// Whether the part of a cell such as "pad:left_inner" is the one in hand.
bool is_open(const json& state, const std::string& cell) {
  const json& part = state.at("part");
  std::string named = part.at("kind");
  named.append(":").append(part.at("side").get<std::string>());
  if (part.at("kind") == "pad") named.append("_").append(part.at("place").get<std::string>());
  return named == cell;
}

bool at_rest(const json& state) {
  return state.at("busy") == false && state.at("sorting").at("filing") == false &&
         state.at("sorting").at("to_measure") == 0;
}

/// A heap takes a loaded machine its time: each photo has the driver's whole patience.
void wait_for_all(const WindowDriver& window, const char* count, std::size_t of) {
  for (std::size_t done = 1; done <= of; ++done)
    window.wait_for("another photo", [&](const json& state) {
      return state.at("sorting").at(count).get<std::size_t>() >= done || at_rest(state);
    });
}

/// What of the state must be there again after a sudden end. Where one looks is not kept.
json lasting(const json& state) {
  if (!state.contains("job")) return {};
  return {{"job", state.at("job")}, {"decided", state.at("sorting").at("judged")}};
}

}  // namespace

std::string Look::name() const {
  return std::to_string(size.width_px) + "x" + std::to_string(size.height_px) + "-" +
         std::to_string(dots_per_inch / 96) + "x-" + (light ? "light" : "dark");
}

WholeJob::WholeJob(const Look& look, bool sudden_ends)
    : display_(look.dots_per_inch, look.size),
      look_(look),
      sudden_ends_(sudden_ends),
      shots_(fs::path(SCANTLING_SHOTS) / "whole-job" / look.name()) {
  const json settings = {{"light_theme", look.light},
                         {"person", "Ása"},
                         {"window_width", look.size.width_px * 96 / look.dots_per_inch},
                         {"window_height", look.size.height_px * 96 / look.dots_per_inch}};
  fs::create_directories(home_ / "state/scantling");
  home_.file("state/scantling/window.json", settings.dump());
  report_ = home_ / "report.pdf";
  start();
}

void WholeJob::start() {
  window_.reset();
  window_.emplace(display_, home_.path(), std::vector<std::string>{}, dialog_.environment());
  window_->resize(look_.size);
}

void WholeJob::keep(const std::string& step) {
  ++step_;
  window_->wait_for("rest", at_rest);
  char number[8];
  std::snprintf(number, sizeof number, "%02d ", step_);
  window_->screenshot(shots_ / (number + step + ".png"));
  if (sudden_ends_) kill_and_return(step);
}

void WholeJob::kill_and_return(const std::string& step) {
  const json before = window_->state();
  const json kept = lasting(before);
  window_->kill_now();
  start();
  if (kept.is_null()) return;
  try {
    window_->wait_for("what was there before",
                      [&](const json& state) { return at_rest(state) && lasting(state) == kept; });
  } catch (const std::exception& lost) {
    throw std::runtime_error("after a sudden end at “" + step + "” the state was not " +
                             kept.dump() + ": " + lost.what());
  }
}

void WholeJob::run() {
  keep("first screen");
  start_job();
  read_the_guide();
  take_photos();
  check_the_sheet();
  enter_minima();
  confirm_edges();
  look_at_a_photo();
  read_by_hand();
  ask_why();
  see_the_axle();
  note_the_work();
  write_report();
}

void WholeJob::start_job() {
  window_->key("ctrl+n");
  window_->fill("field:vehicle_name", "Blue estate");
  window_->fill("field:odometer", "81 250");
  window_->screenshot(shots_ / "02a new job.png");
  window_->click("button:job_done");
  window_->wait_for("the job", [](const json& state) { return state.at("screen") == "job"; });
  keep("empty job");
}

void WholeJob::read_the_guide() {
  for (const char* view : {"pad", "rim", "lip"}) {
    window_->click(std::string(view) == "pad" ? "pad:left_outer" : "disc:left");
    if (window_->state().at("guide") != true) window_->key("g");
    window_->click_until("button:guide_" + std::string(view), [&](const json& state) {
      return state.at("guide") == true && state.at("guide_view") == view;
    });
    window_->hover("button:guide_" + std::string(view));
    window_->screenshot(shots_ / ("03 guide " + std::string(view) + ".png"));
  }
}

void WholeJob::drop_photos() {
  const std::vector<fs::path> heap = demo_heap();
  drop_files(window_->display(), heap);
  window_->wait_for("the heap", [&](const json& state) {
    return state.at("screen") == "sorting" && state.at("sorting").at("rows").size() == heap.size();
  });
  wait_for_all(*window_, "seen", heap.size());
  window_->wait_for("the sorted heap", [&](const json& state) {
    return state.at("busy") == false && state.at("sorting").at("seen") == heap.size();
  });
}

void WholeJob::take_photos() {
  const std::vector<fs::path> heap = demo_heap();
  drop_photos();
  keep("sorting");
  // Nothing was filed yet, so a sudden end costs the dropping.
  if (window_->state().at("screen") != "sorting") drop_photos();
  window_->key("Return");
  window_->wait_for("the job", [](const json& state) { return state.at("screen") == "job"; });
  if (sudden_ends_) {
    // In the midst of the measuring: what was filed stays, and the measuring goes on.
    window_->wait_for("a first photo measured", [](const json& state) {
      return state.at("sorting").at("filing") == false && state.at("sorting").at("measured") >= 1;
    });
    window_->kill_now();
    start();
  }
  wait_for_all(*window_, "measured", heap.size());
  keep("measured");
}

void WholeJob::check_the_sheet() {
  window_->click("pad:left_outer");
  window_->wait_for_rect("field:minimum");
  window_->scroll_to("fold:sheet", "entries");
  if (window_->rect("field:bar_x_printed").is_null()) window_->click("fold:sheet");
  window_->scroll_to("button:use_bars", "entries");
  window_->fill("field:bar_x_printed", "100");
  window_->fill("field:bar_x_measured", "100.4");
  window_->fill("field:bar_y_printed", "100");
  window_->fill("field:bar_y_measured", "99.8");
  window_->click("button:use_bars");
  keep("sheet");
}

void WholeJob::enter_minima() {
  for (const Place& place : kPlaces) {
    window_->click(place.cell);
    window_->wait_for("the part", [&](const json& state) { return is_open(state, place.cell); });
    window_->scroll_to("field:minimum", "entries");
    window_->fill("field:minimum", place.minimum);
    window_->wait_for("the minimum", [&](const json& state) {
      return state.at("part").at("minimum_mm") == std::stod(place.minimum) && at_rest(state);
    });
    window_->screenshot(shots_ / (std::string("06 minimum ") + (std::strchr(place.cell, ':') + 1) +
                                  " " + place.cell[0] + ".png"));
  }
  keep("minima");
}

void WholeJob::confirm_edges() {
  for (;;) {
    const json before = window_->wait_for("rest", at_rest);
    const int left = before.at("sorting").at("to_confirm");
    if (left == 0) break;
    window_->key("n");
    window_->wait_for("the photo", [](const json& state) {
      return state.at("map") == false && state.at("busy") == false &&
             state.at("photo").at("shown") == true;
    });
    window_->key("Return");
    window_->wait_for("one less", [&](const json& state) {
      return state.at("sorting").at("to_confirm") == left - 1;
    });
  }
  keep("confirmed");
}

void WholeJob::look_at_a_photo() {
  window_->click("pad:left_inner");
  window_->wait_until_measured();
  window_->drag("edge:friction_outer", 0, -14, false);
  window_->wait_for_rect("magnifier");
  window_->screenshot(shots_ / "08a dragging.png");
  if (sudden_ends_) {
    const json edge = window_->state().at("photo");
    window_->kill_now();
    start();
    window_->click("pad:left_inner");
    window_->wait_until_measured();
    if (window_->state().at("edges").at("friction_outer").at("origin") != "found")
      throw std::runtime_error("a drag that was not let go has moved an edge");
  } else {
    window_->key("Escape");
    window_->let_go();
  }
  window_->key("Tab");
  window_->key("l");
  window_->wait_for_rect("light_inset");
  window_->hover("canvas");
  window_->screenshot(shots_ / "08b light.png");
  window_->key("l");
  window_->key("Escape");
  window_->key("c");
  window_->wait_for("two photos", [](const json& state) {
    return state.at("screen") == "compare" && state.at("compare").at("opened") == true;
  });
  window_->screenshot(shots_ / "08c side by side.png");
  window_->key("Escape");
  keep("looked at");
}

void WholeJob::read_by_hand() {
  window_->click("disc:right");
  window_->scroll_to("button:add_reading", "entries");
  window_->fill("field:reading", "23.86");
  window_->click("button:add_reading");
  window_->wait_for("the reading",
                    [](const json& state) { return state.at("part").at("readings") == 1; });
  keep("read by hand");
}

void WholeJob::ask_why() {
  window_->click("disc:left");
  window_->wait_for("the disc", [](const json& state) {
    return state.at("part").at("kind") == "disc" && state.at("part").at("side") == "left";
  });
  window_->scroll_to("fold:why", "verdict");
  window_->click("fold:why");
  window_->hover("canvas");
  keep("why");
}

void WholeJob::see_the_axle() {
  if (window_->state().at("map") != true) window_->key("m");
  window_->wait_for("the map", [](const json& state) { return state.at("map") == true; });
  keep("decided");
  window_->key("h");
  window_->wait_for("history", [](const json& state) { return state.at("screen") == "history"; });
  window_->screenshot(shots_ / "12a history.png");
  window_->key("Escape");
  window_->key("ctrl+comma");
  window_->wait_for_rect("button:settings_close");
  window_->screenshot(shots_ / "12b settings.png");
  window_->click("button:settings_close");
  window_->key("F1");
  window_->wait_for_rect("button:help_close");
  window_->screenshot(shots_ / "12c keys.png");
  window_->click("button:help_close");
}

void WholeJob::note_the_work() {
  window_->key("w");
  window_->wait_for("the work", [](const json& state) { return state.at("screen") == "work"; });
  keep("work");
  if (window_->state().at("screen") == "work") window_->key("Escape");
  window_->wait_for("the job", [](const json& state) { return state.at("screen") == "job"; });
}

void WholeJob::write_report() {
  dialog_.answer(report_.string() + "\n");
  window_->key("ctrl+p");
  window_->wait_for("the report", [](const json& state) {
    return state.at("notice").get<std::string>().starts_with("Report saved");
  });
  window_->screenshot(shots_ / "14 reported.png");
}

}  // namespace scantling
