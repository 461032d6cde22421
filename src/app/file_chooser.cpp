#include "app/file_chooser.h"

#include <imgui.h>

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <utility>

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

fs::path home() {
  const char* folder = std::getenv("HOME");
  return folder && *folder ? folder : "/";
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
  if (open_) return;
  question_ = std::move(question);
  answer_ = std::move(answer);
  name_ = question_.suggestion;
  refusal_.clear();
  to_replace_.clear();
  asked_ = open_ = true;
  if (folder_.empty() || !enter(folder_)) enter(home());
}

bool FileChooser::enter(const fs::path& folder) {
  std::vector<Row> rows;
  std::error_code error;
  for (fs::directory_iterator it(folder, error), end; !error && it != end; it.increment(error)) {
    const std::string name = it->path().filename().string();
    std::error_code ignored;
    const bool is_folder = it->is_directory(ignored);
    if (name.starts_with('.')) continue;
    if (is_folder || (!question_.folder && fits_patterns(name, question_.patterns)))
      rows.push_back({name, is_folder, false});
  }
  if (error) {
    refusal_ = "This folder cannot be read: " + folder.string();
    return false;
  }
  std::sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) {
    return a.folder != b.folder ? a.folder : lower(a.name) < lower(b.name);
  });
  folder_ = folder;
  place_ = folder.string();
  rows_ = std::move(rows);
  cursor_ = -1;
  scroll_to_cursor_ = true;
  refusal_.clear();
  return true;
}

void FileChooser::enter_parent() {
  const fs::path left = folder_;
  if (!folder_.has_parent_path() || !enter(folder_.parent_path())) return;
  // The folder one comes from stays under the keys.
  for (std::size_t i = 0; i < rows_.size(); ++i)
    if (rows_[i].name == left.filename().string()) cursor_ = static_cast<int>(i);
}

// A folder typed or pasted is entered, a file typed with its folder is picked.
void FileChooser::go_to_typed_place() {
  const fs::path typed = fs::path(place_).is_relative() ? home() / place_ : fs::path(place_);
  std::error_code ignored;
  if (fs::is_directory(typed, ignored)) {
    enter(typed.has_filename() ? typed : typed.parent_path());
    return;
  }
  if (fs::is_regular_file(typed, ignored) && !question_.save) return leave({typed});
  refusal_ = "There is no folder of this name: " + typed.string();
}

void FileChooser::choose_row(std::size_t which, bool together) {
  Row& row = rows_[which];
  cursor_ = static_cast<int>(which);
  if (question_.save) {
    if (!row.folder) name_ = row.name;
    return;
  }
  if (!together)
    for (Row& other : rows_) other.picked = &other == &row && other.picked;
  if (!row.folder) row.picked = !row.picked || !together;
}

void FileChooser::step(int rows) {
  if (rows_.empty()) return;
  const int last = static_cast<int>(rows_.size()) - 1;
  cursor_ = cursor_ < 0 ? (rows > 0 ? 0 : last) : std::clamp(cursor_ + rows, 0, last);
  for (Row& row : rows_) row.picked = false;
  choose_row(static_cast<std::size_t>(cursor_), false);
  scroll_to_cursor_ = true;
}

// Enter and the right arrow on a folder go into it.
void FileChooser::enter_row() {
  if (cursor_ >= 0 && rows_[static_cast<std::size_t>(cursor_)].folder)
    enter(folder_ / rows_[static_cast<std::size_t>(cursor_)].name);
}

bool FileChooser::press(const KeyCommand& command) {
  const bool on_folder = cursor_ >= 0 && rows_[static_cast<std::size_t>(cursor_)].folder;
  switch (command.action) {
    case KeyAction::nudge:
      if (command.towards_x < 0)
        enter_parent();
      else if (command.towards_y != 0)
        step(static_cast<int>(command.towards_y * command.step_px));
      else
        enter_row();
      return true;
    case KeyAction::next_photo:
    case KeyAction::previous_photo:
      step(command.action == KeyAction::next_photo ? 10 : -10);
      return true;
    case KeyAction::confirm:
      if (!picked().empty() && !(on_folder && (question_.save || question_.folder)))
        accept();
      else
        enter_row();
      return true;
    case KeyAction::escape:
      leave({});
      return true;
    default:
      return false;
  }
}

std::vector<fs::path> FileChooser::picked() const {
  if (question_.folder) return {folder_};
  if (question_.save) {
    if (name_.find_first_not_of(' ') == std::string::npos) return {};
    return {with_pattern_ending(folder_ / name_, question_)};
  }
  std::vector<fs::path> files;
  for (const Row& row : rows_)
    if (row.picked) files.push_back(folder_ / row.name);
  return files;
}

