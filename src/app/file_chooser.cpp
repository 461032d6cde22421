#include "app/file_chooser.h"

#include <imgui.h>

#include <algorithm>
#include <cctype>
#include <cstdlib>

#include "app/app.h"
#include "app/theme.h"
#include "app/widgets.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

constexpr const char* kTitle = "Choose a file###chooser";

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

}  // namespace

bool fits_patterns(const std::string& name, const std::vector<std::string>& patterns) {
  const std::string plain = lower(name);
  return patterns.empty() ||
         std::any_of(patterns.begin(), patterns.end(), [&](const std::string& pattern) {
           return plain.ends_with(lower(pattern.substr(pattern.find('.'))));
         });
}

void FileChooser::ask(FileQuestion question, Answer answer) {
  question_ = std::move(question);
  answer_ = std::move(answer);
  name_ = question_.suggestion;
  refusal_.clear();
  asked_ = true;
  if (folder_.empty()) {
    const char* home = std::getenv("HOME");
    folder_ = home && *home ? home : "/";
  }
  enter(folder_);
}

void FileChooser::enter(const fs::path& folder) {
  std::vector<Row> rows;
  std::error_code error;
  for (fs::directory_iterator it(folder, error), end; !error && it != end; it.increment(error)) {
    const std::string name = it->path().filename().string();
    std::error_code ignored;
    const bool is_folder = it->is_directory(ignored);
    if (name.starts_with('.')) continue;
    if (is_folder || fits_patterns(name, question_.patterns))
      rows.push_back({name, is_folder, false});
  }
  if (error) {
    refusal_ = "This folder cannot be read: " + folder.string();
    return;
  }
  std::sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) {
    return a.folder != b.folder ? a.folder : lower(a.name) < lower(b.name);
  });
  folder_ = folder;
  rows_ = std::move(rows);
  refusal_.clear();
}

std::vector<fs::path> FileChooser::picked() const {
  if (question_.save) return {folder_ / name_};
  std::vector<fs::path> files;
  for (const Row& row : rows_)
    if (row.picked) files.push_back(folder_ / row.name);
  return files;
}

void FileChooser::draw_rows(App& app) {
  fs::path into;
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    Row& row = rows_[i];
    ImGui::PushID(static_cast<int>(i));
    const std::string label = row.folder ? row.name + "/" : row.name;
    if (ImGui::Selectable(label.c_str(), row.picked, ImGuiSelectableFlags_DontClosePopups)) {
      if (row.folder) {
        into = folder_ / row.name;
      } else if (question_.save) {
        name_ = row.name;
      } else {
        if (!ImGui::GetIO().KeyCtrl)
          for (Row& other : rows_) other.picked = &other == &row && other.picked;
        row.picked = !row.picked;
      }
    }
    ImGui::PopID();
    place_last_item(app, "row:file:" + row.name);
  }
  if (!into.empty()) enter(into);
}

void FileChooser::draw(App& app) {
  if (asked_) {
    ImGui::OpenPopup(kTitle);
    asked_ = false;
  }
  ImGui::SetNextWindowSize({scaled(560), scaled(440)}, ImGuiCond_Appearing);
  if (!ImGui::BeginPopupModal(kTitle, nullptr, ImGuiWindowFlags_NoSavedSettings)) return;
  heading(question_.title);
  if (small_button(app, "Up", "chooser_up") && folder_.has_parent_path())
    enter(folder_.parent_path());
  ImGui::SameLine();
  ImGui::TextUnformatted(folder_.c_str());
  ImGui::BeginChild("rows", {0, -scaled(question_.save ? 84.0f : 50.0f)}, true);
  draw_rows(app);
  ImGui::EndChild();
  if (question_.save) text_field(app, "chooser_name", "file name", name_, scaled(340));
  if (!refusal_.empty()) wrapped_text(refusal_);
  const std::vector<fs::path> files = picked();
  ImGui::BeginDisabled(files.empty() || (question_.save && name_.empty()));
  const bool done =
      wide_button(app, question_.save ? "Save" : "Open", "chooser_done", scaled(110), true);
  ImGui::EndDisabled();
  ImGui::SameLine();
  const bool cancelled = wide_button(app, "Cancel", "chooser_cancel", scaled(110), false);
  if (done || cancelled) {
    ImGui::CloseCurrentPopup();
    if (done && answer_) answer_(files);
  }
  ImGui::EndPopup();
}

}  // namespace scantling
