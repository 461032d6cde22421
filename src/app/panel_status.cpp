#include <fmt/format.h>
#include <imgui.h>

#include <cmath>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/shown.h"
#include "app/theme.h"
#include "app/widgets.h"

namespace scantling {

namespace {

/// Words that can be clicked, underlined.
bool link(App& app, const std::string& words, const std::string& name) {
  const ImVec2 size = ImGui::CalcTextSize(words.c_str());
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const bool pressed = bare_button(app, "button:" + name, size);
  const ImU32 ink = ImGui::IsItemHovered() ? theme().accent : theme().text;
  ImDrawList* draw = ImGui::GetWindowDrawList();
  draw->AddText(at, ink, words.c_str());
  draw->AddLine({at.x, at.y + size.y}, {at.x + size.x, at.y + size.y}, ink, scaled(1));
  return pressed;
}

/// Photos that are measured on all cores, photos that wait to be sorted, the watched folder.
void draw_heaps(App& app) {
  const auto [done, all] = app.measuring();
  if (all > 0) {
    ImGui::SameLine(0, scaled(12));
    if (link(app, "Stop", "measuring_stop")) app.stop_batch();
  } else if (const std::size_t left = app.not_measured(); left > 0) {
    ImGui::SameLine(0, scaled(12));
    const std::string words =
        fmt::format("{} photo{} not measured: go on", left, left == 1 ? "" : "s");
    if (link(app, words, "measuring_go_on")) app.go_on_measuring();
  }
  const std::size_t waiting = app.sorting_page().rows().size();
  if (waiting > 0 && !app.sorting_page().open()) {
    ImGui::SameLine(0, scaled(18));
    const std::string words =
        fmt::format("{} photo{} to sort (S)", waiting, waiting == 1 ? "" : "s");
    if (link(app, words, "to_sort")) app.show_sorting(true);
  }
  const std::filesystem::path watched = app.settings().watched_folder;
  if (watched.empty()) return;
  ImGui::SameLine(0, scaled(18));
  ImGui::TextDisabled(
      "%s", (app.watch_fault().empty() ? "Watching " + watched.filename().string()
                                       : "The watched folder is not there: " + watched.string())
                .c_str());
  place_last_item(app, "status:watching");
  tip_for_last_item(watched.string().c_str());
}

/// The words as far as there is room for them.
std::string shortened(const std::string& words, float room) {
  if (ImGui::CalcTextSize(words.c_str()).x <= room) return words;
  std::string cut = words;
  while (!cut.empty() && ImGui::CalcTextSize((cut + "…").c_str()).x > room) {
    // A character's later bytes go with its first.
    while (!cut.empty() && (cut.back() & 0xC0) == 0x80) cut.pop_back();
    if (!cut.empty()) cut.pop_back();
  }
  return cut + "…";
}

/// A bar that shows that something goes on, and what.
void draw_doing(const App& app, float end) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const float width = scaled(70), height = scaled(5), y = from.y + scaled(6);
  draw->AddRectFilled({from.x, y}, {from.x + width, y + height}, theme().raised);
  const auto turn = static_cast<float>(std::fmod(ImGui::GetTime(), 1.2) / 1.2);
  const float x = from.x + turn * width * 0.7f;
  draw->AddRectFilled({x, y}, {x + width * 0.3f, y + height}, theme().accent);
  ImGui::Dummy({width, scaled(14)});
  ImGui::SameLine();
  const auto [done, all] = app.measuring();
  const std::string doing =
      all > 0 ? fmt::format("Measured {} of {} photos", done, all) : app.doing();
  ImGui::TextUnformatted(doing.empty() ? "Working"
                                       : shortened(doing, end - ImGui::GetCursorPosX()).c_str());
}

/// What goes on, or that nothing does. What comes after it keeps its place, for the pointer that is
/// on its way there.
void draw_standing(App& app) {
  const float end = ImGui::GetCursorPosX() + scaled(70 + 8) +
                    ImGui::CalcTextSize("Opening the photo to compare with").x;
  if (app.busy()) {
    draw_doing(app, end);
  } else {
    ImGui::TextUnformatted(app.session().job() ? "All saved" : "Ready");
    place_last_item(app, "status:saved");
  }
  ImGui::SameLine(end, 0);
  ImGui::Dummy({0, ImGui::GetTextLineHeight()});
}

/// What the keys can do now.
std::string help_words(App& app) {
  if (app.focus().in_controls()) return "Tab, arrows: go on   Enter: press   Esc: back   F1: keys";
  const std::string* undo = app.session().history().undo_name();
  return undo ? fmt::format("Ctrl+Z takes back: {}      F1: keys", *undo) : "F1: keys";
}

/// The sentence about what was done last; where a file was written, the ways to it before the path.
void draw_notice(App& app, float end) {
  ImGui::SameLine(0, scaled(18));
  if (!app.written().empty()) {
    if (app.written_opens()) {
      if (link(app, "Open it", "open_written")) app.open_written();
      ImGui::SameLine(0, scaled(12));
    }
    if (link(app, "Show the folder", "show_folder")) app.show_written_folder();
    ImGui::SameLine(0, scaled(12));
  }
  const std::string words = shown(app.notice());
  ImGui::TextUnformatted(shortened(words, end - ImGui::GetCursorPosX()).c_str());
  tip_for_last_item(app.notice().c_str());
}

}  // namespace

void draw_status_bar(App& app, const ScreenRect& area) {
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize(vec({area.width, area.height}));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {scaled(14), scaled(5)});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowMinSize, {1, 1});
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus;
  if (ImGui::Begin("##status", nullptr, kFlags)) {
    ImGui::PushFont(fonts().small);
    const ImVec2 at = ImGui::GetWindowPos();
    ImDrawList* line = ImGui::GetWindowDrawList();
    line->PushClipRectFullScreen();
    line->AddLine(at, {at.x + static_cast<float>(area.width), at.y}, theme().line, scaled(1));
    line->PopClipRect();
    draw_standing(app);
    draw_heaps(app);
    const std::string right = help_words(app);
    const float width = ImGui::CalcTextSize(right.c_str()).x;
    const float end = static_cast<float>(area.width) - width - scaled(14);
    if (!app.notice().empty()) draw_notice(app, end - scaled(24));
    ImGui::SameLine(end);
    ImGui::TextDisabled("%s", right.c_str());
    ImGui::PopFont();
  }
  ImGui::End();
  ImGui::PopStyleVar(2);
}

}  // namespace scantling
