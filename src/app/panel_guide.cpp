// How to take the photos of one view: drawn, in steps, and what ruins them.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/theme.h"
#include "app/widgets.h"

namespace scantling {

namespace {

constexpr float kLeastForTwo = 500;  ///< style pixels; below, the drawings stand one over the other
constexpr float kSketchPad = 10;
constexpr float kIdSketchWidth = 190;

PartKind kind_of(View view) {
  return view == View::pad || view == View::pile ? PartKind::pad : PartKind::disc;
}

void draw_tabs(App& app, View shown, bool in_place) {
  bool first = true;
  for (const CaptureGuide& guide : capture_guides()) {
    if (in_place && kind_of(guide.view) != app.session().slot().kind) continue;
    if (!first) ImGui::SameLine(0, scaled(2));
    first = false;
    const bool on = guide.view == shown;
    if (on) {
      ImGui::PushStyleColor(ImGuiCol_Button, theme().accent);
      ImGui::PushStyleColor(ImGuiCol_ButtonHovered, theme().accent);
      ImGui::PushStyleColor(ImGuiCol_Text, theme().on_accent);
    }
    if (small_button(app, guide.tab, std::string("guide_") + view_word(guide.view)))
      app.show_guide(guide.view);
    if (on) ImGui::PopStyleColor(3);
  }
  if (in_place) return;
  ImGui::SameLine(0, scaled(14));
  if (small_button(app, "Close", "guide_close", "Back (Esc)")) app.close_guide();
}

void draw_print_buttons(App& app) {
  beside_if_it_fits(scaled(180));
  if (wide_button(app, "Print the card (A4)…", "guide_sheet_a4", scaled(180), false))
    app.write_sheet(Paper::a4);
  beside_if_it_fits(scaled(110));
  if (wide_button(app, "US Letter…", "guide_sheet_letter", scaled(110), false))
    app.write_sheet(Paper::letter);
}

// The next step: photos of this view for the selected part.
void draw_next_step(App& app, View view) {
  Session& session = app.session();
  if (!session.job()) {
    if (wide_button(app, "Start a job…", "guide_new_job", scaled(130), true)) app.new_job();
    return draw_print_buttons(app);
  }
  if (kind_of(view) != session.slot().kind) return;
  if (from_planes(view)) {
    if (!app.planes_page().open() &&
        wide_button(app, "Open the page for these…", "guide_planes", scaled(210), true))
      app.show_planes(true);
    return;
  }
  if (wide_button(app, "Open photos…", "open_photos", scaled(150), true)) {
    session.choose_kind_to_add(app.kind_to_add(view));
    app.ask_for_photos();
  }
  draw_print_buttons(app);
  muted_text("Or drop photos anywhere on this window.");
}

void draw_sketch_box(const CaptureGuide& guide, int which, float width) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float pad = scaled(kSketchPad), inner = width - 2 * pad;
  const float title = fonts().small->FontSize + scaled(6);
  const float height = title + inner * SketchPen::kHeight / SketchPen::kWidth + 2 * pad;
  draw->AddRectFilled(at, {at.x + width, at.y + height}, theme().raised, scaled(4));
  draw->AddText(fonts().small, fonts().small->FontSize, {at.x + pad, at.y + pad * 0.8f},
                theme().muted, guide.sketches[static_cast<std::size_t>(which)]);
  draw_guide_sketch(SketchPen(draw, {at.x + pad, at.y + pad + title}, inner), guide.view, which);
  ImGui::Dummy({width, height});
}

void draw_steps(const CaptureGuide& guide) {
  heading("How");
  int number = 0;
  for (const char* step : guide.steps) {
    ImGui::TextUnformatted(fmt::format("{}", ++number).c_str());
    ImGui::SameLine(scaled(24) + ImGui::GetCursorStartPos().x);
    wrapped_text(step);
  }
}

// In as many columns as there is room for.
void draw_ruins(const CaptureGuide& guide) {
  gap(2);
  heading("What ruins it");
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const float room = ImGui::GetContentRegionAvail().x;
  const int columns = room > scaled(kLeastForTwo) ? 2 : 1;
  if (!ImGui::BeginTable("ruins", columns)) return;
  for (const char* words : guide.ruins) {
    ImGui::TableNextColumn();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float s = scaled(3.5f), x = at.x + scaled(7), y = at.y + fonts().body->FontSize / 2 + 1;
    draw->AddLine({x - s, y - s}, {x + s, y + s}, theme().text, scaled(1.8f));
    draw->AddLine({x - s, y + s}, {x + s, y - s}, theme().text, scaled(1.8f));
    ImGui::SetCursorScreenPos({at.x + scaled(24), at.y});
    wrapped_text(words);
  }
  ImGui::EndTable();
}

void draw_id_card(View view) {
  gap(2);
  heading("Without a printer");
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = scaled(kIdSketchWidth);
  // Only the drawing's lower two thirds are used.
  const float unit = width / SketchPen::kWidth, top = 56 * unit;
  const float height = 104 * unit;
  draw->AddRectFilled(at, {at.x + width, at.y + height}, theme().raised, scaled(4));
  draw_id_card_sketch(SketchPen(draw, {at.x, at.y - top}, width), view);
  ImGui::SetCursorScreenPos({at.x + width + scaled(14), at.y});
  ImGui::BeginGroup();
  muted_text(fmt::format(
      "Stand a blank or loyalty card of bank-card size beside the {}, its face level with the edge "
      "and of another colour than what is behind it, all four sides in the picture. Choose the "
      "ID-1 card under Printed sheet. Less sure than the printed card. Never photograph a payment "
      "card's number.",
      view == View::rim ? "rim" : "pad"));
  ImGui::EndGroup();
  const float below = at.y + height + scaled(6);
  if (ImGui::GetCursorScreenPos().y < below) ImGui::SetCursorScreenPos({at.x, below});
  ImGui::Dummy({1, 1});
}

}  // namespace

void draw_guide(App& app, View view, const ScreenRect& area, bool in_place) {
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize(vec({area.width, area.height}));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {scaled(18), scaled(14)});
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                      ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus;
  const bool open = ImGui::Begin("##guide", nullptr, kFlags);
  ImGui::PopStyleVar();
  app.probe().place("guide", area);
  if (open) {
    const CaptureGuide& guide = capture_guide(view);
    app.probe().tell("guide", guide.title);
    if (!in_place || !app.planes_page().open()) {
      draw_tabs(app, view, in_place);
      gap(4);
    }
    ImGui::PushFont(fonts().large);
    wrapped_text(guide.title);
    ImGui::PopFont();
    muted_text(guide.photos);
    caution_line(kind_of(view) == PartKind::disc ? WorkStage::at_the_disc : WorkStage::wheel_off);
    gap(2);
    draw_next_step(app, view);
    gap(4);
    const float room = ImGui::GetContentRegionAvail().x, space = scaled(12);
    const bool two = room > scaled(kLeastForTwo);
    const float width = two ? (room - space) / 2 : room;
    draw_sketch_box(guide, 0, width);
    if (two) ImGui::SameLine(0, space);
    draw_sketch_box(guide, 1, width);
    gap(4);
    draw_steps(guide);
    draw_ruins(guide);
    if (guide.id_card) draw_id_card(view);
  }
  ImGui::End();
}

}  // namespace scantling
