#include "app/trouble_page.h"

#include <fmt/format.h>
#include <imgui.h>

#include <nlohmann/json.hpp>

#include "app/fonts.h"
#include "app/theme.h"
#include "record/record_error.h"
#include "record/rescue.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

/// "record-saved.sqlite", or with a number where that is there already.
fs::path name_for_rescue(const fs::path& damaged) {
  for (int i = 1;; ++i) {
    const std::string number = i > 1 ? fmt::format("-{}", i) : std::string();
    const fs::path name =
        damaged.parent_path() /
        fmt::format("{}-saved{}{}", damaged.stem().string(), number, damaged.extension().string());
    std::error_code ignored;
    if (!fs::exists(name, ignored)) return name;
  }
}

void wrapped(const std::string& text) {
  ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + scaled(640));
  ImGui::TextUnformatted(text.c_str());
  ImGui::PopTextWrapPos();
  ImGui::Dummy({0, scaled(6)});
}

}  // namespace

TroublePage::TroublePage(fs::path record, std::string sentence, bool damaged)
    : record_(fs::absolute(record)),
      backup_(newest_backup(record_)),
      sentence_(std::move(sentence)),
      damaged_(damaged) {}

bool TroublePage::button(const char* label, const char* name, bool main) {
  if (main) {
    ImGui::PushStyleColor(ImGuiCol_Button, theme().accent);
    ImGui::PushStyleColor(ImGuiCol_Text, theme().on_accent);
  }
  const bool pressed = ImGui::Button(label, {0, scaled(32)});
  if (main) ImGui::PopStyleColor(2);
  if (buttons_++ == stands_on_ && takes_hold_) {
    ImGui::SetKeyboardFocusHere(-1);
    takes_hold_ = false;
  }
  const ImVec2 from = ImGui::GetItemRectMin(), to = ImGui::GetItemRectMax();
  probe_.place(std::string("button:") + name, {from.x, from.y, to.x - from.x, to.y - from.y});
  ImGui::SameLine(0, scaled(10));
  return pressed;
}

void TroublePage::rescue() {
  const fs::path saved = name_for_rescue(record_);
  try {
    told_ = rescue_words(rescue_record(record_, saved)) +
            " The damaged record stays as it is: " + record_.string() + ". What was saved is in " +
            saved.string() + ".";
    record_ = saved;
    damaged_ = false;
    sentence_.clear();
  } catch (const RecordError& error) {
    sentence_ = error.what();
  }
}

void TroublePage::step(int by) {
  if (buttons_ == 0) return;
  stands_on_ = (stands_on_ + by + buttons_) % buttons_;
  takes_hold_ = true;
}

TroublePage::Way TroublePage::draw(Window& window) {
  ImGui::GetIO().ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
  while (const auto command = window.keys().next()) {
    if (command->action == KeyAction::quit) window.close();
    if (command->action == KeyAction::next_edge) step(1);
    if (command->action == KeyAction::previous_edge) step(-1);
  }
  buttons_ = 0;
  probe_.begin_frame();
  const ImVec2 display = ImGui::GetIO().DisplaySize;
  ImGui::SetNextWindowPos({0, 0});
  ImGui::SetNextWindowSize(display);
  Way way = Way::none;
  constexpr ImGuiWindowFlags kFlags =
      ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings;
  if (ImGui::Begin("##trouble", nullptr, kFlags)) {
    ImGui::SetCursorPos({scaled(60), scaled(60)});
    ImGui::BeginGroup();
    ImGui::PushFont(fonts().large);
    ImGui::TextUnformatted(told_.empty() ? "Your jobs cannot be opened just now" : "Saved");
    ImGui::PopFont();
    ImGui::Dummy({0, scaled(6)});
    if (!told_.empty()) wrapped(told_);
    if (!sentence_.empty()) wrapped(sentence_);
    const bool saved = !told_.empty() && sentence_.empty();
    if (damaged_) {
      wrapped(
          "What can still be read can be saved as a new record beside it, photos included. The "
          "damaged one is only read.");
      if (button("Save what can be read", "rescue", true)) rescue();
    }
    if (button(saved ? "Open it" : "Try again", "open", !damaged_)) way = Way::open;
    if (!backup_.empty() && !saved && button("Open the newest copy", "open_backup", false)) {
      record_ = backup_;
      way = Way::open;
    }
    if (button("Quit", "trouble_quit", false)) way = Way::quit;
    ImGui::EndGroup();
  }
  ImGui::End();
  if (probe_.on())
    probe_.end_frame(
        {{"screen", "trouble"}, {"fault", sentence_}, {"told", told_}, {"busy", false}});
  window.set_title("Scantling");
  return way;
}

}  // namespace scantling
