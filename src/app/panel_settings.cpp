// The settings: how figures are written, how the window looks, what new jobs start with.
#include <fmt/format.h>
#include <imgui.h>

#include <initializer_list>

#include "app/app.h"
#include "app/panels.h"
#include "app/shown.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"

namespace scantling {

namespace {

constexpr float kLabels = 150;

void label(const char* words) {
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(words);
  ImGui::SameLine(scaled(kLabels));
}

struct Choice {
  const char* words;
  const char* name;
};

// One of a few; returns the one chosen now, which may be the one there was.
int choose(App& app, int now, std::initializer_list<Choice> choices) {
  int at = 0;
  for (const Choice& choice : choices) {
    if (at > 0) ImGui::SameLine(0, scaled(14));
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, scaled(1));
    ImGui::PushStyleColor(ImGuiCol_Border, theme().muted);
    ImGui::PushID(choice.name);
    if (ImGui::RadioButton(choice.words, now == at)) now = at;
    ImGui::PopID();
    ImGui::PopStyleColor();
    ImGui::PopStyleVar();
    place_last_item(app, std::string("radio:") + choice.name);
    ++at;
  }
  return now;
}

void draw_figures(App& app) {
  Settings& s = app.settings();
  heading("Figures, here and in reports");
  label("Lengths");
  s.inches = choose(app, s.inches, {{"millimetres", "mm"}, {"inches", "inch"}}) == 1;
  label("Distances");
  s.miles = choose(app, s.miles, {{"kilometres", "km"}, {"miles", "miles"}}) == 1;
  label("Decimals");
  s.decimal_comma = choose(app, s.decimal_comma, {{"5.02", "point"}, {"5,02", "comma"}}) == 1;
  muted_text(
      "What you type may have a point or a comma, and minimum and readings any unit: 7/8 in. The "
      "printed sheet and a disc's diameter stay in millimetres.");
}

void draw_window(App& app) {
  Settings& s = app.settings();
  gap(4);
  heading("Window");
  label("Background");
  const bool light = choose(app, s.light_theme, {{"dark", "dark"}, {"light", "light"}}) == 1;
  if (light != s.light_theme) app.switch_theme();
  label("Text size");
  int at = 0, now = 0;
  for (const int size : kTextSizes) {
    if (size == s.text_percent) now = at;
    ++at;
  }
  const int chosen = choose(app, now,
                            {{"small", "text_90"},
                             {"usual", "text_100"},
                             {"large", "text_115"},
                             {"largest", "text_130"}});
  s.text_percent = kTextSizes[chosen];
}

void draw_jobs(App& app) {
  Settings& s = app.settings();
  SettingsForm& form = app.forms().settings;
  gap(4);
  heading("Jobs and reports");
  label("Your name");
  if (text_field(app, "person", "kept with every edge you confirm", form.person, scaled(280)) &&
      form.person.find_first_not_of(' ') != std::string::npos)
    s.person = form.person;
  label("Next check after");
  const DistanceUnit unit = s.miles ? DistanceUnit::mile : DistanceUnit::kilometre;
  if (text_field(app, "check_every", "none", form.check_every, scaled(110))) {
    const bool blank = form.check_every.find_first_not_of(' ') == std::string::npos;
    const auto km = km_from_text(form.check_every, unit);
    form.refusal.clear();
    if (blank)
      s.check_every_km = 0;
    else if (km && *km <= kMostCheckEvery_km)
      s.check_every_km = *km;
    else
      form.refusal = fmt::format(
          "The distance to the next check is a number of {}, such as 15000. It may stay empty.",
          distance_word(unit));
  }
  ImGui::SameLine();
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(
      fmt::format("{}, offered with every new job", distance_word(unit)).c_str());
  if (!form.refusal.empty()) wrapped_text(form.refusal);
  label("Paper");
  s.letter_paper = choose(app, s.letter_paper, {{"A4", "a4"}, {"US Letter", "letter"}}) == 1;
}

}  // namespace

void App::ask_for_settings() {
  SettingsForm& form = forms_.settings;
  form = {};
  form.asked = true;
  form.person = settings_.person;
  if (settings_.check_every_km > 0)
    form.check_every =
        distance_for_typing(settings_.check_every_km, figure_style(settings_).distance);
}

void draw_settings_dialog(App& app) {
  SettingsForm& form = app.forms().settings;
  if (form.asked) {
    ImGui::OpenPopup("Settings");
    form.asked = false;
  }
  if (!begin_dialog(app, "Settings")) return;
  const bool miles = app.settings().miles;
  ImGui::PushTextWrapPos(scaled(560));
  draw_figures(app);
  draw_window(app);
  draw_jobs(app);
  ImGui::PopTextWrapPos();
  if (miles != app.settings().miles) {
    // What stands in the field is the same distance in the other unit.
    const std::string person = form.person;
    app.ask_for_settings();
    form.person = person;
    form.asked = false;
  }
  gap(6);
  if (default_button(app, "Close", "settings_close", scaled(110)) || app.take_escape()) {
    app.remember();
    ImGui::CloseCurrentPopup();
  }
  ImGui::EndPopup();
}

}  // namespace scantling