void FileChooser::accept() {
  const std::vector<fs::path> files = picked();
  if (files.empty()) return;
  std::error_code ignored;
  if (question_.save && fs::exists(files.front(), ignored) && to_replace_ != files.front()) {
    to_replace_ = files.front();
    refusal_ = files.front().filename().string() +
               " is there already. Press Replace to write over it, or choose another name.";
    return;
  }
  leave(files);
}

void FileChooser::leave(const std::vector<fs::path>& files) {
  leaving_ = true;
  if (!files.empty() && answer_) answer_(files);
}

void FileChooser::draw_place(App& app) {
  if (small_button(app, "Up", "chooser_up", "The folder above (left arrow)")) enter_parent();
  ImGui::SameLine();
  if (small_button(app, "Home", "chooser_home")) enter(home());
  ImGui::SameLine();
  if (text_field(app, "chooser_place", "folder", place_, ImGui::GetContentRegionAvail().x) &&
      place_ != folder_.string()) {
    go_to_typed_place();
    app.focus().leave();  // back to the list
  }
}

void FileChooser::draw_rows(App& app) {
  fs::path into;
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    Row& row = rows_[i];
    const bool under_keys = cursor_ == static_cast<int>(i);
    ImGui::PushID(static_cast<int>(i));
    const std::string label = row.folder ? row.name + "/" : row.name;
    constexpr ImGuiSelectableFlags kFlags =
        ImGuiSelectableFlags_DontClosePopups | ImGuiSelectableFlags_AllowDoubleClick;
    if (ImGui::Selectable(label.c_str(), row.picked || under_keys, kFlags)) {
      const bool twice = ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left);
      choose_row(i, ImGui::GetIO().KeyCtrl);
      if (row.folder)
        into = folder_ / row.name;
      else if (twice && !question_.save)
        leave({folder_ / row.name});
    }
    ImGui::PopID();
    place_last_item(app, "row:file:" + row.name);
    if (under_keys && scroll_to_cursor_) ImGui::SetScrollHereY();
  }
  scroll_to_cursor_ = false;
  if (rows_.empty())
    muted_text(question_.folder ? "No folder in this one."
               : question_.save ? "Nothing in this folder yet."
                                : "No photos in this folder: JPEG, PNG, TIFF and HEIC are read.");
  if (!into.empty()) enter(into);
}

void FileChooser::draw(App& app) {
  if (asked_) {
    ImGui::OpenPopup(kTitle);
    asked_ = false;
  }
  const ImVec2 display = ImGui::GetIO().DisplaySize;
  ImGui::SetNextWindowPos({display.x / 2, display.y / 2}, ImGuiCond_Always, {0.5f, 0.5f});
  ImGui::SetNextWindowSize({std::min(scaled(600), display.x - scaled(20)),
                            std::min(scaled(480), display.y - scaled(20))},
                           ImGuiCond_Always);
  constexpr ImGuiWindowFlags kFlags =
      ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove;
  if (!ImGui::BeginPopupModal(kTitle, nullptr, kFlags)) {
    open_ = false;
    return;
  }
  heading(question_.title);
  draw_place(app);
  // What stands below the list: a refusal may take two lines.
  const float below = scaled(question_.save ? 78.0f : 44.0f) +
                      (refusal_.empty() ? 0.0f : 2.2f * ImGui::GetTextLineHeight());
  ImGui::BeginChild("rows", {0, -below}, true);
  draw_rows(app);
  ImGui::EndChild();
  if (question_.save) {
    if (ImGui::IsWindowAppearing()) ImGui::SetKeyboardFocusHere();
    text_field(app, "chooser_name", "file name", name_, ImGui::GetContentRegionAvail().x);
    // Enter in the field saves; leaving it by the mouse does not.
    if (ImGui::IsItemDeactivated() && ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Enter)))
      accept();
  }
  app.probe().tell("chooser_refusal", refusal_);
  if (!refusal_.empty()) wrapped_text(refusal_);
  const std::vector<fs::path> files = picked();
  const bool replaces = !files.empty() && files.front() == to_replace_;
  ImGui::BeginDisabled(files.empty());
  const char* word = question_.folder  ? "Choose"
                     : !question_.save ? "Open"
                     : replaces        ? "Replace"
                                       : "Save";
  if (wide_button(app, word, "chooser_done", scaled(110), true)) accept();
  ImGui::EndDisabled();
  ImGui::SameLine();
  if (wide_button(app, "Cancel", "chooser_cancel", scaled(110), false) || app.take_escape())
    leave({});
  if (std::exchange(leaving_, false)) ImGui::CloseCurrentPopup();
  ImGui::EndPopup();
}

}  // namespace scantling
