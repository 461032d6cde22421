// The whole axle at a glance: six sections to one scale, what is left, and what is still missing.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "app/app.h"
#include "app/axle_map.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/shown.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "report/wording.h"

namespace scantling {

namespace {

constexpr float kLeastSection = 104;
constexpr float kMostSection = 220;
constexpr float kWordsHeight = 86;
constexpr float kBesideRows = 200;  ///< title, wheels' names, ruler and legend
constexpr float kGap = 14;

std::string part_words(PartSlot slot) {
  if (slot.kind == PartKind::disc) return "disc, worn track inside the lips";
  return slot.place == PadPlace::outer ? "outer pad" : "inner pad";
}

std::string probe_name(PartSlot slot) {
  return fmt::format("map:{}_{}", slot.side == Side::left ? "left" : "right",
                     slot.kind == PartKind::disc     ? "disc"
                     : slot.place == PadPlace::outer ? "outer"
                                                     : "inner");
}

// Text at a place, wrapped; returns its height.
float put(ImFont* font, ImVec2 at, float width, const std::string& words, ImU32 colour) {
  const std::string text = shown(words);
  ImGui::GetWindowDrawList()->AddText(font, font->FontSize, at, colour, text.c_str(), nullptr,
                                      width);
  return font->CalcTextSizeA(font->FontSize, 1e6f, width, text.c_str()).y;
}

void draw_words(const MapPart& part, ImVec2 at, float width) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  at.y += put(fonts().small, at, width, part_words(part.slot), theme().muted) + scaled(2);
  const float side = scaled(13);
  fill_pattern(draw, {at.x, at.y + scaled(3)}, {at.x + side, at.y + scaled(3) + side}, part.look);
  at.y += put(fonts().strong, {at.x + side + scaled(7), at.y}, width - side - scaled(7),
              capitalised(part.state), theme().text) +
          scaled(3);
  if (!part.figure.empty()) at.y += put(fonts().body, at, width, part.figure, theme().text);
  if (!part.missing.empty()) put(fonts().small, at, width, part.missing, theme().muted);
}

// One part: its section, its words, the click that opens it.
void draw_part(App& app, const MapPart& part, ImVec2 at, float width, const MapScale& scale,
               float section_height) {
  Session& session = app.session();
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const std::string name = probe_name(part.slot);
  const float height = section_height + scaled(kWordsHeight);
  const float margin = scaled(6);
  ImGui::SetCursorScreenPos({at.x - margin, at.y});
  const bool clicked = bare_button(app, name, {width + 2 * margin, height});
  const bool hovered = ImGui::IsItemHovered();
  app.probe().tell(name, part.state + "|" + part.figure + "|" + part.missing);
  const bool selected = session.slot() == part.slot;
  const ImVec2 from(at.x - margin, at.y), to(at.x + width + margin, at.y + height);
  if (hovered) draw->AddRectFilled(from, to, with_alpha(theme().hovered, 0.5f), scaled(3));
  if (selected) draw->AddRect(from, to, theme().accent, scaled(3), 0, scaled(2));
  draw_map_section(draw, at, section_height, scale, part);
  draw_words(part, {at.x, at.y + section_height}, width);
  if (clicked) {
    session.select_part(part.slot);
    app.show_map(false);
  }
}

void draw_ruler(const MapScale& scale, ImVec2 at) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const float length = static_cast<float>(10 * scale.px_per_mm);
  draw->AddLine(at, {at.x + length, at.y}, theme().text, scaled(1.5f));
  for (const float x : {at.x, at.x + length})
    draw->AddLine({x, at.y - scaled(4)}, {x, at.y + scaled(4)}, theme().text, scaled(1.5f));
  put(fonts().small, {at.x + length + scaled(8), at.y - scaled(8)}, scaled(80), "10 mm",
      theme().muted);
}

}  // namespace

void draw_axle_map(App& app, const ScreenRect& area) {
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize(vec({area.width, area.height}));
  ImGui::PushStyleColor(ImGuiCol_WindowBg, theme().panel);
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                      ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus;
  const bool open = ImGui::Begin("##axle_map", nullptr, kFlags);
  ImGui::PopStyleColor();
  if (!open) return ImGui::End();
  const JobSummary& job = *app.session().job();
  ImGui::PushFont(fonts().large);
  ImGui::TextUnformatted(capitalised(axle_title(job.job.axle)).c_str());
  ImGui::PopFont();
  muted_text("What is left of each part, cut through, all to one scale. Click a part to open it.");
  const float room = ImGui::GetContentRegionAvail().x;
  const float gap = scaled(kGap);
  const auto parts = map_parts(job);
  const MapScale scale = map_scale(parts, room - scaled(12), gap);
  const float rows_room = static_cast<float>(area.height) - scaled(kBesideRows);
  const float section_height =
      std::clamp(rows_room / 2 - scaled(kWordsHeight), scaled(kLeastSection), scaled(kMostSection));
  for (std::size_t row = 0; row < 2; ++row) {
    ImGui::Dummy({0, scaled(2)});
    heading(row == 0 ? "Left wheel" : "Right wheel");
    const ImVec2 at = ImGui::GetCursorScreenPos();
    float x = at.x + scaled(6);
    for (std::size_t column = 0; column < 3; ++column) {
      const float width = static_cast<float>(scale.column_px[column]);
      draw_part(app, parts[3 * row + column], {x, at.y}, width, scale, section_height);
      x += width + gap;
    }
    ImGui::SetCursorScreenPos({at.x, at.y + section_height + scaled(kWordsHeight)});
  }
  const ImVec2 at = ImGui::GetCursorScreenPos();
  draw_ruler(scale, {at.x + scaled(6), at.y + scaled(14)});
  ImGui::Dummy({room, scaled(24)});
  muted_text(
      "Left in each row is the outside of the car. Patterned band: where the face lies with 95 % "
      "confidence. White line: the minimum. Yellow diamond: a reading by hand. Thin outline: not "
      "measured yet. Arrow keys choose, Enter opens, M goes back to the photo.");
  ImGui::End();
}

}  // namespace scantling
