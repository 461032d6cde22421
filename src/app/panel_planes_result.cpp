// What the photos of the planes page come to: the size, how it grew surer, what to do next.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "app/app.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/planes_list.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "report/planes_beside.h"
#include "report/wording.h"

namespace scantling {

namespace {

constexpr float kPlotHeight = 92;

/// A round number above the largest interval, for the plot's upper end.
double upper_end(const std::vector<PlanesStep>& steps) {
  double most = 0.02;
  for (const PlanesStep& step : steps)
    if (step.value_mm) most = std::max(most, step.expanded_95_mm);
  for (const double end : {0.05, 0.1, 0.2, 0.3, 0.5, 1.0, 2.0, 5.0})
    if (most <= end) return end;
  return most;
}

void small_text(ImDrawList* draw, ImVec2 at, const std::string& text, ImU32 colour) {
  draw->AddText(fonts().small, fonts().small->FontSize, at, colour, text.c_str());
}

float small_width(const std::string& text) {
  return fonts().small->CalcTextSizeA(fonts().small->FontSize, 1e6f, 0, text.c_str()).x;
}

/// The 95 % interval's half-width after each photo.
void draw_steps(App& app, const std::vector<PlanesStep>& steps) {
  heading("± after each photo, mm");
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x, height = scaled(kPlotHeight);
  const double top = upper_end(steps);
  const float left = from.x + scaled(34), right = from.x + width - scaled(14);
  const float floor = from.y + height - scaled(18), ceiling = from.y + scaled(8);
  const auto x = [&](std::size_t photo) {
    const float span = steps.size() > 1 ? static_cast<float>(steps.size() - 1) : 1;
    return left + scaled(10) + (right - left - scaled(10)) * static_cast<float>(photo) / span;
  };
  const auto y = [&](double mm) {
    return floor - (floor - ceiling) * static_cast<float>(mm / top);
  };
  for (const double mark : {0.0, top / 2, top}) {
    draw->AddLine({left, y(mark)}, {right, y(mark)}, theme().line, scaled(1));
    const std::string words = fmt::format("{:.3g}", mark);
    small_text(draw, {left - scaled(6) - small_width(words), y(mark) - scaled(8)}, words,
               theme().muted);
  }
  std::optional<ImVec2> before;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const std::string number = std::to_string(i + 1);
    small_text(draw, {x(i) - small_width(number) / 2, floor + scaled(3)}, number, theme().muted);
    if (!steps[i].value_mm) {  // a dash on the floor: no size yet
      draw->AddLine({x(i) - scaled(4), floor - scaled(4)}, {x(i) + scaled(4), floor - scaled(4)},
                    theme().muted, scaled(1.5f));
      before.reset();
      continue;
    }
    const ImVec2 at{x(i), y(steps[i].expanded_95_mm)};
    if (before) draw->AddLine(*before, at, theme().accent, scaled(2));
    before = at;
  }
  for (std::size_t i = 0; i < steps.size(); ++i)
    if (steps[i].value_mm)
      draw->AddCircleFilled({x(i), y(steps[i].expanded_95_mm)}, scaled(4), theme().accent, 16);
  if (!steps.empty() && steps.back().value_mm) {
    const std::string words = fmt::format("{:.2f}", steps.back().expanded_95_mm);
    const ImVec2 at{x(steps.size() - 1), y(steps.back().expanded_95_mm)};
    small_text(draw, {at.x - small_width(words), at.y - scaled(20)}, words, theme().text);
  }
  ImGui::Dummy({width, height});
  place_last_item(app, "planes_steps");
}

std::string no_size_words(const PlanesCase* known, std::size_t photos) {
  if (photos == 0) return "No photos yet";
  if (!known || known->running) return "Measuring";
  const std::vector<Check>& checks = known->outcome.result.checks;
  const bool stopped = std::any_of(checks.begin(), checks.end(), [](const Check& check) {
    return check.severity == Severity::stop && check.id != "too_few_photos";
  });
  return stopped ? "No size" : "No size yet";
}

void draw_others(const PlanesResult& result) {
  if (const Dimension* taper = result.dimension("friction_taper"))
    wrapped_text(fmt::format("Taper along the pad: {}", size_with_95(taper->quantity)));
  if (const Dimension* across = result.dimension("friction_taper_across"))
    wrapped_text(fmt::format("Taper across it: {}", size_with_95(across->quantity)));
  if (result.angle_deg)
    muted_text(fmt::format("{}: {:.2f}° ± {:.2f}°",
                           result.view == PlanesView::faces ? "Angle between the faces"
                                                            : "Tilt of the card to the sheet",
                           *result.angle_deg, 2 * result.angle_u_deg));
}

}  // namespace

