#include "app/theme.h"

#include <cmath>

namespace scantling {

namespace {

// Okabe and Ito's colours (2008): told apart under every common colour blindness.
constexpr ImU32 kOrange = IM_COL32(0xE6, 0x9F, 0x00, 255);
constexpr ImU32 kSky = IM_COL32(0x56, 0xB4, 0xE9, 255);
constexpr ImU32 kGreen = IM_COL32(0x00, 0x9E, 0x73, 255);
constexpr ImU32 kYellow = IM_COL32(0xF0, 0xE4, 0x42, 255);
constexpr ImU32 kBlue = IM_COL32(0x00, 0x72, 0xB2, 255);
constexpr ImU32 kVermillion = IM_COL32(0xD5, 0x5E, 0x00, 255);
constexpr ImU32 kPurple = IM_COL32(0xCC, 0x79, 0xA7, 255);

constexpr Theme kDark = {
    .canvas = IM_COL32(0x14, 0x15, 0x17, 255),
    .panel = IM_COL32(0x20, 0x21, 0x24, 255),
    .raised = IM_COL32(0x2D, 0x2F, 0x34, 255),
    .hovered = IM_COL32(0x3A, 0x3D, 0x43, 255),
    .line = IM_COL32(0x44, 0x47, 0x4E, 255),
    .text = IM_COL32(0xF1, 0xF1, 0xEE, 255),
    .muted = IM_COL32(0xB4, 0xB7, 0xBC, 255),
    .accent = kSky,
    .on_accent = IM_COL32(0x0B, 0x12, 0x18, 255),
};
constexpr Theme kLight = {
    .canvas = IM_COL32(0x5B, 0x5E, 0x63, 255),
    .panel = IM_COL32(0xF4, 0xF4, 0xF1, 255),
    .raised = IM_COL32(0xE3, 0xE4, 0xE1, 255),
    .hovered = IM_COL32(0xD3, 0xD5, 0xD3, 255),
    .line = IM_COL32(0xBA, 0xBC, 0xBA, 255),
    .text = IM_COL32(0x17, 0x18, 0x1A, 255),
    .muted = IM_COL32(0x50, 0x54, 0x59, 255),
    .accent = kBlue,
    .on_accent = IM_COL32(0xFF, 0xFF, 0xFF, 255),
};

Theme current = kDark;
float current_scale = 1;

void set(ImGuiCol which, ImU32 colour) {
  ImGui::GetStyle().Colors[which] = as_vec4(colour);
}

void set_colours() {
  const Theme& t = current;
  set(ImGuiCol_Text, t.text);
  set(ImGuiCol_TextDisabled, t.muted);
  set(ImGuiCol_WindowBg, t.panel);
  set(ImGuiCol_ChildBg, IM_COL32(0, 0, 0, 0));
  set(ImGuiCol_PopupBg, t.panel);
  set(ImGuiCol_Border, t.line);
  set(ImGuiCol_FrameBg, t.raised);
  set(ImGuiCol_FrameBgHovered, t.hovered);
  set(ImGuiCol_FrameBgActive, t.hovered);
  set(ImGuiCol_TitleBg, t.raised);
  set(ImGuiCol_TitleBgActive, t.raised);
  set(ImGuiCol_MenuBarBg, t.panel);
  set(ImGuiCol_ScrollbarBg, IM_COL32(0, 0, 0, 0));
  set(ImGuiCol_ScrollbarGrab, t.line);
  set(ImGuiCol_ScrollbarGrabHovered, t.muted);
  set(ImGuiCol_ScrollbarGrabActive, t.muted);
  set(ImGuiCol_CheckMark, t.accent);
  set(ImGuiCol_SliderGrab, t.accent);
  set(ImGuiCol_SliderGrabActive, t.accent);
  set(ImGuiCol_Button, t.raised);
  set(ImGuiCol_ButtonHovered, t.hovered);
  set(ImGuiCol_ButtonActive, t.line);
  set(ImGuiCol_Header, t.raised);
  set(ImGuiCol_HeaderHovered, t.hovered);
  set(ImGuiCol_HeaderActive, t.hovered);
  set(ImGuiCol_Separator, t.line);
  set(ImGuiCol_ResizeGrip, IM_COL32(0, 0, 0, 0));
  set(ImGuiCol_PlotHistogram, t.accent);
  set(ImGuiCol_TextSelectedBg, with_alpha(t.accent, 0.35f));
  set(ImGuiCol_NavHighlight, t.accent);
  set(ImGuiCol_ModalWindowDimBg, IM_COL32(0, 0, 0, 140));
}

// Slanting lines across a rectangle, `slope` +1 or -1.
void slant(ImDrawList* draw, ImVec2 from, ImVec2 to, float step, float slope, ImU32 colour) {
  const float height = to.y - from.y;
  for (float x = from.x - height; x < to.x + height; x += step) {
    const ImVec2 a(x, slope > 0 ? from.y : to.y);
    const ImVec2 b(x + height, slope > 0 ? to.y : from.y);
    draw->AddLine(a, b, colour, scaled(2));
  }
}

}  // namespace

const Theme& theme() {
  return current;
}
float ui_scale() {
  return current_scale;
}

void apply_theme(bool light, float scale) {
  current = light ? kLight : kDark;
  current_scale = scale;
  ImGuiStyle& style = ImGui::GetStyle();
  style = ImGuiStyle();
  style.WindowRounding = 0;
  style.ChildRounding = 3;
  style.FrameRounding = 3;
  style.PopupRounding = 3;
  style.GrabRounding = 3;
  style.ScrollbarRounding = 3;
  style.ScrollbarSize = 11;
  style.WindowBorderSize = 0;
  style.PopupBorderSize = 1;
  style.FrameBorderSize = 0;
  style.WindowPadding = {14, 12};
  style.FramePadding = {9, 5};
  style.ItemSpacing = {8, 6};
  style.ItemInnerSpacing = {6, 5};
  style.CellPadding = {4, 3};
  style.IndentSpacing = 14;
  style.DisabledAlpha = 0.5f;
  style.ScaleAllSizes(scale);
  set_colours();
}

StateLook look_of(VerdictState state) {
  switch (state) {
    case VerdictState::keep:
      return {kBlue, Pattern::solid};
    case VerdictState::keep_due_soon:
      return {kSky, Pattern::dots};
    case VerdictState::replace:
      return {kVermillion, Pattern::cross};
    case VerdictState::gauge_it:
      break;
  }
  return {kOrange, Pattern::diagonal};
}

StateLook look_of(const PartSummary& part) {
  if (part.verdict) return look_of(part.verdict->state);
  const bool wants_action =
      part.standing == PartStanding::confirm_first || part.standing == PartStanding::photo_unusable;
  return wants_action ? look_of(VerdictState::gauge_it)
                      : StateLook{current.muted, Pattern::outline};
}

EdgeLook look_of_edge(std::string_view edge_name) {
  if (edge_name == "plate_outer" || edge_name == "face_a") return {kSky, 0, 0};
  if (edge_name == "plate_friction" || edge_name == "face_b") return {kYellow, 14, 7};
  if (edge_name == "wall_foot") return {kGreen, 0, 0};
  return {kPurple, 5, 5};
}

void fill_pattern(ImDrawList* draw, ImVec2 from, ImVec2 to, StateLook look) {
  const float step = scaled(9);
  if (look.pattern == Pattern::outline) {
    draw->AddRect(from, to, look.colour, 0, 0, scaled(1.5f));
    return;
  }
  draw->AddRectFilled(from, to, look.colour);
  if (look.pattern == Pattern::solid) return;
  const ImU32 ink = IM_COL32(0, 0, 0, 110);
  draw->PushClipRect(from, to, true);
  if (look.pattern == Pattern::dots) {
    for (float y = from.y + step / 2; y < to.y; y += step)
      for (float x = from.x + step / 2; x < to.x; x += step)
        draw->AddCircleFilled({x, y}, scaled(2), ink, 8);
  } else {
    slant(draw, from, to, step, -1, ink);
    if (look.pattern == Pattern::cross) slant(draw, from, to, step, 1, ink);
  }
  draw->PopClipRect();
}

ImVec4 as_vec4(ImU32 colour) {
  return ImGui::ColorConvertU32ToFloat4(colour);
}

ImU32 with_alpha(ImU32 colour, float alpha) {
  const auto byte = static_cast<ImU32>(std::lround(alpha * 255));
  return (colour & ~IM_COL32_A_MASK) | (byte << IM_COL32_A_SHIFT);
}

}  // namespace scantling
