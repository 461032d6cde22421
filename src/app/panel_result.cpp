#include <imgui.h>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/panels.h"
#include "app/widgets.h"

namespace scantling {

void draw_result_panel(App& app, const ScreenRect& area) {
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize(vec({area.width, area.height}));
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                      ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus;
  if (ImGui::Begin("##result", nullptr, kFlags)) {
    draw_verdict_section(app);
    draw_edge_section(app);
    draw_planes_beside(app);
    draw_improvement_section(app);
    draw_why_section(app);
    draw_check_section(app);
  }
  ImGui::End();
}

}  // namespace scantling
