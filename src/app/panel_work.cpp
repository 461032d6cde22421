// The page on which a job is closed: what was fitted, how it was tightened, what was looked at and
// when to check again.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <array>

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

constexpr std::array kUsualFasteners = {"Calliper bracket bolts", "Calliper guide bolts",
                                        "Wheel nuts or bolts"};

/// Draws fields and remembers whether one of them was changed.
class FormPainter {
 public:
  explicit FormPainter(App& app) : app_(app) {}

  void field(const std::string& name, const char* hint, std::string& text, float width) {
    changed_ |= text_field(app_, name, hint, text, width);
  }
  /// With its words after it.
  void named(const char* words, const std::string& name, const char* hint, std::string& text,
             float width) {
    field(name, hint, text, width);
    ImGui::SameLine(0, scaled(8));
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(words);
  }
  void tick(const std::string& label, const std::string& name, bool& value) {
    changed_ |= check_box(app_, label, "check:" + name, value);
  }
  bool button(const char* label, const std::string& name, const char* tip = nullptr) {
    const bool pressed = small_button(app_, label, name, tip);
    changed_ |= pressed;
    return pressed;
  }
  bool changed() const { return changed_; }

 private:
  App& app_;
  bool changed_ = false;
};

std::string title_of(PartSlot slot, Axle axle) {
  Part part;
  part.kind = slot.kind;
  part.side = slot.side;
  part.place = slot.place;
  return part_title(part, axle);
}

void draw_when(FormPainter& paint, WorkForm& form) {
  paint.named("day of the work", "work_date", "2026-11-25", form.date, scaled(120));
  ImGui::SameLine(0, scaled(18));
  paint.named((distance_word(form.style.distance) + std::string(" on the odometer")).c_str(),
              "work_odometer", "may stay empty", form.odometer, scaled(110));
  paint.named("who did it", "work_by", "name", form.done_by, scaled(250));
}

void draw_parts(FormPainter& paint, WorkForm& form) {
  gap(6);
  heading("New parts fitted");
  muted_text(
      "Tick what is new. Its size is the first point of the next wear line; left empty, the line "
      "begins with the next job.");
  if (!ImGui::BeginTable("fitted", 6, ImGuiTableFlags_SizingFixedFit)) return;
  ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, scaled(170));
  for (const float width : {96.0f, 96.0f, 64.0f, 56.0f, 80.0f})
    ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, scaled(width));
  const bool any = std::any_of(form.parts.begin(), form.parts.end(),
                               [](const FittedForm& part) { return part.fitted; });
  if (any) {
    ImGui::TableNextRow();
    const std::string unit = unit_word(form.style.length);
    for (const std::string& head : {std::string(), std::string("maker"), std::string("number"),
                                    "new, " + unit, "± " + unit, "minimum, " + unit}) {
      ImGui::TableNextColumn();
      muted_text(head);
    }
  }
  for (std::size_t i = 0; i < form.parts.size(); ++i) {
    FittedForm& part = form.parts[i];
    const std::string id = std::to_string(i + 1);
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    paint.tick(title_of(part.slot, form.axle), "fitted:" + id, part.fitted);
    if (!part.fitted) continue;
    ImGui::TableNextColumn();
    paint.field("fitted_maker:" + id, "maker", part.maker, scaled(96));
    ImGui::TableNextColumn();
    paint.field("fitted_number:" + id, "number", part.number, scaled(96));
    ImGui::TableNextColumn();
    const LengthHints hints = length_hints(form.style, part.slot.kind);
    paint.field("fitted_size:" + id, hints.size.c_str(), part.size, scaled(64));
    ImGui::TableNextColumn();
    paint.field("fitted_give:" + id, hints.give_95.c_str(), part.give_95, scaled(52));
    ImGui::TableNextColumn();
    paint.field("fitted_minimum:" + id, unit_word(form.style.length), part.minimum, scaled(64));
  }
  ImGui::EndTable();
}

void draw_fastener(FormPainter& paint, FastenerForm& fastener, const std::string& id,
                   bool& remove) {
  paint.field("fastener_name:" + id, "which", fastener.name, scaled(180));
  ImGui::SameLine();
  paint.field("fastener_count:" + id, "1", fastener.count, scaled(34));
  tip_for_last_item("How many");
  ImGui::SameLine();
  paint.tick("renewed", "renewed:" + id, fastener.renewed);
  tip_for_last_item("Ticked: new ones. Else used again");
  ImGui::SameLine();
  paint.field("fastener_figure:" + id, "30 N m, then 90 deg", fastener.figure, scaled(170));
  tip_for_last_item(
      "The maker's figure, in stages: N m or lbf ft first, degrees after. None is built in.");
  ImGui::SameLine();
  remove = paint.button("×", "remove_fastener:" + id, "Takes this line off");
  if (const std::string note = tightening_note(fastener); !note.empty()) muted_text(note);
}

