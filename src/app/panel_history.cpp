// An axle through time: the wear of each part with its forecast, and all its jobs.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/shown.h"
#include "app/theme.h"
#include "app/wear_drawing.h"
#include "app/widgets.h"
#include "app/words.h"
#include "report/wording.h"

namespace scantling {

namespace {

constexpr float kPartsWidth = 270;
constexpr float kPartRow = 62;
constexpr float kJobRow = 30;

std::string place_word(const Part& part) {
  if (part.kind == PartKind::disc) return "disc";
  return part.place == PadPlace::outer ? "outer pad" : "inner pad";
}

std::string probe_name(const Part& part) {
  return fmt::format("history:{}_{}", part.side == Side::left ? "left" : "right",
                     part.kind == PartKind::disc     ? "disc"
                     : part.place == PadPlace::outer ? "outer"
                                                     : "inner");
}

/// What the row of a part says of its wear, in few words.
std::string wear_in_short(const PartSummary* part) {
  if (!part) return "no size yet";
  if (part->forecast && part->forecast->fitted) {
    const Forecast& f = *part->forecast;
    const bool miles = shown_style().distance == DistanceUnit::mile;
    const double per = f.wear_mm_per_1000_km / (miles ? distance_in(1, DistanceUnit::mile) : 1);
    std::string words = fmt::format("{:.3f} mm per 1 000 {}", std::max(0.0, per),
                                    distance_word(shown_style().distance));
    if (f.distance_left_lower_95_km)
      words += ", good for " + distance_title(std::floor(*f.distance_left_lower_95_km));
    return words;
  }
  if (part->forecast) return "sizes contradict each other";
  return part->wear.points.empty() ? "no size yet" : "one size: no wear yet";
}

// One of the six parts; true when it was clicked.
bool draw_part_row(App& app, const Part& part, const PartSummary* summary, bool selected) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x, height = scaled(kPartRow);
  const std::string name = probe_name(part);
  const bool clicked = bare_button(app, name, {width, height});
  const bool hovered = ImGui::IsItemHovered();
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const ImVec2 to(at.x + width, at.y + height);
  draw->AddRectFilled(at, to, selected || hovered ? theme().hovered : theme().raised, scaled(3));
  if (selected) draw->AddRect(at, to, theme().accent, scaled(3), 0, scaled(2));
  const StateLook look = summary ? look_of(*summary) : StateLook{theme().line, Pattern::outline};
  fill_pattern(draw, {at.x + scaled(8), at.y + scaled(10)}, {at.x + scaled(22), to.y - scaled(10)},
               look);
  const float x = at.x + scaled(32), room = width - scaled(40);
  draw->AddText(fonts().strong, fonts().strong->FontSize, {x, at.y + scaled(7)}, theme().text,
                capitalised(place_word(part)).c_str());
  const auto size = summary ? settled_size(*summary) : std::nullopt;
  const std::string figure = size ? shown(size_with_95(*size)) : "";
  const float w = fonts().body->CalcTextSizeA(fonts().body->FontSize, 1e6f, 0, figure.c_str()).x;
  draw->AddText(fonts().body, fonts().body->FontSize, {to.x - scaled(8) - w, at.y + scaled(7)},
                theme().text, figure.c_str());
  const std::string wear = shown(wear_in_short(summary));
  draw->AddText(fonts().small, fonts().small->FontSize, {x, at.y + scaled(27)}, theme().muted,
                wear.c_str(), nullptr, room);
  app.probe().tell(name, figure + "|" + wear);
  return clicked;
}

void draw_parts(App& app) {
  Session& session = app.session();
  for (std::size_t i = 0; i < kAxlePlaces; ++i) {
    const Part part = part_at(i);
    if (i % 3 == 0) {
      gap(i == 0 ? 0 : 4);
      heading(i == 0 ? "Left wheel" : "Right wheel");
    }
    const PartSlot slot = slot_of(part);
    if (draw_part_row(app, part, find_part(*session.job(), slot), session.slot() == slot))
      session.select_part(slot);
  }
}

void draw_plot(App& app, const PartSummary& part, float height) {
  const std::optional<WearPlot> plot = wear_plot(part) ? wear_plot(part) : wear_points(part);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  if (!plot) {
    ImGui::GetWindowDrawList()->AddRectFilled(at, {at.x + width, at.y + height}, theme().raised,
                                              scaled(3));
    centred_text(ImGui::GetWindowDrawList(), {at.x, at.y, width, height},
                 no_wear_line(part).empty() ? "" : no_wear_line(part).front(), theme().muted);
    ImGui::Dummy({width, height});
    return;
  }
  mouse_area("plot", {width, height});
  place_last_item(app, "wear_plot");
  const bool hovered = ImGui::IsItemHovered();
  const bool clicked = ImGui::IsItemClicked();
  const auto under = draw_wear(ImGui::GetWindowDrawList(), at, {width, height}, *plot,
                               hovered ? ImGui::GetIO().MousePos : ImVec2(-1e6f, -1e6f));
  app.probe().tell("wear_plot", fmt::format("{} points, {}", plot->points.size(),
                                            plot->curve.empty() ? "no line" : "line"));
  if (!under) return;
  const WearPlot::Point& point = plot->points[*under];
  tip_for_last_item(fmt::format("{}: {:.2f} ± {:.2f} mm at {}", point.label, point.mm,
                                point.half_95_mm, distance_title(point.km))
                        .c_str());
  if (clicked) app.open_from_history(point.job_id);
}

void draw_wear_part(App& app, const PartSummary& part, float height) {
  const PartSlot slot = app.session().slot();
  Part named;  // the record may not know the part yet
  named.kind = slot.kind;
  named.side = slot.side;
  named.place = slot.place;
  heading(part_title(named, app.session().job()->job.axle) + ": wear over the odometer");
  draw_plot(app, part, height);
  std::vector<std::string> sentences = wear_sentences(part);
  for (std::string& sentence : no_wear_line(part)) sentences.push_back(std::move(sentence));
  for (std::size_t i = 0; i < sentences.size(); ++i) {
    if (i == 0)
      wrapped_text(sentences[i]);
    else
      muted_text(sentences[i]);
    app.probe().tell(fmt::format("wear_sentence:{}", i + 1), sentences[i]);
  }
  if (part.forecast && part.forecast->fitted)
    muted_text(
        "Bars and band hold the size with 95 % confidence; the band is where the next size is "
        "expected. A click on a point opens its job.");
}

void draw_size_cell(const HistorySize& size) {
  if (size.state.empty() && !size.fitted_new) return ImGui::TextDisabled("–");
  std::string words = size.size ? size_with_95(*size.size) : size.state;
  words = shown(words);
  if (size.size)
    if (const auto unit = words.rfind("\u00A0"); unit != std::string::npos) words.resize(unit);
  ImGui::PushFont(fonts().small);
  if (!size.state.empty()) ImGui::TextUnformatted(words.c_str());
  ImGui::PopFont();
  std::string tip = size.state;
  if (size.by_hand) tip += ", read by hand";
  if (size.fitted_new) {
    if (!size.state.empty()) ImGui::SameLine(0, scaled(4));
    ImGui::PushFont(fonts().strong);
    ImGui::TextUnformatted("new");
    ImGui::PopFont();
    tip += tip.empty() ? "a new part was fitted" : ", then a new part was fitted";
  }
  tip_for_last_item(tip.c_str());
}

void draw_job_row(App& app, const HistoryJob& job, std::size_t number) {
  HistoryPage& page = app.history_page();
  ImGui::TableNextRow(0, scaled(kJobRow));
  ImGui::TableNextColumn();
  const bool under_keys = page.row() == number;
  std::string label = job.job.date + (job.open ? "  (open)" : "");
  ImGui::PushID(static_cast<int>(number));
  if (ImGui::Selectable((label + "###job").c_str(), under_keys, ImGuiSelectableFlags_SpanAllColumns,
                        {0, scaled(22)})) {
    page.go_to(number);
    app.open_from_history(job.job.id);
  }
  ImGui::PopID();
  place_last_item(app, fmt::format("row:history:{}", number + 1));
  if (under_keys && page.take_follow_row()) ImGui::SetScrollHereY(0.5f);
  ImGui::TableNextColumn();
  if (job.job.odometer_km) {
    plain_text(distance_title(*job.job.odometer_km));
    if (job.odometer_backwards) {
      ImGui::SameLine(0, scaled(4));
      heading("!");
      tip_for_last_item("Less than at an earlier job. Put the odometer reading or the date right.");
    }
  } else {
    ImGui::TextDisabled("not entered");
  }
  for (const HistorySize& size : job.sizes) {
    ImGui::TableNextColumn();
    draw_size_cell(size);
  }
}

void draw_jobs(App& app) {
  const std::vector<HistoryJob>& jobs = app.history_page().jobs();
  heading(fmt::format("Jobs of this axle, newest first: sizes ({}) with their 95 % intervals",
                      unit_word(shown_style().length)));
  constexpr ImGuiTableFlags kFlags = ImGuiTableFlags_ScrollY | ImGuiTableFlags_ScrollX |
                                     ImGuiTableFlags_BordersInnerH |
                                     ImGuiTableFlags_SizingStretchProp;
  if (!ImGui::BeginTable("history", 2 + static_cast<int>(kAxlePlaces), kFlags)) return;
  ImGui::TableSetupScrollFreeze(1, 1);
  ImGui::TableNextRow();
  for (const char* head : {"date", "odometer", "left outer", "left disc", "left inner",
                           "right outer", "right disc", "right inner"}) {
    ImGui::TableNextColumn();
    muted_line(head);
  }
  for (std::size_t i = 0; i < jobs.size(); ++i) draw_job_row(app, jobs[i], i);
  ImGui::EndTable();
  if (jobs.size() == 1)
    muted_text("This is the first job of this axle. The next one will stand beside it.");
}

}  // namespace

