// How the window answers while forty photos are looked at and measured on all cores. Drops the
// demo's photos of pads, rims and lips again and again until there are forty (each with a byte of
// its own at the end, so that none is a double), and presses keys meanwhile.
//
//   bench_window [PHOTOS]
//
// Prints the longest frame of the program and the time from a key to the program's telling of it,
// which holds the key's own way through the X server and the probe's file. Figures, not a test: a
// loaded machine is slow at everything.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <fstream>
#include <vector>

#include "support/temporary_folder.h"
#include "window/file_drop.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using Clock = std::chrono::steady_clock;

std::vector<fs::path> heap_of(std::size_t wanted, const fs::path& folder) {
  std::vector<fs::path> demo;
  for (const auto& entry : fs::directory_iterator(fs::path(SCANTLING_SOURCE_DIR) / "assets/demo")) {
    const std::string name = entry.path().filename().string();
    if (entry.path().extension() == ".jpg" &&
        (name.starts_with("pad") || name.starts_with("rim") || name.starts_with("lip")))
      demo.push_back(entry.path());
  }
  std::sort(demo.begin(), demo.end());
  fs::create_directories(folder);
  std::vector<fs::path> files;
  for (std::size_t i = 0; i < wanted; ++i) {
    files.push_back(folder / ("photo " + std::to_string(i + 1) + ".jpg"));
    fs::copy_file(demo[i % demo.size()], files.back());
    std::ofstream(files.back(), std::ios::binary | std::ios::app) << static_cast<char>(i);
  }
  return files;
}

double median(std::vector<double> values) {
  if (values.empty()) return 0;
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

/// Presses a key that moves the row in hand and waits until it has moved, as long as the program
/// works.
void press_while_busy(const WindowDriver& window, const char* what) {
  std::vector<double> answers_ms;
  double slowest_frame_ms = 0;
  const auto start = Clock::now();
  for (bool down = true;; down = !down) {
    const json before = window.state();
    if (before.at("busy") == false) break;
    slowest_frame_ms = before.at("sorting").at("slowest_frame_ms");
    const auto pressed = Clock::now();
    window.key(before.at("screen") == "sorting" ? (down ? "Down" : "Up") : "m");
    window.wait_for("the answer", [&](const json& now) {
      return now.at("sorting").at("selected") != before.at("sorting").at("selected") ||
             now.at("map") != before.at("map");
    });
    answers_ms.push_back(std::chrono::duration<double, std::milli>(Clock::now() - pressed).count());
  }
  const std::chrono::duration<double> took = Clock::now() - start;
  std::printf(
      "%-10s %5.1f s   longest frame %4.0f ms   key to answer: median %4.0f ms, most %4.0f ms "
      "(%zu keys)\n",
      what, took.count(), slowest_frame_ms, median(answers_ms),
      answers_ms.empty() ? 0 : *std::max_element(answers_ms.begin(), answers_ms.end()),
      answers_ms.size());
}

void run(std::size_t photos) {
  const TemporaryFolder home;
  const VirtualDisplay display;
  WindowDriver window(display, home.path());
  window.wait_for_rect("button:open_photos");
  drop_files(window.display(), heap_of(photos, home / "phone"));
  window.wait_for("the first photos looked at", [](const json& now) {
    return now.at("screen") == "sorting" && now.at("sorting").at("seen") >= 2;
  });
  press_while_busy(window, "looking");
  window.wait_for("all photos looked at", [&](const json& now) {
    return now.at("sorting").at("seen") == photos && now.at("busy") == false;
  });
  window.key("Return");
  window.wait_for("the measuring", [](const json& now) {
    return now.at("screen") == "job" && now.at("map") == true;
  });
  press_while_busy(window, "measuring");
}

}  // namespace
}  // namespace scantling

int main(int argc, char** argv) {
  try {
    scantling::run(argc > 1 ? static_cast<std::size_t>(std::atoi(argv[1])) : 40);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "bench_window: %s\n", error.what());
    return 1;
  }
  return 0;
}
