// The window was asked to close while photos are on their way into the record.
#include <imgui.h>

#include "app/app.h"
#include "app/panels.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"

namespace scantling {

std::string App::finishing() const {
  return finishing_words(copying_, filing_, keeping_);
}

void draw_finishing(App& app) {
  const std::string words = app.finishing();
  app.probe().tell("finishing", words);
  if (words.empty()) return;
  const ImVec2 display = ImGui::GetIO().DisplaySize;
  ImGui::SetNextWindowPos({display.x / 2, display.y / 2}, ImGuiCond_Always, {0.5f, 0.5f});
  ImGui::SetNextWindowSize({scaled(420), 0});
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_AlwaysAutoResize |
                                      ImGuiWindowFlags_NoSavedSettings;
  ImGui::SetNextWindowFocus();
  if (ImGui::Begin("##finishing", nullptr, kFlags)) {
    heading("Finishing");
    wrapped_text(words);
    muted_text("The window closes by itself.");
  }
  ImGui::End();
}

}  // namespace scantling
