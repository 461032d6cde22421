// What the user enters about a part: its minimum.
#include <fmt/format.h>
#include <imgui.h>

#include <array>
#include <utility>

#include "app/app.h"
#include "app/panels.h"
#include "app/shown.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "verdict/hand_reading_text.h"

namespace scantling {

namespace {

constexpr std::array kOrigins = {"stamped on the part", "workshop manual", "parts maker's sheet",
                                 "another source"};

constexpr int kOtherOrigin = static_cast<int>(kOrigins.size()) - 1;

int origin_index(const std::string& origin) {
  for (std::size_t i = 0; i < kOrigins.size(); ++i)
    if (origin == kOrigins[i]) return static_cast<int>(i);
  return origin.empty() ? 0 : kOtherOrigin;
}

// Fresh texts when another part is shown or its figures changed (undo, say); else what is being
// typed stays.
void follow_part(App& app) {
  PartForm& form = app.forms().part;
  const Session& session = app.session();
  if (form.typing || form.minimum_open) return;
  const PartSummary* part = session.part();
  const std::optional<double> minimum = part ? part->part.minimum_mm : std::nullopt;
  const std::string origin = part ? part->part.minimum_origin : std::string();
  const std::string key =
      fmt::format("{} {} {} {} {} {} {} {}", shown("1.5 mm"), session.job()->job.id,
                  static_cast<int>(session.slot().kind), static_cast<int>(session.slot().side),
                  static_cast<int>(session.slot().place), minimum ? number_words(*minimum) : "",
                  origin, part ? part->readings.size() : 0);
  if (key == form.key) return;
  form.key = key;
  form.of = session.address();
  form.minimum = minimum ? shown(length_for_typing(*minimum, shown_style().length)) : std::string();
  form.origin = origin_index(origin);
  form.origin_words = form.origin == kOtherOrigin && origin != kOrigins[kOtherOrigin] ? origin : "";
  form.reading.clear();
  form.clock.clear();
  form.refusal.clear();
  form.minimum_refusal.clear();
}

void take_minimum(App& app) {
  PartForm& form = app.forms().part;
  form.minimum_open = false;
  const bool cleared = form.minimum.find_first_not_of(' ') == std::string::npos;
  const LengthText length = length_from_text(length_as_typed(form.minimum, shown_style().length));
  const std::optional<double> value = length.value_mm;
  if (!cleared && !value) {
    form.minimum_refusal = length.problem;
    return;
  }
  form.minimum_refusal.clear();
  const bool own_words =
      form.origin == kOtherOrigin && form.origin_words.find_first_not_of(' ') != std::string::npos;
  const std::string origin =
      own_words ? form.origin_words : kOrigins[static_cast<std::size_t>(form.origin)];
  app.attempt([&] { app.session().set_minimum(form.of, cleared ? std::nullopt : value, origin); });
}

}  // namespace

void take_left_entries(App& app) {
  PartForm& form = app.forms().part;
  if (std::exchange(form.drawn, false)) return;
  form.typing = false;
  if (form.minimum_open) take_minimum(app);
}

void draw_minimum_section(App& app) {
  follow_part(app);
  PartForm& form = app.forms().part;
  form.drawn = true;
  gap(4);
  const bool disc = app.session().slot().kind == PartKind::disc;
  heading(disc ? "Minimum worn thickness" : "Minimum friction thickness");
  const float room = ImGui::GetContentRegionAvail().x;
  const bool left =
      text_field(app, "minimum", unit_word(shown_style().length), form.minimum, scaled(64));
  form.typing = ImGui::IsItemActive();
  form.minimum_open = form.minimum_open || ImGui::IsItemEdited();
  if (left || (form.minimum_open && !form.typing)) take_minimum(app);
  ImGui::SameLine();
  ImGui::SetNextItemWidth(room - scaled(72));
  if (ImGui::BeginCombo("##origin", kOrigins[static_cast<std::size_t>(form.origin)])) {
    for (std::size_t i = 0; i < kOrigins.size(); ++i) {
      if (ImGui::Selectable(kOrigins[i], form.origin == static_cast<int>(i))) {
        form.origin = static_cast<int>(i);
        if (!form.minimum.empty()) take_minimum(app);
      }
      place_last_item(app, fmt::format("row:origin:{}", i + 1));
    }
    ImGui::EndCombo();
  }
  place_last_item(app, "combo:origin");
  if (form.origin == kOtherOrigin) {
    const bool told = text_field(app, "origin", "which source", form.origin_words, room);
    form.typing = form.typing || ImGui::IsItemActive();
    if (told && !form.minimum.empty()) take_minimum(app);
  }
  if (!form.minimum_refusal.empty())
    wrapped_text(form.minimum_refusal);
  else if (form.minimum.empty())
    muted_text(disc ? "Often stamped on the hub or the rim as MIN TH. No figure of the maker's is "
                      "built in."
                    : "Without the backing plate. No figure of the maker's is built in: look it "
                      "up.");
}

}  // namespace scantling
