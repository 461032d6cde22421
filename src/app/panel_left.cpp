#include <imgui.h>

#include <utility>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/panels.h"
#include "app/theme.h"
#include "app/widgets.h"

namespace scantling {

namespace {

constexpr float kLeastForEntries = 320;  ///< style pixels

}  // namespace

void draw_side_tabs(App& app, const ScreenRect& area) {
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize(vec({area.width, area.height}));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {scaled(6), scaled(5)});
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus;
  const bool open = ImGui::Begin("##side_tabs", nullptr, kFlags);
  ImGui::PopStyleVar();
  if (open) {
    const float width = (ImGui::GetContentRegionAvail().x - scaled(4)) / 2;
    const bool result = app.result_in_front();
    if (wide_button(app, "Job and part", "side_job", width, !result) && result) app.switch_side();
    ImGui::SameLine(0, scaled(4));
    if (wide_button(app, "Result", "side_result", width, result) && !result) app.switch_side();
    tip_for_last_item("F6 goes from one to the other");
  }
  ImGui::End();
}

void draw_left_panel(App& app, const ScreenRect& area) {
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize(vec({area.width, area.height}));
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                      ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus;
  if (ImGui::Begin("##left", nullptr, kFlags)) {
    draw_job_section(app);
    draw_axle_section(app);
    // The axle's plan stays in sight while the part's entries scroll, where there is room for both.
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const bool apart = room.y > scaled(kLeastForEntries);
    gap(apart ? 2 : 0);
    // Its scroll bar lies in the panel's own margin, so that the entries keep their width.
    bool& overflow = app.forms().entries_overflow;
    const float width = room.x + (overflow ? ImGui::GetStyle().ScrollbarSize : 0);
    if (!apart ||
        ImGui::BeginChild("##entries", {width, 0}, false, ImGuiWindowFlags_NavFlattened)) {
      if (std::exchange(app.forms().entries_of, app.session().slot()) != app.session().slot())
        ImGui::SetScrollY(0);
      const ImVec2 at = ImGui::GetWindowPos(), size = ImGui::GetWindowSize();
      app.probe().place("entries", {at.x, at.y, size.x, size.y});
      draw_photo_section(app);
      draw_planes_entry(app);
      draw_minimum_section(app);
      draw_reading_section(app);
      if (app.session().slot().kind == PartKind::disc) draw_disc_section(app);
      draw_offset_section(app);
      draw_sheet_section(app);
    }
    overflow = apart && ImGui::GetScrollMaxY() > 0;
    if (apart) ImGui::EndChild();
  }
  ImGui::End();
}

}  // namespace scantling
