// The job: which car, when, which axle; and the axle's four pads as a plan.
#include <fmt/format.h>
#include <imgui.h>

#include <array>

#include "app/app.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/shown.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "report/wording.h"

namespace scantling {

namespace {

// Without its unit, as the cell is narrow.
std::string short_length(double mm) {
  const std::string text = shown(fmt::format("{:.1f} mm", mm));
  return text.substr(0, text.find(' '));
}

std::string cell_figure(const PartSummary* part) {
  if (!part) return "–";
  if (part->size) return short_length(part->size->quantity.value_mm);
  if (!part->readings.empty()) return short_length(part->readings.back().value_mm);
  return part->standing == PartStanding::confirm_first ? "?" : "–";
}

// One part of the plan: its word, its size, its verdict's pattern.
void draw_cell(App& app, PartSlot slot, float width) {
  Session& session = app.session();
  const PartSummary* part = find_part(*session.job(), slot);
  const bool selected = session.slot() == slot;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float height = scaled(58);
  const bool disc = slot.kind == PartKind::disc;
  const char* word = disc ? "disc" : slot.place == PadPlace::outer ? "outer" : "inner";
  const std::string name =
      fmt::format("{}:{}{}", disc ? "disc" : "pad", slot.side == Side::left ? "left" : "right",
                  disc ? "" : std::string("_") + word);
  const bool clicked = bare_button(app, name, {width, height});
  const bool hovered = ImGui::IsItemHovered();

  ImDrawList* draw = ImGui::GetWindowDrawList();
  const ImVec2 to(at.x + width, at.y + height);
  draw->AddRectFilled(at, to, hovered || selected ? theme().hovered : theme().raised, scaled(3));
  if (disc)  // a disc stands out between its pads: two dark edges
    for (const float x : {at.x, to.x - scaled(3)})
      draw->AddRectFilled({x, at.y}, {x + scaled(3), to.y}, IM_COL32(0x77, 0x7B, 0x82, 255));
  const StateLook look = part ? look_of(*part) : StateLook{theme().line, Pattern::outline};
  const auto centred = [&](ImFont* font, const std::string& text, float y, ImU32 colour) {
    const float w = font->CalcTextSizeA(font->FontSize, 1e6f, 0, text.c_str()).x;
    draw->AddText(font, font->FontSize, {at.x + (width - w) / 2, at.y + y}, colour, text.c_str());
  };
  centred(fonts().small, word, scaled(4), theme().muted);
  centred(fonts().strong, cell_figure(part), scaled(21), theme().text);
  fill_pattern(draw, {at.x + scaled(5), to.y - scaled(13)}, {to.x - scaled(5), to.y - scaled(5)},
               look);
  if (selected) draw->AddRect(at, to, theme().accent, scaled(3), 0, scaled(2));
  tip_for_last_item(part ? capitalised(part->state).c_str() : "Nothing entered yet");
  if (clicked) session.select_part(slot);
}

}  // namespace

void draw_job_section(App& app) {
  const JobSummary& state = *app.session().job();
  ImGui::PushFont(fonts().strong);
  ImGui::PushTextWrapPos(ImGui::GetContentRegionMax().x - scaled(76));
  ImGui::TextUnformatted(state.vehicle.name.empty() ? "Car without a name"
                                                    : state.vehicle.name.c_str());
  ImGui::PopTextWrapPos();
  ImGui::PopFont();
  ImGui::SameLine(ImGui::GetContentRegionMax().x - scaled(66));
  if (small_button(app, "Change", "edit_job", "Car, date, odometer, axle")) app.edit_job();
  std::string line = date_title(state.job.date);
  if (state.job.odometer_km) line += fmt::format(", {}", distance_title(*state.job.odometer_km));
  ImGui::PushTextWrapPos(ImGui::GetContentRegionMax().x - scaled(84));
  ImGui::PushStyleColor(ImGuiCol_Text, theme().muted);
  ImGui::PushFont(fonts().small);
  plain_text(line);
  ImGui::PopFont();
  ImGui::PopStyleColor();
  ImGui::PopTextWrapPos();
  ImGui::SameLine(ImGui::GetContentRegionMax().x - scaled(82));
  if (small_button(app, "Work done", "work",
                   "New parts, tightening figures, next check; the refit list (W)"))
    app.show_work(true);
  if (app.session().job_is_unsorted()) {
    muted_text("These photos have no car yet. They are saved; say when you can which car it is.");
    if (wide_button(app, "Say which car", "sort_job", ImGui::GetContentRegionAvail().x, false))
      app.edit_job();
  }
}

void draw_axle_section(App& app) {
  gap(4);
  const Axle axle = app.session().job()->job.axle;
  heading(axle == Axle::front ? "Front axle, from above" : "Rear axle, from above");
  const float room = ImGui::GetContentRegionAvail().x;
  const float space = scaled(2);
  const float middle = scaled(14);
  const float cell = (room - 4 * space - middle) / 6;
  muted_text("Left wheel");
  ImGui::SameLine(ImGui::GetCursorPosX() + 3 * cell + 2 * space + middle);
  muted_text("Right wheel");
  // From above: the outer pads outside, the discs between the pads of their wheel.
  const std::array row = {
      PartSlot{Side::left, PadPlace::outer}, PartSlot::disc(Side::left),
      PartSlot{Side::left, PadPlace::inner}, PartSlot{Side::right, PadPlace::inner},
      PartSlot::disc(Side::right),           PartSlot{Side::right, PadPlace::outer}};
  for (std::size_t i = 0; i < row.size(); ++i) {
    if (i > 0) ImGui::SameLine(0, i == 3 ? middle : space);
    draw_cell(app, row[i], cell);
  }
  if (small_button(app, app.map_shown() ? "Back to the photo" : "The whole axle", "axle_map",
                   "All six parts cut through, to one scale (M)"))
    app.show_map(!app.map_shown());
}

void draw_photo_section(App& app) {
  Session& session = app.session();
  gap(4);
  Part shown;
  shown.kind = session.slot().kind;
  shown.side = session.slot().side;
  shown.place = session.slot().place;
  heading(part_title(shown, session.job()->job.axle));
  if (session.slot().kind == PartKind::disc) return draw_disc_photos(app);
  if (const PartSummary* part = session.part()) {
    std::int64_t clicked = 0;
    std::size_t number = 0;
    for (const PhotoFinding& finding : part->photos) {
      const PhotoEntry& entry = finding.photo;
      if (from_planes(entry.view)) continue;
      const bool selected = session.photo() && session.photo()->photo.id == entry.id;
      ImGui::PushID(static_cast<int>(entry.id));
      if (ImGui::Selectable(entry.original_name.c_str(), selected)) clicked = entry.id;
      ImGui::PopID();
      place_last_item(app, fmt::format("row:photo:{}", ++number));
    }
    if (clicked) session.select_photo(clicked);
  }
  if (small_button(app, "Add photos…", "add_photos", "Or drop them on the window (Ctrl+O)"))
    app.ask_for_photos();
  if (session.photo()) {
    ImGui::SameLine();
    if (small_button(app, "Remove", "remove_photo",
                     "Takes the photo off this pad. Undo brings it back (Delete)"))
      app.attempt([&] { session.remove_photo(); });
  }
}

}  // namespace scantling
