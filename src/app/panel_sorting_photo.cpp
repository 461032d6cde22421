// The row in hand on the sorting page: its picture, what it shows, where it goes, and why.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <array>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "record/words.h"
#include "sorting/sorting_words.h"
#include "sorting/taken_time.h"

namespace scantling {

namespace {

constexpr float kPictureHeight = 250, kLeastPicture = 60;

void draw_picture(App& app, const SortingRow& row, float height) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const ImVec2 size(ImGui::GetContentRegionAvail().x, height);
  const ImVec2 to(at.x + size.x, at.y + size.y);
  ImDrawList* draw = ImGui::GetWindowDrawList();
  draw->AddRectFilled(at, to, theme().canvas, scaled(3));
  if (!app.preview().draw(draw, row.id, at, to)) app.thumbnails().draw(draw, row.id, at, to);
  ImGui::Dummy(size);
}

/// A choice among others of its row; the one that holds stands out.
bool choice(App& app, const std::string& label, const std::string& name, float width, bool holds) {
  if (holds) {
    ImGui::PushStyleColor(ImGuiCol_Button, theme().accent);
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, with_alpha(theme().accent, 0.85f));
    ImGui::PushStyleColor(ImGuiCol_Text, theme().on_accent);
  }
  ImGui::PushID(name.c_str());
  const bool pressed = ImGui::Button(label.c_str(), {width, scaled(26)});
  ImGui::PopID();
  if (holds) ImGui::PopStyleColor(3);
  place_last_item(app, "button:" + name);
  return pressed;
}

void draw_views(App& app, const SortingRow& row) {
  struct Shown {
    const char* label;
    View view;
  };
  constexpr std::array kViews = {Shown{"Pad", View::pad}, Shown{"Rim", View::rim},
                                 Shown{"Lip", View::lip}, Shown{"Disc on sheet", View::faces},
                                 Shown{"Pad on sheet", View::pile}};
  const bool bare = row.choice.bare_sheet || (row.sight.bare_sheet && !row.choice.view);
  const float space = ImGui::GetStyle().ItemSpacing.x;
  const float third = (ImGui::GetContentRegionAvail().x - 2 * space) / 3;
  for (std::size_t i = 0; i < kViews.size(); ++i) {
    if (i % 3 != 0) ImGui::SameLine();
    const bool holds = !bare && row.view() == kViews[i].view;
    if (choice(app, kViews[i].label, fmt::format("shows_{}", view_word(kViews[i].view)), third,
               holds))
      app.sorting_page().choose_view(kViews[i].view);
  }
  ImGui::SameLine();
  if (choice(app, "Bare sheet", "shows_sheet", third, bare)) app.sorting_page().choose_bare_sheet();
}

std::string probe_word(const PhotoPlace& place) {
  if (place.goes == PhotoPlace::Goes::aside) return "goes_aside";
  if (place.goes == PhotoPlace::Goes::to_camera) return "goes_camera";
  std::string word = fmt::format("goes_{}", side_word(place.slot.side));
  if (place.slot.kind == PartKind::pad) word += fmt::format("_{}", place_word(place.slot.place));
  if (place.kind.face) word += fmt::format("_{}", face_word(*place.kind.face));
  return word;
}

/// Left places at the left, right ones at the right, as they are on the car.
void draw_places(App& app, const SortingRow& row) {
  const std::vector<PhotoPlace> places = app.sorting_page().places();
  const float space = ImGui::GetStyle().ItemSpacing.x;
  const float width = ImGui::GetContentRegionAvail().x;
  const float half = (width - space) / 2;
  std::vector<PhotoPlace> left, right, others;
  for (const PhotoPlace& place : places)
    (place.goes != PhotoPlace::Goes::to_part ? others
     : place.slot.side == Side::left         ? left
                                             : right)
        .push_back(place);
  const auto button = [&](const PhotoPlace& place, float room) {
    if (choice(app, place_words(place), probe_word(place), room, row.proposal.place == place))
      app.sorting_page().choose_place(place);
  };
  for (std::size_t i = 0; i < std::max(left.size(), right.size()); ++i) {
    if (i < left.size()) button(left[i], half);
    ImGui::SameLine();
    if (i < right.size()) button(right[i], half);
  }
  for (const PhotoPlace& place : others) button(place, width);
}

void draw_why(const SortingRow& row) {
  const int percent = static_cast<int>(100 * row.sight.sureness + 0.5);
  muted_text(fmt::format(
      "{}{}.", row.sight.why,
      row.sight.view && !row.chosen() ? fmt::format(" ({} % sure)", percent) : std::string()));
  if (!row.proposal.why.empty()) muted_text(row.proposal.why + ".");
  if (!row.sight.checks.empty()) draw_checks(row.sight.checks);
}

void draw_choices(App& app, const SortingRow& row) {
  if (!row.seen) {
    gap(4);
    muted_text("Waits to be looked at.");
  } else {
    gap(2);
    heading("It shows");
    draw_views(app, row);
    gap(2);
    heading("It goes to");
    draw_places(app, row);
    gap(2);
    draw_why(row);
  }
  gap(4);
  muted_text(
      "Up and down: another photo.  Tab: the next one to look at.  Left and right: its place.  "
      "Shift with them: what it shows.  Delete: leave it out.  Enter: file all.");
}

void draw_name(const SortingRow& row) {
  heading(row.sight.file.filename().string());
  const std::string clock = clock_words(row.sight.taken_at);
  muted_text(clock.empty() ? "The file does not say when it was taken."
                           : fmt::format("{}{}{}", clock, row.sight.camera.empty() ? "" : ", ",
                                         row.sight.camera));
}

}  // namespace

// Where it is wider than high, the picture stands beside the choices, else above them.
void draw_sorting_photo(App& app, const ScreenRect& area) {
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize(vec({area.width, area.height}));
  constexpr ImGuiWindowFlags kPanel = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                      ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus;
  const SortingRow* row = app.sorting_page().row();
  if (ImGui::Begin("##sorting_photo", nullptr, kPanel) && row) {
    const SortingRow shown = *row;  // a choice below makes the rows anew
    app.probe().place("sorting_photo", area);
    if (area.width > area.height) {
      const ImVec2 at = ImGui::GetWindowPos();
      ImGui::GetWindowDrawList()->AddLine(at, {at.x + static_cast<float>(area.width), at.y},
                                          theme().line, scaled(1));
      const ImVec2 room = ImGui::GetContentRegionAvail();
      ImGui::BeginChild("picture", {0.4f * room.x, 0});
      const float name = 2.4f * ImGui::GetTextLineHeightWithSpacing();
      draw_picture(app, shown, std::max(room.y - name, scaled(kLeastPicture)));
      draw_name(shown);
      ImGui::EndChild();
      ImGui::SameLine(0, scaled(14));
      ImGui::BeginChild("choices", {0, 0});
      draw_choices(app, shown);
      ImGui::EndChild();
    } else {
      draw_picture(app, shown, scaled(kPictureHeight));
      draw_name(shown);
      draw_choices(app, shown);
    }
  }
  ImGui::End();
}

}  // namespace scantling
