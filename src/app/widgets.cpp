#include "app/widgets.h"

#include <imgui_internal.h>
#include <imgui_stdlib.h>

#include <algorithm>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/shown.h"
#include "app/theme.h"

namespace scantling {

// ImGui finds the size of what a dialog holds in its first frame, and its place, and the height of
// what its columns break into lines, in the next one: it shows once it stands still.
bool begin_dialog(App& app, const char* title) {
  constexpr int kFramesToSettle = 2;
  const ImVec2 display = ImGui::GetIO().DisplaySize;
  ImGui::SetNextWindowPos({display.x / 2, display.y / 2}, ImGuiCond_Always, {0.5f, 0.5f});
  if (!ImGui::BeginPopupModal(title, nullptr,
                              ImGuiWindowFlags_AlwaysAutoResize | ImGuiWindowFlags_NoSavedSettings))
    return false;
  if (ImGui::IsWindowAppearing()) {
    ImGui::GetCurrentWindow()->HiddenFramesForRenderOnly = kFramesToSettle;
    app.window().keep_drawing();
  }
  return true;
}

void heading(const std::string& text) {
  ImGui::PushFont(fonts().strong);
  plain_text(text);
  ImGui::PopFont();
}

namespace {

/// ImGui also breaks a line behind a point or a comma, which may be in the middle of a figure:
/// lines are broken at blanks before it sees them.
std::string broken_at_blanks(const std::string& text, float width) {
  std::string lines, line;
  for (std::size_t from = 0; from <= text.size();) {
    const std::size_t end = std::min(text.find_first_of(" \n", from), text.size());
    const std::string word = text.substr(from, end - from);
    const std::string longer = line.empty() ? word : line + ' ' + word;
    if (line.empty() || ImGui::CalcTextSize(longer.c_str()).x <= width) {
      line = longer;
    } else {
      lines += line + '\n';
      line = word;
    }
    if (end < text.size() && text[end] == '\n') {
      lines += line + '\n';
      line.clear();
    }
    from = end + 1;
  }
  return lines + line;
}

// What has no blank and is still too long, such as a path, ImGui breaks where it can.
void wrap_at_the_edge(const std::string& text) {
  const std::string lines = broken_at_blanks(text, ImGui::GetContentRegionAvail().x);
  ImGui::PushTextWrapPos(0);
  ImGui::TextUnformatted(lines.c_str());
  ImGui::PopTextWrapPos();
}

}  // namespace

void wrapped_text(const std::string& text) {
  wrap_at_the_edge(shown(text));
}
void text_as_written(const std::string& text) {
  wrap_at_the_edge(text);
}

void plain_text(const std::string& text) {
  ImGui::TextUnformatted(shown(text).c_str());
}

void muted_text(const std::string& text) {
  ImGui::PushStyleColor(ImGuiCol_Text, theme().muted);
  ImGui::PushFont(fonts().small);
  wrapped_text(text);
  ImGui::PopFont();
  ImGui::PopStyleColor();
}

void caution_line(WorkStage stage) {
  muted_text(std::string(caution_at(stage).text));
}

void muted_line(const std::string& text) {
  ImGui::PushStyleColor(ImGuiCol_Text, theme().muted);
  ImGui::PushFont(fonts().small);
  plain_text(text);
  ImGui::PopFont();
  ImGui::PopStyleColor();
}

void centred_text(ImDrawList* draw, const ScreenRect& area, const std::string& text, ImU32 colour) {
  ImFont* font = fonts().body;
  const float width = static_cast<float>(area.width) * 0.7f;
  const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6f, width, text.c_str());
  const ScreenPoint middle = area.middle();
  draw->AddText(font, font->FontSize, vec({middle.x - size.x / 2, middle.y - size.y / 2}), colour,
                text.c_str(), nullptr, width);
}

void gap(float height) {
  ImGui::Dummy({0, scaled(height)});
}

void beside_if_it_fits(float width) {
  ImGui::SameLine();
  if (ImGui::GetContentRegionAvail().x < width) ImGui::NewLine();
}

