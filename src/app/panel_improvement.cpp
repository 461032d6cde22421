// What would improve the size most: each step with the interval it leaves of the one there is.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "app/app.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/shown.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "report/improvements.h"

namespace scantling {

namespace {

constexpr std::size_t kShownAtFirst = 3;

// The interval as it is, and what would be left of it.
void draw_gain(const BetterSize& better) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const float room = width - scaled(92), height = scaled(8);
  const auto left = static_cast<float>(better.then_95_mm() / better.now_95_mm);
  draw->AddRectFilled(at, {at.x + room, at.y + height}, theme().raised);
  draw->AddRect(at, {at.x + room, at.y + height}, theme().muted, 0, 0, scaled(1));
  draw->AddRectFilled(at, {at.x + std::max(scaled(2), room * left), at.y + height}, theme().accent);
  const std::string figure = shown(fmt::format("± {:.2f} mm", better.then_95_mm()));
  draw->AddText(fonts().strong, fonts().strong->FontSize,
                {at.x + room + scaled(10), at.y - scaled(6)}, theme().text, figure.c_str());
  ImGui::Dummy({width, scaled(11)});
}

void draw_improvement(const Improvement& improvement) {
  if (improvement.better.now_95_mm <= 0) return wrapped_text(improvement.sentence);
  wrapped_text(capitalised(improvement.better.words));
  draw_gain(improvement.better);
  if (improvement.state_then) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float side = scaled(11);
    fill_pattern(ImGui::GetWindowDrawList(), {at.x, at.y + scaled(3)},
                 {at.x + side, at.y + scaled(3) + side}, look_of(*improvement.state_then));
    ImGui::Dummy({side, side});
    ImGui::SameLine();
    muted_text(
        fmt::format("then it is “{}”, if the size stays", verdict_word(*improvement.state_then)));
  }
  gap(3);
}

}  // namespace

void draw_improvement_section(App& app) {
  const PartSummary& part = *app.session().summary();
  if (app.session().previewing()) return;
  const std::vector<Improvement> list = improvements(part);
  if (list.empty()) return;
  // Where the verdict stands already, it is there for those who ask.
  const bool wanted = !part.verdict || part.verdict->state == VerdictState::gauge_it;
  if (!fold(app, "What would improve it most", "improvements", wanted)) return;
  for (std::size_t i = 0; i < list.size() && i < kShownAtFirst; ++i) draw_improvement(list[i]);
  if (list.size() > kShownAtFirst &&
      fold(app, fmt::format("{} more", list.size() - kShownAtFirst).c_str(), "improvements_more",
           false))
    for (std::size_t i = kShownAtFirst; i < list.size(); ++i) draw_improvement(list[i]);
  for (std::size_t i = 0; i < list.size(); ++i)
    app.probe().tell("improvement:" + std::to_string(i + 1), list[i].sentence);
}

}  // namespace scantling
