// How the window behaves under software rendering:
//
// * the first frame: from the program's start to its first picture handed over;
// * frames while a photo of 48 megapixels is zoomed and dragged, and while its edge is dragged;
// * how it answers while forty photos are looked at and measured on all cores. Drops the demo's
//   photos of pads, rims and lips again and again until there are forty (each with a byte of its
//   own at the end, so that none is a double), and presses keys meanwhile. The time from a key to
//   the program's telling of it holds the key's own way through the X server and the probe's file.
//
//   bench_window [PHOTOS]
//
// Figures, not a test: a loaded machine is slow at everything.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <fstream>
#include <vector>

#include "support/large_photo.h"
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

double now_ms() {
  return std::chrono::duration<double, std::milli>(Clock::now().time_since_epoch()).count();
}

struct Frame {
  double end_ms = 0;  ///< by the clock that all processes share
  double took_ms = 0;
};

std::vector<Frame> frames_of(const fs::path& log, double from_ms = 0) {
  std::ifstream stream(log);
  std::vector<Frame> frames;
  for (Frame frame; stream >> frame.end_ms >> frame.took_ms;)
    if (frame.end_ms - frame.took_ms >= from_ms) frames.push_back(frame);
  return frames;
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

void first_frame(const VirtualDisplay& display) {
  std::vector<double> times_ms;
  for (int i = 0; i < 7; ++i) {
    const TemporaryFolder home;
    const fs::path log = home / "frames.txt";
    const double start_ms = now_ms();
    WindowDriver window(display, home.path(), {}, {"SCANTLING_FRAME_LOG=" + log.string()});
    times_ms.push_back(frames_of(log).at(0).end_ms - start_ms);
    window.quit();
  }
  std::printf("first frame after %.0f ms (median of %zu starts; %.0f to %.0f)\n", median(times_ms),
              times_ms.size(), *std::min_element(times_ms.begin(), times_ms.end()),
              *std::max_element(times_ms.begin(), times_ms.end()));
}

void tell_frames(const char* what, const fs::path& log, double from_ms) {
  std::vector<double> took_ms;
  for (const Frame& frame : frames_of(log, from_ms)) took_ms.push_back(frame.took_ms);
  std::sort(took_ms.begin(), took_ms.end());
  if (took_ms.empty()) return;
  const auto within =
      std::count_if(took_ms.begin(), took_ms.end(), [](double ms) { return ms < 33; });
  const auto count = static_cast<double>(took_ms.size());
  std::printf(
      "%-34s %4zu frames: median %4.1f ms, 99 %% within %5.1f ms, longest %5.1f ms; %.1f %% "
      "under 33 ms\n",
      what, took_ms.size(), median(took_ms), took_ms[static_cast<std::size_t>(0.99 * (count - 1))],
      took_ms.back(), 100 * static_cast<double>(within) / count);
}

void drag_large_photo(const VirtualDisplay& display) {
  const TemporaryFolder home;
  const fs::path log = home / "frames.txt", photo = home / "large.jpg";
  write_larger_photo(demo_photo(), 2, photo);
  const WindowDriver window(display, home.path(), {photo.string()},
                            {"SCANTLING_FRAME_LOG=" + log.string()});
  window.wait_until_measured();
  const auto timed = [&](const char* what, const auto& work) {
    const double from_ms = now_ms();
    work();
    tell_frames(what, log, from_ms);
  };
  timed("48 megapixels, edge dragged", [&] {
    for (int i = 0; i < 4; ++i)
      window.drag("edge:friction_outer", i % 2 ? 10 : 0, i % 2 ? 60 : -60);
  });
  timed("48 megapixels, zoomed", [&] {
    window.wheel("canvas", 10, true);
    window.wheel("canvas", 4, false);
  });
  timed("48 megapixels, dragged", [&] {
    for (int i = 0; i < 6; ++i) window.drag("canvas", i % 2 ? 240 : -240, i % 2 ? 120 : -120);
  });
}

void run(std::size_t photos) {
  const VirtualDisplay display;
  first_frame(display);
  drag_large_photo(display);
  const TemporaryFolder home;
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