void draw_planes_beside(App& app) {
  const PartSummary* part = app.session().part();
  if (!part || Session::planes_photos(*part).empty()) return;
  const PlanesBeside both = planes_beside(*part);
  gap(4);
  heading(part->part.kind == PartKind::disc ? "Worn thickness, two ways"
                                            : "The whole pad, two ways");
  if (ImGui::BeginTable("beside", 2, ImGuiTableFlags_SizingStretchProp)) {
    const auto row = [](const char* words, const std::string& size) {
      ImGui::TableNextRow();
      ImGui::TableNextColumn();
      ImGui::TextUnformatted(words);
      ImGui::TableNextColumn();
      plain_text(size);
    };
    row("from planes", both.planes ? size_with_95(both.planes->quantity) : "no size");
    row(part->part.kind == PartKind::disc ? "rim less lips" : "from edges",
        both.edges ? size_with_95(both.edges->quantity) : "not known");
    if (both.normalised_error) {
      row("apart", fmt::format("{:.2f} mm of {:.2f} mm allowed", std::abs(both.difference_mm),
                               both.joint_95_mm));
    }
    ImGui::EndTable();
  }
  if (!both.sentence.empty())
    wrapped_text((both.disagree() ? "Mind: " : "") + both.sentence);
  else if (!both.edges)
    muted_text(
        part->part.kind == PartKind::disc
            ? "Photos of the rim and both lips would check it. Planes alone never clear a "
              "disc."
            : "A photo of the pad in the card's notch, its edges looked at, would check it.");
}

void draw_planes_result(App& app) {
  const PartSummary* part = app.session().part();
  const PlanesCase* known = part ? app.planes_page().find(part->part.id) : nullptr;
  const std::size_t photos = part ? Session::planes_photos(*part).size() : 0;
  const bool disc = app.session().slot().kind == PartKind::disc;
  heading(disc ? "Worn thickness, from planes" : "Whole pad, from planes");
  if (!known || photos == 0) {
    wrapped_text(no_size_words(known, photos));
    return;
  }
  // What other photos or another thickness of the card gave is nothing to show any more.
  if (!known->outcome.part_of(app.planes_task(*part))) {
    wrapped_text("Measuring");
    return;
  }
  const PlanesOutcome& outcome = known->outcome;
  const PlanesResult& result = outcome.result;
  const bool usable = result.usable();
  if (usable) {
    draw_figure(app, result.dimensions.front().quantity);
  } else {
    ImGui::PushFont(fonts().large);
    ImGui::TextUnformatted(no_size_words(known, photos).c_str());
    ImGui::PopFont();
  }
  if (outcome.photo_ids.size() < photos)
    muted_text(fmt::format("{} of {} photos taken in so far.", outcome.photo_ids.size(), photos));
  if (usable) draw_others(result);
  for (const Check& check : result.checks)
    if (check.severity == Severity::stop) wrapped_text("Stop: " + check.message);
  if (result.fit) muted_text(result.fit->words);
  if (result.next_photo) {
    gap(4);
    heading("The next photo");
    wrapped_text(result.next_photo->words);
  }
  if (!outcome.steps.empty()) {
    gap(4);
    draw_steps(app, outcome.steps);
  }
  draw_planes_beside(app);
  std::vector<Check> checks;
  for (const Check& check : result.checks)
    if (check.severity != Severity::stop) checks.push_back(check);
  if (!checks.empty() &&
      fold(app, fmt::format("Checks ({})", checks.size()).c_str(), "planes_checks", true))
    draw_checks(std::move(checks));
  if (usable && fold(app, "Why this number", "planes_why", true))
    draw_budget(result.dimensions.front().quantity);
}

}  // namespace scantling
