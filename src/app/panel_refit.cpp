// The refit list as it will be printed, beside the form that fills it.
#include <fmt/format.h>
#include <imgui.h>

#include "app/app.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "report/refit_list.h"

namespace scantling {

namespace {

void draw_step(std::size_t number, const RefitStep& step) {
  const float indent = scaled(26);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float side = scaled(13);
  ImGui::GetWindowDrawList()->AddRect({at.x, at.y + scaled(3)},
                                      {at.x + side, at.y + scaled(3) + side}, theme().muted);
  ImGui::Indent(indent);
  ImGui::PushFont(fonts().strong);
  wrapped_text(fmt::format("{}. {}", number, step.text));
  ImGui::PopFont();
  for (const std::string& caution : step.cautions) muted_text("Mind: " + caution);
  ImGui::Unindent(indent);
  gap(3);
}

}  // namespace

void draw_refit_list(App& app) {
  ImGui::AlignTextToFramePadding();
  heading("Refit list, in order");
  ImGui::SameLine(ImGui::GetContentRegionMax().x - scaled(130));
  if (wide_button(app, "Save as PDF…", "refit_pdf", scaled(130), false)) app.write_refit_list();
  gap(2);
  std::size_t number = 0;
  for (const RefitStep& step : refit_steps(app.session().job()->job, app.work_page().shown))
    draw_step(++number, step);
}

}  // namespace scantling
