// Why this number: the uncertainty's parts, the other sizes, the checks.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "app/app.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/shown.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "report/wording.h"
#include "verdict/cautions.h"

namespace scantling {

void draw_budget(const Quantity& size) {
  const double total = size.standard_uncertainty_mm * size.standard_uncertainty_mm;
  const double largest = size.budget.empty() ? 1 : size.budget.front().standard_uncertainty_mm;
  muted_text(fmt::format(
      "What makes up the {}, largest first. A bar is one standard uncertainty; the parts add up "
      "as squares.",
      interval_words(size)));
  ImDrawList* draw = ImGui::GetWindowDrawList();
  for (const BudgetLine& line : size.budget) {
    const double share =
        total > 0 ? line.standard_uncertainty_mm * line.standard_uncertainty_mm / total : 0;
    if (line.standard_uncertainty_mm < 0.0005 && share < 0.01) continue;
    wrapped_text(line.source);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    const float bar_room = width - scaled(92);
    const auto part = static_cast<float>(line.standard_uncertainty_mm / largest);
    draw->AddRectFilled(at, {at.x + bar_room, at.y + scaled(8)}, theme().raised);
    draw->AddRectFilled(at, {at.x + std::max(scaled(2), bar_room * part), at.y + scaled(8)},
                        theme().accent);
    const std::string figure = shown(fmt::format("{:.3f} mm", line.standard_uncertainty_mm));
    draw->AddText(fonts().small, fonts().small->FontSize,
                  {at.x + bar_room + scaled(10), at.y - scaled(4)}, theme().muted, figure.c_str());
    ImGui::Dummy({width, scaled(9)});
    if (!line.advice.empty() && share >= 0.05) muted_text(line.advice);
    gap(2);
  }
}

void draw_checks(std::vector<Check> checks) {
  std::stable_sort(checks.begin(), checks.end(),
                   [](const Check& a, const Check& b) { return a.severity > b.severity; });
  for (const Check& check : checks) {
    const char* word = check.severity == Severity::stop   ? "Stop: "
                       : check.severity == Severity::warn ? "Mind: "
                                                          : "";
    wrapped_text(word + check.message);
    gap(1);
  }
}

namespace {

bool rests_on_doubt(const Measurement& measurement, const PhotoFinding& photo,
                    const std::string& dimension) {
  const std::vector<std::string> edges = edges_of_dimension(dimension);
  return std::any_of(edges.begin(), edges.end(), [&](const std::string& name) {
    const MeasuredEdge* edge = measurement.edge(name);
    return edge && edge->origin == EdgeOrigin::found && edge->confidence < kLeastConfidence &&
           confirmed_by(photo.confirmations, name).empty();
  });
}

void draw_sizes(const Session& session, const Measurement& measurement) {
  const PhotoFinding* photo = session.photo();
  if (!photo || !ImGui::BeginTable("sizes", 2, ImGuiTableFlags_SizingStretchProp)) return;
  for (const Dimension& dimension : measurement.dimensions) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(dimension_title(dimension.name).c_str());
    ImGui::TableNextColumn();
    if (rests_on_doubt(measurement, *photo, dimension.name))
      ImGui::TextDisabled("confirm the edges first");
    else
      plain_text(size_with_95(dimension.quantity));
  }
  ImGui::EndTable();
}

}  // namespace

namespace {

// The same size drawn input by input, where somebody asks whether its interval is to be trusted.
void draw_monte_carlo(App& app, const PartSummary& part) {
  if (!part.size || app.session().previewing()) return;
  if (const ChainCheck* drawn = app.drawn_size()) {
    const Interval &first = drawn->first_order_95, &symmetric = drawn->drawn.symmetric;
    wrapped_text(fmt::format(
        "First order {:.3f} to {:.3f} mm; Monte Carlo, {} thousand draws, "
        "{:.3f} to {:.3f} mm (95%).",
        first.low, first.high, drawn->drawn.trials / 1000, symmetric.low, symmetric.high));
    muted_text(drawn->check.agrees
                   ? fmt::format("They agree within {:.3f} mm, so the first-order interval stands.",
                                 drawn->check.tolerance)
                   : drawn->sentence);
    app.probe().tell("monte_carlo", drawn->sentence);
    return;
  }
  if (small_button(app, "Check by Monte Carlo", "monte_carlo",
                   "Draws every input of this size many times and compares the interval"))
    app.draw_size();
}

void draw_agreement(App& app, const PartSummary& part) {
  const PhotoFinding* photo = app.session().photo();
  if (!photo && part.governing_photo) photo = &part.photos[*part.governing_photo];
  if (!photo || !photo->agreement) return;
  const Agreement& agreement = *photo->agreement;
  if (!fold(app, fmt::format("Photo and hand ({})", agreement.pairs.size()).c_str(), "agreement",
            false))
    return;
  muted_text("Parts measured by this phone with this sheet that were also read by hand.");
  for (const std::string& sentence : agreement.sentences) {
    wrapped_text(sentence);
    gap(1);
  }
}

}  // namespace

void draw_why_section(App& app) {
  const Session& session = app.session();
  const Measurement* measurement = session.measurement();
  const GoverningSize* size = session.photo_size();
  const PartSummary& part = *session.summary();
  const bool disc = session.slot().kind == PartKind::disc;
  if (!size && disc && part.size) size = &*part.size;
  if (size && fold(app, "Why this number", "why", false)) {
    draw_budget(size->quantity);
    draw_monte_carlo(app, part);
  }
  draw_agreement(app, part);
  if (measurement && measurement->usable() && fold(app, "All sizes", "sizes", false))
    draw_sizes(session, *measurement);
}

void draw_check_section(App& app) {
  const Measurement* measurement = app.session().measurement();
  const PartSummary& part = *app.session().summary();
  std::vector<Check> checks = part.cautions;
  if (measurement)
    checks.insert(checks.end(), measurement->checks.begin(), measurement->checks.end());
  // The warning has done its work once somebody has looked.
  const PhotoFinding* photo = app.session().photo();
  const bool all_looked_at =
      measurement && photo && unconfirmed_edges(*measurement, photo->confirmations).empty();
  if (all_looked_at)
    std::erase_if(checks, [](const Check& check) { return check.id == "edge_uncertain"; });
  if (!checks.empty() &&
      fold(app, fmt::format("Checks ({})", checks.size()).c_str(), "checks", true))
    draw_checks(std::move(checks));
  if (part.standing == PartStanding::nothing_yet) return;
  const std::vector<std::string>& notes = app.session().job()->axle.notes;
  if (!notes.empty() && fold(app, "The axle together", "axle", true))
    for (const std::string& note : notes) {
      wrapped_text(note);
      gap(1);
    }
  if (fold(app, "What this cannot tell", "limits", true))
    muted_text(std::string(beyond_thickness()));
  if (fold(app, "While you work", "cautions", false))
    for (const Caution& caution : work_cautions()) {
      muted_text(std::string(caution.text));
      gap(1);
    }
}

}  // namespace scantling
