#include "window/window_driver.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <fstream>
#include <stdexcept>
#include <thread>

#include "support/run_program.h"

namespace scantling {
namespace fs = std::filesystem;
using nlohmann::json;

namespace {

constexpr double kPatience_s = 45;

void pause_ms(int milliseconds) {
  std::this_thread::sleep_for(std::chrono::milliseconds(milliseconds));
}

}  // namespace

WindowDriver::WindowDriver(const VirtualDisplay& display, fs::path home,
                           std::vector<std::string> arguments, std::vector<std::string> environment)
    : display_(&display), home_(std::move(home)) {
  fs::remove(home_ / "probe.json");
  const std::vector<std::string> settings = {"DISPLAY=" + display.name(),
                                             "LIBGL_ALWAYS_SOFTWARE=1",
                                             "NO_AT_BRIDGE=1",
                                             "HOME=" + home_.string(),
                                             "XDG_DATA_HOME=" + (home_ / "data").string(),
                                             "XDG_CONFIG_HOME=" + (home_ / "config").string(),
                                             "XDG_STATE_HOME=" + (home_ / "state").string(),
                                             "XDG_CACHE_HOME=" + (home_ / "cache").string(),
                                             "SCANTLING_PROBE=" + (home_ / "probe.json").string()};
  environment.insert(environment.begin(), settings.begin(), settings.end());
  std::vector<std::string> command = {SCANTLING_EXECUTABLE, "--record", record().string()};
  command.insert(command.end(), arguments.begin(), arguments.end());
  program_ = ChildProcess(command, environment, home_ / "program.log");
  wait_for("the window", [](const json& now) { return !now.is_null(); });
  xdotool({"search", "--sync", "--onlyvisible", "--class", "scantling", "windowfocus"});
  pause_ms(200);
}

json WindowDriver::told() const {
  std::ifstream in(home_ / "probe.json");
  json told = json::parse(in, nullptr, false);
  return told.is_object() ? told : json();
}

json WindowDriver::state() const {
  const json now = told();
  return now.is_null() ? json() : now.at("state");
}

json WindowDriver::rect(const std::string& name) const {
  const json now = told();
  if (now.is_null() || !now.at("rects").contains(name)) return {};
  return now["rects"][name];
}

std::string WindowDriver::text(const std::string& name) const {
  const json now = told();
  return now.is_null() ? std::string() : now.at("texts").value(name, "");
}

json WindowDriver::wait_for(const std::string& what, const Condition& condition) const {
  const auto end = std::chrono::steady_clock::now() + std::chrono::duration<double>(kPatience_s);
  json now;
  while (std::chrono::steady_clock::now() < end) {
    now = state();
    try {
      if (condition(now)) return now;
    } catch (const json::exception&) {
      // The state has not got that far yet.
    }
    pause_ms(10);
  }
  screenshot(fs::path(SCANTLING_SHOTS) / "gave-up.png");
  throw std::runtime_error("waited in vain for " + what + "; the state is " + now.dump(1));
}

void WindowDriver::wait_for_rect(const std::string& name) const {
  wait_for(name, [&](const json&) { return !rect(name).is_null(); });
}

void WindowDriver::wait_until_measured() const {
  wait_for("the photo to be measured", [](const json& now) {
    return now.at("photo").at("shown") == true && now.at("photo").at("analysed") == true &&
           now.at("busy") == false;
  });
}

json WindowDriver::steady_rect(const std::string& name) const {
  constexpr int kLook_ms = 20, kIdleLooks = 10;
  constexpr long kFrames = 3;
  wait_for_rect(name);
  json place;
  long frame = 0, still = 0;
  for (int idle = 0; still < kFrames && idle < kIdleLooks; pause_ms(kLook_ms)) {
    const json now = told();
    if (now.is_null()) continue;
    const long drawn = now.at("frame").get<long>() - frame;
    const json there = now.at("rects").value(name, json());
    idle = drawn == 0 ? idle + 1 : 0;
    still = !there.is_null() && there == place ? still + drawn : 0;
    place = there;
    frame += drawn;
  }
  return place.is_null() ? steady_rect(name) : place;
}

std::pair<int, int> WindowDriver::middle_of(const std::string& name) const {
  const auto at = steady_rect(name).get<std::vector<double>>();
  return {static_cast<int>(std::lround(at.at(0) + at.at(2) / 2)),
          static_cast<int>(std::lround(at.at(1) + at.at(3) / 2))};
}

void WindowDriver::xdotool(std::vector<std::string> arguments) const {
  arguments.insert(arguments.begin(), "xdotool");
  const ProgramResult result = run_program(arguments, {"DISPLAY=" + display_->name()});
  if (result.exit_status != 0) throw std::runtime_error("xdotool: " + result.errors);
}

void WindowDriver::hover(const std::string& name) const {
  const auto [x, y] = middle_of(name);
  xdotool({"mousemove", std::to_string(x), std::to_string(y), "sleep", "0.1"});
}

void WindowDriver::click(const std::string& name) const {
  hover(name);
  xdotool({"mousedown", "1", "sleep", "0.08", "mouseup", "1", "sleep", "0.08"});
}

void WindowDriver::give_up(const std::string& what) const {
  screenshot(fs::path(SCANTLING_SHOTS) / "gave-up.png");
  throw std::runtime_error(what + "; the state is " + state().dump(1));
}

void WindowDriver::click_until(const std::string& name, const Condition& condition) const {
  for (int attempt = 0; attempt < 5; ++attempt) {
    if (attempt == 0 || !rect(name).is_null()) click(name);
    for (int look = 0; look < 100; ++look) {
      try {
        if (condition(state())) return;
      } catch (const json::exception&) {
        // The state has not got that far yet.
      }
      pause_ms(30);
    }
  }
  give_up("clicked in vain: " + name);
}

void WindowDriver::scroll_to(const std::string& name, const std::string& over) const {
  wait_for_rect(name);
  hover(over);
  for (int turn = 0; turn < 40; ++turn) {
    const json at = steady_rect(name), around = rect(over);
    // A region tells where it ends itself.
    const bool region = !around.is_null() && around[3].get<double>() > 200;
    const double bottom = region ? around[1].get<double>() + around[3].get<double>() : bottom_px_;
    if (at[1].get<double>() + at[3].get<double>() <= bottom) return;
    xdotool({"click", "5", "sleep", "0.15"});
  }
  give_up("scrolled in vain to " + name);
}

void WindowDriver::drag(const std::string& name, int dx, int dy, bool release) const {
  const auto [x, y] = middle_of(name);
  std::vector<std::string> script = {
      "mousemove", std::to_string(x), std::to_string(y), "sleep", "0.1", "mousedown", "1", "sleep",
      "0.1"};
  const int steps = std::max(1, std::max(std::abs(dx), std::abs(dy)) / 4);
  for (int i = 1; i <= steps; ++i) {
    script.insert(script.end(), {"mousemove", std::to_string(x + dx * i / steps),
                                 std::to_string(y + dy * i / steps), "sleep", "0.05"});
  }
  xdotool(script);
  if (release) let_go();
}

void WindowDriver::let_go() const {
  xdotool({"sleep", "0.1", "mouseup", "1", "sleep", "0.1"});
}

void WindowDriver::wheel(const std::string& name, int clicks, bool up) const {
  hover(name);
  for (int i = 0; i < clicks; ++i) xdotool({"click", up ? "4" : "5", "sleep", "0.05"});
}

void WindowDriver::key(const std::string& keys) const {
  xdotool({"key", keys});
}

void WindowDriver::type(const std::string& text) const {
  if (!text.empty()) xdotool({"type", "--delay", "40", text});
}

void WindowDriver::fill(const std::string& field, const std::string& wanted) const {
  // A dialog that has just opened may still settle under the first click.
  click_until(field, [&](const json&) { return text("typing_into") == field; });
  // A press and release within one slow frame can go unseen: look after each, and type again where
  // a loaded machine lost a letter.
  for (int attempt = 0; attempt < 4 && text(field) != wanted; ++attempt) {
    xdotool({"key", "ctrl+a", "sleep", "0.1", "key", "BackSpace"});
    for (int look = 0; look < 20 && !text(field).empty(); ++look) pause_ms(50);
    for (int press = 0; press < 100 && !text(field).empty(); ++press) {
      xdotool({"key", "End", "sleep", "0.05", "key", "BackSpace"});
      pause_ms(60);
    }
    wait_for("an empty " + field, [&](const json&) { return text(field).empty(); });
    type(wanted);
    for (int look = 0; look < 60 && text(field) != wanted; ++look) pause_ms(50);
  }
  wait_for("“" + wanted + "” in " + field, [&](const json&) { return text(field) == wanted; });
  // In a dialog Enter is the end of it.
  key(state().at("dialog") == true ? "Tab" : "Return");
  wait_for("the end of typing", [&](const json&) { return text("typing_into") != field; });
}

void WindowDriver::tab_to(const std::string& name, bool back) const {
  // A text field has the keys once it can be typed into; on the way there and away nothing has.
  const auto here = [&]() -> std::string {
    const std::string field = text("typing_into");
    const std::string framed = state().at("focus");
    return field.empty() && framed.starts_with("field:") ? "" : field.empty() ? framed : field;
  };
  const auto settled = [&](const std::string& before, int looks) {
    for (int look = 0; look < looks; ++look) {
      const std::string first = here();
      pause_ms(60);
      if (!first.empty() && first != before && here() == first) return first;
    }
    return std::string();
  };
  std::string now = settled("-", 8), seen;
  for (int press = 0; press < 60 && now != name; ++press) {
    key(back ? "shift+Tab" : "Tab");
    now = settled(now, 100);
    seen += now + ", ";
  }
  if (now == name) return;
  screenshot(fs::path(SCANTLING_SHOTS) / "gave-up.png");
  throw std::runtime_error("Tab does not come to " + name + ": " + seen);
}

void WindowDriver::replace(const std::string& wanted) const {
  const std::string field = text("typing_into");
  xdotool({"key", "ctrl+a", "sleep", "0.1", "key", "BackSpace"});
  wait_for("an empty " + field, [&](const json&) { return text(field).empty(); });
  type(wanted);
  wait_for("“" + wanted + "” in " + field, [&](const json&) { return text(field) == wanted; });
}

void WindowDriver::resize(DisplaySize size) const {
  bottom_px_ = size.height_px - 60;
  xdotool({"search", "--onlyvisible", "--class", "scantling", "windowmove", "0", "0", "windowsize",
           "--sync", std::to_string(size.width_px), std::to_string(size.height_px)});
  pause_ms(300);
}

void WindowDriver::screenshot(const fs::path& png) const {
  pause_ms(250);  // the probe is written before the frame is shown
  display_->screenshot(png);
}

int WindowDriver::quit() {
  key("ctrl+q");
  return program_.wait(kPatience_s);
}

void WindowDriver::in_one_frame(const std::function<void()>& done) {
  program_.stop();
  try {
    done();
  } catch (...) {
    program_.go_on();
    throw;
  }
  program_.go_on();
}

fs::path demo_photo(std::size_t which) {
  std::vector<fs::path> photos;
  for (const auto& entry : fs::directory_iterator(fs::path(SCANTLING_SOURCE_DIR) / "assets/demo"))
    if (entry.path().extension() == ".jpg" && entry.path().filename().string().starts_with("pad_"))
      photos.push_back(entry.path());
  std::sort(photos.begin(), photos.end());
  return photos.at(which);
}

}  // namespace scantling