void draw_fasteners(FormPainter& paint, WorkForm& form) {
  gap(6);
  heading("Fasteners, with the maker's tightening figures");
  caution_line(WorkStage::tightening);
  for (std::size_t i = 0; i < form.fasteners.size(); ++i) {
    bool remove = false;
    draw_fastener(paint, form.fasteners[i], std::to_string(i + 1), remove);
    if (!remove) continue;
    form.fasteners.erase(form.fasteners.begin() + static_cast<std::ptrdiff_t>(i));
    break;
  }
  bool first = true;
  for (std::size_t i = 0; i < kUsualFasteners.size(); ++i) {
    const std::string name = kUsualFasteners[i];
    if (std::any_of(form.fasteners.begin(), form.fasteners.end(),
                    [&](const FastenerForm& f) { return f.name == name; }))
      continue;
    if (!first) ImGui::SameLine();
    first = false;
    if (paint.button(("+ " + name).c_str(), "add_fastener:" + std::to_string(i + 1)))
      form.fasteners.push_back({.name = name});
  }
  if (!first) ImGui::SameLine();
  if (paint.button("+ Others", "add_fastener:other")) form.fasteners.push_back({.name = "Bolts"});
}

void draw_looked_at(FormPainter& paint, WorkForm& form) {
  gap(6);
  heading("Looked at");
  paint.tick("Brake fluid", "fluid", form.fluid_looked_at);
  if (form.fluid_looked_at) {
    ImGui::SameLine(scaled(190));
    paint.field("fluid", "level, colour, age", form.fluid, scaled(330));
  }
  paint.tick("Slides and guide pins", "slides", form.slides_looked_at);
  if (form.slides_looked_at) {
    ImGui::SameLine(scaled(190));
    paint.field("slides", "free, greased, boots whole", form.slides, scaled(330));
  }
}

void draw_afterwards(FormPainter& paint, WorkForm& form) {
  gap(6);
  heading("Afterwards");
  caution_line(WorkStage::putting_in_use);
  const std::string unit = distance_word(form.style.distance);
  paint.named((unit + " to bed in").c_str(), "bedding_in", "may stay empty", form.bedding_in,
              scaled(110));
  paint.named((unit + ": next check, or").c_str(), "work_next_km", "may stay empty",
              form.next_check_km, scaled(110));
  ImGui::SameLine();
  paint.named("by date", "work_next_date", "2027-11-25", form.next_check_date, scaled(120));
  paint.named("note", "work_note", "may stay empty", form.note, scaled(460));
}

/// How the job stands, and the one button that closes it as it is.
void draw_standing(App& app) {
  // What is pressed may change it.
  const std::optional<WorkDone> work = app.session().job()->work;
  WorkPage& page = app.work_page();
  if (!page.refusal.empty()) {
    heading("Not saved yet");
    wrapped_text(page.refusal);
  } else if (work) {
    wrapped_text(
        fmt::format("This job is closed with the work of {}. Every change here is saved at once.",
                    date_title(work->date)));
  } else {
    wrapped_text("This job is open. The first entry closes it, and so does the button.");
  }
  gap(2);
  if (!work && wide_button(app, "Close the job", "close_with_work", scaled(150), true))
    app.take_work();
  if (work && wide_button(app, "Next job of this axle…", "next_job", scaled(190), false))
    app.next_job();
  ImGui::SameLine();
  if (work && wide_button(app, "Open it again", "reopen", scaled(130), false)) app.reopen_job();
  ImGui::SameLine();
  if (wide_button(app, "Back", "work_back", scaled(90), false)) app.show_work(false);
}

void draw_form(App& app) {
  WorkPage& page = app.work_page();
  FormPainter paint(app);
  draw_when(paint, page.form);
  draw_parts(paint, page.form);
  draw_fasteners(paint, page.form);
  draw_looked_at(paint, page.form);
  draw_afterwards(paint, page.form);
  if (paint.changed()) app.take_work();
}

}  // namespace

void draw_work_page(App& app, const ScreenRect& area) {
  WorkPage& page = app.work_page();
  page.follow(*app.session().job(), app.person(), shown_style(), app.settings().check_every_km);
  if (const ReadWork read = read_work(page.form); read.work) page.shown = *read.work;
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize(vec({area.width, area.height}));
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                      ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus;
  if (ImGui::Begin("##work", nullptr, kFlags)) {
    ImGui::PushFont(fonts().large);
    ImGui::TextUnformatted("Work done");
    ImGui::PopFont();
    draw_standing(app);
    gap(4);
    const float room = ImGui::GetContentRegionAvail().x;
    const float list = std::clamp(0.4f * room, scaled(300), scaled(520));
    ImGui::BeginChild("form", {room - list - scaled(20), 0});
    if (app.session().job()) draw_form(app);
    ImGui::EndChild();
    ImGui::SameLine(0, scaled(20));
    ImGui::BeginChild("list", {0, 0});
    if (app.session().job()) draw_refit_list(app);
    ImGui::EndChild();
  }
  ImGui::End();
}

}  // namespace scantling
