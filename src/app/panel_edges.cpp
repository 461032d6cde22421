// The edges: how sure each is, who confirmed it, what else it could be.
#include <fmt/format.h>
#include <imgui.h>

#include <cmath>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/shown.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "report/wording.h"

namespace scantling {

namespace {

std::string standing_words(const MeasuredEdge& edge, const PhotoFinding& photo) {
  const std::string by = confirmed_by(photo.confirmations, edge.name);
  if (edge.origin == EdgeOrigin::moved)
    return by.empty() ? "moved by hand" : "moved by hand: " + by;
  if (!by.empty()) return "confirmed: " + by;
  return edge.confidence >= kLeastConfidence ? "found, clear" : "found, doubtful: look at it";
}

// One other line: where it lies, and below that what it may be. True when it was clicked.
bool draw_rival_row(App& app, const std::string& edge, const EdgeRival& rival, std::size_t number) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const std::string where = shown(fmt::format("{}   {:.2f} mm {}", number, std::abs(rival.shift_mm),
                                              shift_words(edge, rival.shift_mm)));
  ImFont* small = fonts().small;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x - scaled(22);
  const float text_height =
      small->CalcTextSizeA(small->FontSize, 1e6f, width, rival.reading.c_str()).y;
  ImGui::PushID(static_cast<int>(number));
  const bool clicked = ImGui::Selectable("##rival", false, 0, {0, scaled(19) + text_height});
  ImGui::PopID();
  place_last_item(app, fmt::format("row:rival:{}", number));
  draw->AddText(fonts().body, fonts().body->FontSize, {at.x + scaled(2), at.y}, theme().text,
                where.c_str());
  draw->AddText(small, small->FontSize, {at.x + scaled(20), at.y + scaled(17)}, theme().muted,
                rival.reading.c_str(), nullptr, width);
  return clicked;
}

void draw_rival_list(App& app, const MeasuredEdge& edge) {
  Session& session = app.session();
  if (edge.rivals.empty()) {
    muted_text("No other line nearby could be this edge.");
    return;
  }
  muted_text("Other lines that could be this edge. Click one to take it.");
  for (std::size_t i = 0; i < edge.rivals.size(); ++i) {
    const EdgeRival& rival = edge.rivals[i];
    const bool taken = draw_rival_row(app, edge.name, rival, i + 1);
    if (taken && session.analysis()) {
      const std::string name = edge.name;
      const EdgeSegment line = segment_of(rival);
      app.attempt([&] { session.move_edge(name, line, app.person()); });
      return;  // the measurement, and `edge` with it, is a new one now
    }
  }
}

void draw_selected(App& app, const MeasuredEdge& edge, const PhotoFinding& photo) {
  Session& session = app.session();
  const std::string name = edge.name;
  const bool confirmed = !confirmed_by(photo.confirmations, name).empty();
  if (const std::string where = edge_explanation(name); !where.empty())
    muted_text("This is " + where + ".");
  if (!confirmed) {
    if (small_button(app, "Confirm", "confirm_edge", "The line lies on the real edge (Enter)"))
      return app.confirm_selected_edge();
  } else if (small_button(app, "Withdraw", "withdraw", "Take the confirmation back")) {
    return app.attempt([&] { session.withdraw_confirmation(name); });
  }
  if (edge.origin == EdgeOrigin::moved) {
    ImGui::SameLine();
    if (small_button(app, "Put back", "put_back", "Back to where the program found it") &&
        session.analysis())
      return app.attempt([&] { session.put_edge_back(name); });
  }
  ImGui::SameLine();
  const std::string others =
      app.rivals_shown() ? "Hide other lines" : fmt::format("Other lines ({})", edge.rivals.size());
  if (small_button(app, others.c_str(), "rivals", "Lines nearby that could be this edge (R)"))
    app.toggle_rivals();
  if (app.rivals_shown()) draw_rival_list(app, edge);
}

// One edge's row; true when it was clicked.
bool draw_row(App& app, const MeasuredEdge& edge, const PhotoFinding& photo, bool selected) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float height = scaled(38);
  ImGui::PushID(edge.name.c_str());
  const bool clicked = ImGui::Selectable("##row", selected, 0, {0, height});
  ImGui::PopID();
  place_last_item(app, "row:" + edge.name);
  draw_edge_line(draw, {at.x + scaled(4), at.y + height / 2},
                 {at.x + scaled(40), at.y + height / 2}, look_of_edge(edge.name), scaled(2.5f));
  const std::string words = edge_title(edge.name);
  draw->AddText(fonts().body, fonts().body->FontSize, {at.x + scaled(50), at.y + scaled(2)},
                theme().text, words.c_str());
  const std::string standing = standing_words(edge, photo);
  draw->AddText(fonts().small, fonts().small->FontSize, {at.x + scaled(50), at.y + scaled(20)},
                theme().muted, standing.c_str());
  return clicked;
}

}  // namespace

void draw_edge_section(App& app) {
  Session& session = app.session();
  const Measurement* measurement = session.measurement();
  const PhotoFinding* photo = session.photo();
  if (!measurement || !photo || measurement->edges.empty()) return;
  gap(4);
  heading("Edges");
  bool all_confirmed = true;
  std::string clicked;
  for (const MeasuredEdge& edge : measurement->edges) {
    all_confirmed = all_confirmed && !confirmed_by(photo->confirmations, edge.name).empty();
    if (draw_row(app, edge, *photo, edge.name == session.edge())) clicked = edge.name;
  }
  if (!clicked.empty()) session.select_edge(clicked == session.edge() ? std::string() : clicked);
  if (session.previewing()) return;
  if (const MeasuredEdge* edge = measurement->edge(session.edge()))
    draw_selected(app, *edge, *photo);

  photo = session.photo();
  if (!photo || all_confirmed) return;
  gap(2);
  if (wide_button(app, "Confirm all edges", "confirm_all", ImGui::GetContentRegionAvail().x, true))
    app.confirm_all_edges();
  tip_for_last_item("I have looked: every line lies on its real edge (Enter)");
}

}  // namespace scantling