void draw_history_page(App& app, const ScreenRect& area) {
  app.follow_history();
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize(vec({area.width, area.height}));
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                      ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus;
  if (ImGui::Begin("##history", nullptr, kFlags)) {
    const JobSummary& job = *app.session().job();
    ImGui::PushFont(fonts().large);
    ImGui::TextUnformatted(
        fmt::format("{}, {}", job.vehicle.name, axle_title(job.job.axle)).c_str());
    ImGui::PopFont();
    ImGui::SameLine(ImGui::GetContentRegionMax().x - scaled(90));
    if (wide_button(app, "Back", "history_back", scaled(90), false)) app.show_history(false);
    muted_text(
        "Its jobs through time. Up and down choose a job and Enter opens it; left and right choose "
        "a part; H or Esc goes back.");
    gap(2);
    ImGui::BeginChild("parts", {scaled(kPartsWidth), 0});
    draw_parts(app);
    ImGui::EndChild();
    ImGui::SameLine(0, scaled(18));
    ImGui::BeginChild("wear", {0, 0});
    const float height =
        std::clamp(ImGui::GetContentRegionAvail().y * 0.42f, scaled(150), scaled(420));
    if (const PartSummary* part = app.session().summary()) draw_wear_part(app, *part, height);
    gap(4);
    draw_jobs(app);
    ImGui::EndChild();
  }
  ImGui::End();
}

}  // namespace scantling
