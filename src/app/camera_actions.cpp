// The camera page's actions: photos of the sheet, and the profile that they come to.
#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "app/app.h"
#include "base/save_file.h"
#include "report/record_cameras.h"

namespace scantling {
namespace fs = std::filesystem;

void App::start_camera_task(const std::string& what, CameraPage::Task task) {
  worker_.start(what, [this, task = std::move(task)](const std::atomic<bool>&) -> Worker::Finish {
    auto progress = std::make_shared<CalibrationProgress>(task());
    return [this, progress] { camera_page_.take(std::move(*progress)); };
  });
}

void App::ask_for_camera_photos() {
  ask({.title = "Open photos of the printed ground sheet",
       .save = false,
       .suggestion = {},
       .patterns = photo_patterns(),
       .pattern_words = "Photos"},
      [this](const std::vector<fs::path>& files) { add_camera_photos(files); });
}

void App::add_camera_photos(const std::vector<fs::path>& photos) {
  for (const fs::path& photo : photos)
    start_camera_task(fmt::format("Looking at {}", photo.filename().string()),
                      camera_page_.looking_at(photo));
}

void App::remove_camera_photo(std::size_t index) {
  start_camera_task("Reckoning anew", camera_page_.removing(index));
}

void App::clear_camera_photos() {
  start_camera_task("Reckoning anew", camera_page_.clearing());
}

void App::save_camera_profile() {
  try {
    camera_page_.save();
  } catch (const UnwritableFile& fault) {
    return show_fault(fault.what());
  }
  load_cameras();
  say("The camera profile is kept. Photos by this phone are measured with it from now on.");
}

// Delete takes off the photo on whose row the keys stand.
bool App::obey_on_camera(const KeyCommand& command) {
  switch (command.action) {
    case KeyAction::escape:
      camera_page_.hide();
      return true;
    case KeyAction::open_photos:
      ask_for_camera_photos();
      return true;
    case KeyAction::remove_photo:
      for (std::size_t i = 0; i < camera_page_.progress().photos.size(); ++i)
        if (focus_.name() == fmt::format("button:camera_remove{}", i + 1)) {
          remove_camera_photo(i);
          break;
        }
      return true;
    case KeyAction::help:
    case KeyAction::settings:
    case KeyAction::save:
    case KeyAction::quit:
      return false;
    default:  // belongs to the photo of the job, which is not shown
      return true;
  }
}

void App::load_cameras() {
  CameraShelfLoad load = load_camera_shelf();
  attempt([&] {
    // The record's own stand behind the user's: of one day, the user's counts.
    CameraShelfLoad recorded = recorded_cameras(session_.record());
    std::move(recorded.shelf.profiles.begin(), recorded.shelf.profiles.end(),
              std::back_inserter(load.shelf.profiles));
    std::move(recorded.checks.begin(), recorded.checks.end(), std::back_inserter(load.checks));
  });
  if (!load.checks.empty()) say(load.checks.front().message);
  cameras_ = std::make_shared<const CameraShelf>(std::move(load.shelf));
}

}  // namespace scantling
