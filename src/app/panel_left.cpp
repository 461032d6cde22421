#include <imgui.h>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/panels.h"
#include "app/widgets.h"

namespace scantling {

void draw_left_panel(App& app, const ScreenRect& area) {
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize(vec({area.width, area.height}));
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                      ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus;
  if (ImGui::Begin("##left", nullptr, kFlags)) {
    draw_job_section(app);
    draw_axle_section(app);
    draw_photo_section(app);
    draw_minimum_section(app);
    draw_reading_section(app);
    draw_sheet_section(app);
  }
  ImGui::End();
}

}  // namespace scantling