bool fold(App& app, const char* label, const std::string& name, bool open_at_first) {
  gap(2);
  ImGuiStorage* storage = ImGui::GetStateStorage();
  const ImGuiID id = ImGui::GetID(name.c_str());
  const bool open = storage->GetBool(id, open_at_first);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const float height = scaled(26);
  if (bare_button(app, "fold:" + name, {width, height})) storage->SetBool(id, !open);
  const bool hovered = ImGui::IsItemHovered();
  ImDrawList* draw = ImGui::GetWindowDrawList();
  draw->AddLine(at, {at.x + width, at.y}, theme().line, scaled(1));
  const ImU32 ink = hovered ? theme().accent : theme().text;
  const ImVec2 tip(at.x + scaled(6), at.y + height / 2);
  const float s = scaled(4);
  if (open)
    draw->AddTriangleFilled({tip.x - s, tip.y - s * 0.6f}, {tip.x + s, tip.y - s * 0.6f},
                            {tip.x, tip.y + s * 0.8f}, ink);
  else
    draw->AddTriangleFilled({tip.x - s * 0.6f, tip.y - s}, {tip.x + s * 0.8f, tip.y},
                            {tip.x - s * 0.6f, tip.y + s}, ink);
  draw->AddText(fonts().strong, fonts().strong->FontSize, {at.x + scaled(18), at.y + scaled(5)},
                ink, label);
  return open;
}

bool check_box(App& app, const std::string& label, const std::string& name, bool& value) {
  ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, scaled(1));
  ImGui::PushStyleColor(ImGuiCol_Border, theme().muted);
  const bool clicked = ImGui::Checkbox((label + "###" + name).c_str(), &value);
  ImGui::PopStyleColor();
  ImGui::PopStyleVar();
  place_last_item(app, name);
  return clicked;
}

void place_last_item(App& app, const std::string& name) {
  const ImVec2 from = ImGui::GetItemRectMin();
  const ImVec2 to = ImGui::GetItemRectMax();
  app.probe().place(name, {from.x, from.y, to.x - from.x, to.y - from.y});
  app.focus().place(name);
}

void tip_for_last_item(const char* text) {
  if (!ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled)) return;
  ImGui::BeginTooltip();
  ImGui::PushTextWrapPos(scaled(320));
  plain_text(text);
  ImGui::PopTextWrapPos();
  ImGui::EndTooltip();
}

bool small_button(App& app, const char* label, const std::string& name, const char* tip) {
  ImGui::PushID(name.c_str());
  const bool pressed = ImGui::Button(label);
  ImGui::PopID();
  place_last_item(app, "button:" + name);
  if (tip) tip_for_last_item(tip);
  return pressed;
}

bool wide_button(App& app, const char* label, const std::string& name, float width, bool main) {
  ImGui::PushID(name.c_str());
  if (main) {
    ImGui::PushStyleColor(ImGuiCol_Button, theme().accent);
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, with_alpha(theme().accent, 0.85f));
    ImGui::PushStyleColor(ImGuiCol_ButtonActive, with_alpha(theme().accent, 0.7f));
    ImGui::PushStyleColor(ImGuiCol_Text, theme().on_accent);
  }
  const bool pressed = ImGui::Button(label, {width, scaled(32)});
  if (main) ImGui::PopStyleColor(4);
  ImGui::PopID();
  place_last_item(app, "button:" + name);
  return pressed;
}

bool default_button(App& app, const char* label, const std::string& name, float width) {
  const bool pressed = wide_button(app, label, name, width, true);
  return app.take_enter() || pressed;
}

bool bare_button(App& app, const std::string& name, ImVec2 size) {
  ImGui::PushID(name.c_str());
  const bool pressed = ImGui::InvisibleButton("bare", size);
  ImGui::PopID();
  place_last_item(app, name);
  app.focus().frame_it();
  return pressed;
}

bool mouse_area(const char* id, ImVec2 size, ImGuiButtonFlags flags) {
  ImGui::PushItemFlag(ImGuiItemFlags_NoNav, true);
  const bool pressed = ImGui::InvisibleButton(id, size, flags);
  ImGui::PopItemFlag();
  return pressed;
}

bool text_field(App& app, const std::string& name, const char* hint, std::string& text,
                float width) {
  ImGui::SetNextItemWidth(width);
  ImGui::PushID(name.c_str());
  ImGui::InputTextWithHint("##text", hint, &text);
  const bool left = ImGui::IsItemDeactivatedAfterEdit();
  app.probe().tell("field:" + name, text);
  if (ImGui::IsItemActive()) app.probe().tell("typing_into", "field:" + name);
  ImGui::PopID();
  place_last_item(app, "field:" + name);
  return left;
}

}  // namespace scantling
