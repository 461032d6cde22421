// The printed sheet's scale, or an ID-1 card in its place.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "app/app.h"
#include "app/panels.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "card/print_scale.h"
#include "report/wording.h"
#include "verdict/instrument.h"

namespace scantling {

namespace {

const MeasureOptions* options(const Session& session) {
  const PhotoFinding* photo = session.photo();
  return photo && photo->newest ? &photo->newest->options : nullptr;
}

void use_sheet(App& app, const std::optional<Sheet>& sheet) {
  app.attempt([&] { app.session().set_sheet(sheet); });
}

void take_bars(App& app) {
  SheetForm& form = app.forms().sheet;
  const auto x_printed = number_from(form.x_printed, "mm");
  const auto y_printed = number_from(form.y_printed, "mm");
  const auto x = number_from(form.x_measured, "mm");
  const auto y = number_from(form.y_measured, "mm");
  if (!x_printed || !y_printed || !x || !y || *x_printed < 20 || *y_printed < 20) {
    form.refusal =
        "Fill in all four lengths in millimetres: what is printed beside each bar, and "
        "what you measure.";
    return;
  }
  const Instrument& instrument = instruments()[static_cast<std::size_t>(form.instrument)];
  const PrintScaleCheck check =
      print_scale({*x, *x_printed, standard_uncertainty_mm(instrument, *x)},
                  {*y, *y_printed, standard_uncertainty_mm(instrument, *y)});
  if (!check.scale) {
    form.refusal = check.checks.empty() ? "Measure the bars again." : check.checks.front().message;
    return;
  }
  if (!check.checks.empty()) app.say(check.checks.front().message);
  form.refusal.clear();
  Sheet sheet;
  sheet.name = form.name.empty() ? "Sheet checked on " + date_title(today()) : form.name;
  sheet.scale = {check.scale->x, check.scale->y,
                 std::max(check.scale->x_uncertainty, check.scale->y_uncertainty), true};
  sheet.how_checked = "check bars with a " + std::string(instrument.name);
  sheet.checked_at = utc_now();
  form.name.clear();
  use_sheet(app, sheet);
}

void draw_bars(App& app) {
  SheetForm& form = app.forms().sheet;
  muted_text("Measure both check bars on the sheet you printed.");
  const float field = scaled(84);
  const auto row = [&](const char* label, const std::string& name, std::string& printed,
                       std::string& measured) {
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(label);
    ImGui::SameLine(scaled(76));
    text_field(app, name + "_printed", "printed", printed, field);
    ImGui::SameLine();
    text_field(app, name + "_measured", "measured", measured, field);
  };
  row("Across", "bar_x", form.x_printed, form.x_measured);
  row("Along", "bar_y", form.y_printed, form.y_measured);
  ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x - scaled(60));
  const auto known = instruments();
  const auto name = [&](std::size_t i) { return std::string(known[i].name); };
  if (ImGui::BeginCombo("##bar_instrument",
                        name(static_cast<std::size_t>(form.instrument)).c_str())) {
    for (std::size_t i = 0; i < known.size(); ++i)
      if (ImGui::Selectable(name(i).c_str(), form.instrument == static_cast<int>(i)))
        form.instrument = static_cast<int>(i);
    ImGui::EndCombo();
  }
  ImGui::SameLine();
  if (small_button(app, "Use", "use_bars")) take_bars(app);
  text_field(app, "sheet_name", "what you call this sheet", form.name,
             ImGui::GetContentRegionAvail().x);
  if (!form.refusal.empty()) text_as_written(form.refusal);
}

void draw_sheet_choice(App& app) {
  const std::optional<Sheet>& sheet = app.session().job()->sheet;
  const char* none = "Not checked";
  ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x);
  const bool open = ImGui::BeginCombo("##sheet", sheet ? sheet->name.c_str() : none);
  place_last_item(app, "combo:sheet");
  std::optional<std::optional<Sheet>> chosen;
  if (open) {
    if (ImGui::Selectable(none, !sheet)) chosen.emplace(std::nullopt);
    for (const Sheet& known : app.session().record().sheets()) {
      ImGui::PushID(static_cast<int>(known.id));
      if (ImGui::Selectable(known.name.c_str(), sheet && sheet->id == known.id))
        chosen.emplace(known);
      ImGui::PopID();
    }
    ImGui::EndCombo();
  }
  if (sheet)
    muted_text(fmt::format("Printed {:.4f} times its size across, {:.4f} along, ± {:.2g}%.",
                           sheet->scale.x, sheet->scale.y,
                           200 * sheet->scale.standard_uncertainty));
  else
    muted_text("The print may be off by 2%. Measure its check bars for a better result.");
  if (chosen) use_sheet(app, *chosen);
}

/// For who has no printer: this photo shows an ID-1 card beside the part instead of a printed card.
void draw_id_card(App& app, const MeasureOptions& now) {
  if (now.view != View::pad && now.view != View::rim) return;
  gap(2);
  const bool was = now.sheet_scale.id_card;
  bool by_id_card = was;
  check_box(app, "An ID-1 card instead of the notch card", "id_card", by_id_card);
  muted_text(
      "No printer: a blank or loyalty card of bank-card size, its face level with the part's edge "
      "and about 25 mm beside it. Less sure; never show a payment card's number.");
  if (by_id_card == was) return;
  MeasureOptions options = now;
  options.sheet_scale = SheetScale{};  // a printed card's is the sheet's
  if (const auto& sheet = app.session().photo()->sheet) options.sheet_scale = sheet->scale;
  options.sheet_scale.id_card = by_id_card;
  app.attempt([&] {
    app.session().set_photo_options(
        by_id_card ? "measure by an ID-1 card" : "measure by the notch card",
        app.session().photo()->photo.id, options);
  });
}

}  // namespace

void draw_sheet_section(App& app) {
  Session& session = app.session();
  if (!session.part()) return;
  gap(4);
  heading("Printed sheet");
  draw_sheet_choice(app);
  if (!fold(app, "Check bars, or no printer", "sheet", false)) return;
  draw_bars(app);
  if (const MeasureOptions* now = options(session)) draw_id_card(app, *now);
}

}  // namespace scantling
