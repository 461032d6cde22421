// The page of the sizes from planes: photos at the left, the scene or one photo in the middle, the
// result at the right.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/planes_list.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "report/wording.h"

namespace scantling {

namespace {

constexpr float kListWidth = 308;
constexpr float kResultWidth = 336;
constexpr float kLeastForThree = 940;  ///< below this the result goes under the list
constexpr std::size_t kEnoughPhotos = 5;

constexpr ImGuiWindowFlags kPanel = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                    ImGuiWindowFlags_NoMove |
                                    ImGuiWindowFlags_NoBringToFrontOnFocus;

const char* how_to(View view) {
  return view == View::faces
             ? "Stand the disc upright on the printed ground sheet so that it cannot roll. Fix "
               "track card A flat on the outboard worn track and card B on the inboard one, both "
               "near the ground. Take two or more photos of each side, from different directions, "
               "with the sheet in each of them, and end with one more of the side you began with. "
               "Touch nothing in between. Any order will do here."
             : "Lay the pad on the printed ground sheet, friction side up, and track card A flat "
               "on it, or A and B at its ends. Take two or more photos from different sides, with "
               "the sheet in each of them. Touch nothing in between. Any order will do here.";
}

void draw_title(App& app) {
  Session& session = app.session();
  ImGui::PushFont(fonts().large);
  ImGui::TextUnformatted("Sizes from planes");
  ImGui::PopFont();
  Part shown;
  shown.kind = session.slot().kind;
  shown.side = session.slot().side;
  shown.place = session.slot().place;
  muted_text(part_title(shown, session.job()->job.axle) +
             (shown.kind == PartKind::disc ? ": worn thickness between two cards"
                                           : ": thickness of the whole pad"));
}

/// One photo: its number and name, what was found in it, the button that takes it off.
void draw_row(App& app, const PlanesRow& row, std::size_t place) {
  PlanesPage& page = app.planes_page();
  ImGui::PushID(static_cast<int>(row.photo_id));
  const float room = ImGui::GetContentRegionAvail().x;
  const bool selected = page.photo_id() == row.photo_id;
  if (ImGui::Selectable(fmt::format("{}   {}###row", row.number, row.name).c_str(), selected, 0,
                        {room - scaled(38), 0}))
    selected ? page.show_scene() : page.show_photo(row.photo_id);
  place_last_item(app, fmt::format("planes_row:{}", place));
  app.probe().tell(fmt::format("planes_row:{}", place),
                   fmt::format("{}|{}|{}", row.name, group_title(row.group), row.found));
  tip_for_last_item("Shows the photo with its corners (Tab goes through them)");
  ImGui::SameLine(room - scaled(28) + ImGui::GetCursorStartPos().x);
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {scaled(9), scaled(1)});
  const bool removed = small_button(app, "×", fmt::format("planes_remove:{}", place),
                                    "Takes the photo off. Undo brings it back (Delete)");
  ImGui::PopStyleVar();
  ImGui::Indent(scaled(18));
  muted_text(row.found);
  ImGui::Unindent(scaled(18));
  ImGui::PopID();
  if (removed) app.remove_planes_photo(row.photo_id);
}

void draw_list(App& app, const PlanesTask& task, const PlanesOutcome& outcome) {
  const std::vector<PlanesRow> rows = planes_rows(task, outcome);
  std::optional<PlanesGroup> group;
  std::size_t place = 0;
  for (const PlanesRow& row : rows) {
    if (group != row.group) {
      gap(3);
      heading(group_title(row.group));
      group = row.group;
    }
    draw_row(app, row, ++place);
  }
}

void take_card_thickness(App& app, const PartOffset& now) {
  PlanesPage& page = app.planes_page();
  const bool cleared = page.card_text.find_first_not_of(' ') == std::string::npos;
  const auto value = cleared ? std::nullopt : number_from(page.card_text, "mm");
  if (!cleared && (!value || !(*value >= 0.03 && *value <= 10))) {
    page.card_refusal =
        "Give the cut-out card's thickness with all that is glued to it, between 0.03 and 10 mm, "
        "such as 0.26. It may stay empty.";
    return;
  }
  page.card_refusal.clear();
  page.card_key.clear();
  // A calliper that shows 0.02 mm, evenly spread, is 0.012 mm.
  const PartOffset taken = value ? PartOffset{*value, 0.012} : PartOffset{0.25, 0.05};
  if (taken.offset_mm == now.offset_mm &&
      taken.standard_uncertainty_mm == now.standard_uncertainty_mm)
    return;
  app.attempt([&] {
    app.session().part_id();
    app.session().set_card_thickness(taken);
  });
}

void draw_card_thickness(App& app, const PartOffset& now) {
  PlanesPage& page = app.planes_page();
  const bool measured = card_thickness_of(now).measured;
  const std::string key = fmt::format("{} {} {} {}", app.session().job()->job.id,
                                      static_cast<int>(app.session().slot().kind), now.offset_mm,
                                      now.standard_uncertainty_mm);
  if (key != page.card_key) {
    page.card_key = key;
    page.card_text = measured ? number_words(now.offset_mm) : std::string();
    page.card_refusal.clear();
  }
  gap(6);
  heading("Cut-out card's thickness");
  if (text_field(app, "card_thickness", "mm", page.card_text, scaled(80)))
    take_card_thickness(app, now);
  ImGui::SameLine();
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(measured ? "mm, by calliper" : "mm; taken as 0.25 ± 0.10");
  if (!page.card_refusal.empty()) text_as_written(page.card_refusal);
  muted_text(
      "With all that is glued to it. The sheet's print scale is the job's: see Printed sheet on "
      "the part's own page.");
}

/// Where the result lies below the list, its size is seen first all the same.
void draw_size_line(const PlanesOutcome& outcome) {
  if (!outcome.result.usable()) return;
  const Dimension& size = outcome.result.dimensions.front();
  gap(2);
  heading((outcome.options.view == View::faces ? "Worn thickness " : "Whole pad ") +
          size_with_95(size.quantity));
}

void draw_left(App& app, const PlanesTask& task, const PlanesOutcome& outcome, bool alone) {
  draw_title(app);
  gap(2);
  const float width = ImGui::GetContentRegionAvail().x;
  if (wide_button(app, "Add photos…", "planes_add", width - scaled(88),
                  task.photos.size() < kEnoughPhotos))
    app.ask_for_planes_photos();
  tip_for_last_item("Or drop them on the window (Ctrl+O)");
  ImGui::SameLine();
  if (wide_button(app, "Back", "planes_back", scaled(80), false)) app.show_planes(false);
  tip_for_last_item("To the part's own page (Esc)");
  if (alone) draw_size_line(outcome);
  if (fold(app, "How to take the photos", "planes_how", task.photos.empty()))
    muted_text(how_to(task.options.view));
  draw_list(app, task, outcome);
  draw_card_thickness(app, task.options.part_offset);
}

bool begin(const char* name, const ScreenRect& area) {
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize(vec({area.width, area.height}));
  return ImGui::Begin(name, nullptr, kPanel);
}

void draw_middle(App& app, const PlanesTask& task, const ScreenRect& area) {
  if (app.guide_open() || task.photos.empty()) {
    app.planes_page().area = area;
    const View view = app.guide_open() ? app.guide_view() : task.options.view;
    return draw_guide(app, view, area, !app.guide_open());
  }
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 0});
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize(vec({area.width, area.height}));
  const bool open =
      ImGui::Begin("##planes_middle", nullptr,
                   kPanel | ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
  ImGui::PopStyleVar();
  app.planes_page().area = area;
  if (open) {
    if (app.planes_page().photo_id() != 0)
      draw_planes_photo(app, area);
    else
      draw_planes_scene(app, area);
  }
  ImGui::End();
}

}  // namespace

