// The watched folder: photos that the phone's copying program puts there come to the sorting page.
#include <fmt/format.h>
#include <imgui.h>

#include "app/app.h"
#include "base/paths.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

constexpr double kLookEvery_s = 1;

fs::path known_files_path() {
  return user_state_folder() / "watched-photos";
}

}  // namespace

void App::ask_for_watched_folder() {
  ask({.title = "Choose the folder into which the phone's photos come",
       .save = false,
       .suggestion = {},
       .patterns = {},
       .pattern_words = {},
       .folder = true},
      [this](const std::vector<fs::path>& folders) {
        std::error_code ignored;
        fs::remove(known_files_path(), ignored);  // what is there now is not new
        watch_folder(folders.front());
        remember();
      });
}

void App::watch_folder(const fs::path& folder) {
  settings_.watched_folder = folder.string();
  watch_fault_.clear();
  watch_.reset();
  if (folder.empty()) return;
  watch_ = std::make_shared<FolderWatch>(folder, load_known_files(known_files_path(), folder));
}

// On a thread of its own, about once a second: a slow disk holds nothing up.
void App::look_into_watched_folder() {
  if (!watch_ || ending_ || watcher_.busy() || ImGui::GetTime() - watched_at_s_ < kLookEvery_s)
    return;
  watched_at_s_ = ImGui::GetTime();
  watcher_.start("Looking into the watched folder",
                 [this, watch = watch_](const std::atomic<bool>&) -> Worker::Finish {
                   auto look = std::make_shared<FolderWatch::Look>(watch->look());
                   // At the first look all that is there.
                   if (!fs::exists(known_files_path()))
                     save_known_files(known_files_path(), watch->folder(), watch->known());
                   return [this, watch, look] {
                     if (watch == watch_) take_arrived(*look);
                   };
                 });
}

// What was filed or left out is not offered at the next start; what still waits on the sorting page
// is, even after a sudden end.
void App::dealt_with(const std::vector<SortingRow>& rows, bool done) {
  if (!watch_ || rows.empty()) return;
  std::vector<fs::path> files;
  for (const SortingRow& row : rows) files.push_back(row.sight.file);
  watcher_.start("Noting the photos dealt with",
                 [watch = watch_, files, done](const std::atomic<bool>&) -> Worker::Finish {
                   if (done ? watch->dealt_with(files) : watch->taken_up_again(files))
                     save_known_files(known_files_path(), watch->folder(), watch->known());
                   return {};
                 });
}

void App::take_arrived(const FolderWatch::Look& look) {
  watch_fault_ = look.fault;
  if (look.arrived.empty()) return;
  take_to_sorting(look.arrived);
  // Whoever works on a photo is not disturbed: the status bar says that photos wait.
  if (!session_.photo() && !planes_page_.open() && !work_page_.open() && !camera_page_.open())
    show_sorting(true);
}

}  // namespace scantling
