// Readings taken by hand: typed as people type them, with the instrument's zero and figures.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "app/app.h"
#include "app/panels.h"
#include "app/shown.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "report/wording.h"
#include "verdict/hand_entry.h"
#include "verdict/instrument.h"
#include "verdict/reading_series.h"

namespace scantling {

namespace {

bool blank(const std::string& text) {
  return text.find_first_not_of(' ') == std::string::npos;
}

/// "3", "1:30" or "10.5"; nothing where it is no clock position.
std::optional<double> clock_from(const std::string& text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string::npos) return number_from(text, "o'clock");
  const auto hour = number_from(text.substr(0, colon));
  const auto minute = number_from(text.substr(colon + 1));
  if (!hour || !minute || *minute < 0 || *minute >= 60) return std::nullopt;
  return *hour + *minute / 60;
}

void take_reading(App& app) {
  PartForm& form = app.forms().part;
  const Instrument& instrument = instruments()[static_cast<std::size_t>(form.instrument)];
  // A bare reading is in the user's unit, and what stands beside it in the reading's.
  const std::string reading = length_as_typed(form.reading, shown_style().length);
  const ReadEntry read = read_hand_entry(
      {reading, std::string(instrument.name), form.zero, form.resolution, form.permissible_error});
  if (!read.reading) {
    form.refusal = read.problem;
    return;
  }
  HandReadingEntry entry;
  if (form.of.slot.kind == PartKind::disc && !blank(form.clock)) {
    const auto clock = clock_from(form.clock);
    if (!clock || !(*clock > 0 && *clock <= 12)) {
      form.refusal = "The place round the disc is a clock position, such as 12, 3 or 7:30.";
      return;
    }
    entry.clock = clock;
  }
  form.refusal.clear();
  entry.as_typed = reading;
  entry.value_mm = read.reading->value_mm;
  entry.standard_uncertainty_mm = read.reading->standard_uncertainty_mm;
  entry.instrument = std::string(instrument.name);
  if (!blank(form.zero)) {
    entry.zero_as_typed = with_unit_of(reading, form.zero);
    entry.zero_error_mm = read.zero_error_mm;
  }
  if (!blank(form.resolution)) entry.resolution_mm = read.figures.resolution_mm;
  if (!blank(form.permissible_error))
    entry.permissible_error_mm = read.figures.permissible_error_mm;
  app.attempt([&] { app.session().add_reading(form.of, entry); });
}

std::string tip_of(const HandReadingEntry& reading) {
  std::string tip = fmt::format("Typed as \u201C{}\u201D, {}", reading.as_typed,
                                date_title(reading.read_at.substr(0, 10)));
  if (reading.zero_error_mm != 0)
    tip += fmt::format("\nzero error {:+.3f} mm taken off", reading.zero_error_mm);
  return tip + fmt::format("\nstandard uncertainty {:.3f} mm", reading.standard_uncertainty_mm);
}

void draw_readings(App& app, const PartSummary& part) {
  for (std::size_t i = 0; i < part.readings.size(); ++i) {
    const HandReadingEntry& reading = part.readings[i];
    ImGui::AlignTextToFramePadding();
    plain_text(fmt::format("{} mm", number_words(reading.value_mm)));
    tip_for_last_item(tip_of(reading).c_str());
    ImGui::SameLine(scaled(84));
    ImGui::TextDisabled(
        "%s", fmt::format("{}{}", reading.clock ? clock_text(*reading.clock) + ", " : std::string(),
                          reading.instrument)
                  .c_str());
    ImGui::SameLine(ImGui::GetContentRegionMax().x - scaled(28));
    if (small_button(app, "\u00D7", fmt::format("remove_reading:{}", i + 1),
                     "Remove this reading. Undo brings it back")) {
      const HandReadingEntry removed = reading;
      return app.attempt([&] { app.session().remove_reading(removed); });
    }
  }
}

/// What the readings round a disc say together.
void draw_round(const PartSummary& part) {
  std::vector<ClockReading> round;
  // The zero is common to all readings only where it was read once.
  const bool one_zero =
      std::all_of(part.readings.begin(), part.readings.end(), [&](const HandReadingEntry& r) {
        return r.zero_error_mm == part.readings.front().zero_error_mm;
      });
  for (const HandReadingEntry& r : part.readings) {
    if (!r.clock) continue;
    round.push_back({*r.clock, {r.value_mm, r.standard_uncertainty_mm, r.instrument}});
    if (one_zero)
      round.back().reading.own_u_mm = own_uncertainty_mm(r.instrument, r.as_typed, r.resolution_mm);
  }
  if (round.size() < 2) return;
  const auto series = summarise_round(round);
  if (!series) return;
  muted_text(fmt::format("Thinnest at {}. Thickness variation {:.3f} mm, give or take {:.3f} mm.",
                         clock_text(series->smallest_at_clock), series->thickness_variation_mm,
                         series->variation_expanded_95_mm));
  for (const Check& check : series->checks) wrapped_text(check.message);
}

void draw_instrument(PartForm& form, App& app) {
  const auto known = instruments();
  const std::string chosen(known[static_cast<std::size_t>(form.instrument)].name);
  if (ImGui::BeginCombo("##instrument", chosen.c_str())) {
    for (std::size_t i = 0; i < known.size(); ++i)
      if (ImGui::Selectable(std::string(known[i].name).c_str(),
                            form.instrument == static_cast<int>(i)))
        form.instrument = static_cast<int>(i);
    ImGui::EndCombo();
  }
  place_last_item(app, "combo:instrument");
}

/// The instrument's own error, and where round a disc.
void draw_details(App& app, PartForm& form, bool disc) {
  const float field = scaled(72);
  const auto row = [&](const char* words, const char* name, const char* hint, std::string& text) {
    text_field(app, name, hint, text, field);
    form.typing = form.typing || ImGui::IsItemActive();
    ImGui::SameLine();
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(words);
  };
  if (disc) row("o'clock round the disc", "clock", "12", form.clock);
  row("shown when closed (zero)", "zero", "0.00", form.zero);
  row("smallest step", "resolution", "usual", form.resolution);
  row("error limit", "permissible_error", "usual", form.permissible_error);
  muted_text("Left empty: no zero error, and what is usual for the instrument.");
}

}  // namespace

void draw_reading_section(App& app) {
  PartForm& form = app.forms().part;
  const bool disc = app.session().slot().kind == PartKind::disc;
  gap(4);
  heading("Readings by hand");
  if (const PartSummary* part = app.session().part()) {
    draw_readings(app, *part);
    if (disc) draw_round(*part);
  }
  const float room = ImGui::GetContentRegionAvail().x;
  text_field(app, "reading", unit_word(shown_style().length), form.reading, scaled(64));
  form.typing = form.typing || ImGui::IsItemActive();
  ImGui::SameLine();
  ImGui::SetNextItemWidth(room - scaled(72 + 58));
  draw_instrument(form, app);
  ImGui::SameLine();
  if (small_button(app, "Add", "add_reading", "A reading by hand outranks the photo"))
    take_reading(app);
  if (!form.refusal.empty()) wrapped_text(form.refusal);
  if (fold(app, disc ? "Clock position, zero, instrument" : "Zero and instrument", "readings",
           false))
    draw_details(app, form, disc);
}

}  // namespace scantling