void draw_planes_page(App& app, const ScreenRect& area) {
  PlanesTask task;
  const PartSummary* part = app.session().part();
  if (part) {
    task = app.planes_task(*part);
  } else {
    task.options = app.session().planes_options(*app.session().summary());
    task.options.view = app.session().planes_view();
  }
  static const PlanesOutcome kNothing;
  const PlanesCase* known = part ? app.planes_page().find(part->part.id) : nullptr;
  const PlanesOutcome& outcome = known ? known->outcome : kNothing;
  // A photo that was taken off cannot be shown any more.
  if (std::none_of(task.photos.begin(), task.photos.end(), [&](const PlanesSource& s) {
        return s.photo_id == app.planes_page().photo_id();
      }))
    app.planes_page().show_scene();

  const float width = static_cast<float>(area.width);
  const bool three = width >= scaled(kLeastForThree);
  const float left = scaled(kListWidth), right = three ? scaled(kResultWidth) : 0;
  if (begin("##planes_list", {0, area.y, left, area.height})) {
    draw_left(app, task, outcome, !three);
    if (!three) {
      gap(8);
      draw_planes_result(app);
    }
  }
  ImGui::End();
  if (three) {
    if (begin("##planes_result", {width - right, area.y, right, area.height}))
      draw_planes_result(app);
    ImGui::End();
  }
  draw_middle(app, task, {left, area.y, width - left - right, area.height});
}

void draw_planes_entry(App& app) {
  Session& session = app.session();
  gap(4);
  heading("Sizes from planes");
  const PartSummary* part = session.part();
  const std::size_t photos = part ? Session::planes_photos(*part).size() : 0;
  if (photos > 0)
    muted_text(
        fmt::format("{} photo{} of the {}.", photos, photos == 1 ? "" : "s",
                    session.slot().kind == PartKind::disc ? "disc's faces" : "pad on the sheet"));
  else
    muted_text(session.slot().kind == PartKind::disc
                   ? "The worn thickness between two cards on the disc's faces: no edge is needed."
                   : "The whole pad's thickness from a card lying on it: no edge is needed.");
  if (small_button(app, "Open the page…", "planes",
                   "Photos with the ground sheet, solved together (P)"))
    app.show_planes(true);
}

}  // namespace scantling
