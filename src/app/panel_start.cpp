// The first screen: what to do, and the jobs there are.
#include <fmt/format.h>
#include <imgui.h>

#include <array>

#include "app/app.h"
#include "app/edge_overlay.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/shown.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "report/wording.h"

namespace scantling {

namespace {

struct Step {
  const char* title;
  const char* text;
};

constexpr std::array kSteps = {
    Step{"Print the card",
         "At 100%, on plain paper or card. Glue it on something flat and stiff, "
         "and measure its check bars."},
    Step{"Stand it at the part's edge",
         "Pad or disc, wiped clean. Its edge is seen through the notch, flush "
         "with the card's face. On a disc the track card also lies beside each lip."},
    Step{"Photograph it",
         "Close, sharp, in even light, with the whole card in the picture: a pad "
         "or a rim straight on, a lip twice, from two heights."},
    Step{"Read the result",
         "Check the lines on the photo, enter the minimum, and read the size, "
         "how sure it is, and the verdict."},
};

// A small drawing for each step, in the window's own line style.
void draw_sign(ImDrawList* draw, std::size_t step, ImVec2 at, float side) {
  const ImU32 ink = theme().text;
  const float w = scaled(1.6f);
  const auto p = [&](float x, float y) { return ImVec2(at.x + x * side, at.y + y * side); };
  switch (step) {
    case 0:  // sheet with squares
      draw->AddRect(p(0.2f, 0.05f), p(0.8f, 0.95f), ink, 0, 0, w);
      for (int row = 0; row < 3; ++row)
        for (int column = row % 2; column < 4; column += 2) {
          const float x = 0.28f + 0.11f * static_cast<float>(column);
          const float y = 0.15f + 0.11f * static_cast<float>(row);
          draw->AddRectFilled(p(x, y), p(x + 0.11f, y + 0.11f), ink);
        }
      draw->AddLine(p(0.28f, 0.8f), p(0.72f, 0.8f), theme().accent, scaled(3));
      break;
    case 1:  // card with its notch, the pad in it
      draw->AddLine(p(0.05f, 0.85f), p(0.05f, 0.15f), ink, w);
      draw->AddLine(p(0.05f, 0.15f), p(0.95f, 0.15f), ink, w);
      draw->AddLine(p(0.95f, 0.15f), p(0.95f, 0.85f), ink, w);
      draw->AddLine(p(0.05f, 0.85f), p(0.28f, 0.85f), ink, w);
      draw->AddLine(p(0.72f, 0.85f), p(0.95f, 0.85f), ink, w);
      draw->AddLine(p(0.28f, 0.85f), p(0.28f, 0.45f), ink, w);
      draw->AddLine(p(0.28f, 0.45f), p(0.72f, 0.45f), ink, w);
      draw->AddLine(p(0.72f, 0.45f), p(0.72f, 0.85f), ink, w);
      draw->AddRectFilled(p(0.3f, 0.55f), p(0.7f, 0.64f), theme().muted);
      draw->AddRectFilled(p(0.3f, 0.64f), p(0.7f, 0.76f), theme().accent);
      break;
    case 2:  // camera
      draw->AddRect(p(0.08f, 0.28f), p(0.92f, 0.84f), ink, scaled(3), 0, w);
      draw->AddRectFilled(p(0.36f, 0.18f), p(0.64f, 0.28f), ink);
      draw->AddCircle(p(0.5f, 0.56f), 0.19f * side, ink, 32, w);
      draw->AddCircleFilled(p(0.5f, 0.56f), 0.08f * side, theme().accent, 24);
      break;
    default:  // scale with an interval
      draw->AddLine(p(0.05f, 0.7f), p(0.95f, 0.7f), ink, w);
      for (int tick = 0; tick < 6; ++tick) {
        const float x = 0.05f + 0.18f * static_cast<float>(tick);
        draw->AddLine(p(x, 0.7f), p(x, 0.8f), ink, w);
      }
      draw->AddRectFilled(p(0.5f, 0.42f), p(0.78f, 0.58f), theme().accent);
      draw->AddLine(p(0.64f, 0.34f), p(0.64f, 0.66f), ink, scaled(2));
      draw->AddLine(p(0.23f, 0.25f), p(0.23f, 0.7f), ink, scaled(2.5f));
      break;
  }
}

void draw_steps(float width) {
  ImDrawList* draw = ImGui::GetWindowDrawList();
  const float space = scaled(16);
  const float column = (width - 3 * space) / 4;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float height = scaled(176);
  for (std::size_t i = 0; i < kSteps.size(); ++i) {
    const float x = at.x + static_cast<float>(i) * (column + space);
    draw->AddRectFilled({x, at.y}, {x + column, at.y + height}, theme().raised, scaled(4));
    draw_sign(draw, i, {x + scaled(14), at.y + scaled(14)}, scaled(46));
    const std::string title = std::to_string(i + 1) + "  " + kSteps[i].title;
    const float text_width = column - scaled(28);
    ImFont* strong = fonts().strong;
    const float title_height =
        strong->CalcTextSizeA(strong->FontSize, 1e6f, text_width, title.c_str()).y;
    draw->AddText(strong, strong->FontSize, {x + scaled(14), at.y + scaled(70)}, theme().text,
                  title.c_str(), nullptr, text_width);
    draw->AddText(fonts().body, fonts().body->FontSize,
                  {x + scaled(14), at.y + scaled(76) + title_height}, theme().muted, kSteps[i].text,
                  nullptr, text_width);
  }
  ImGui::Dummy({width, height});
}

void draw_buttons(App& app) {
  const auto button = [&](const char* label, const char* name, float width) {
    beside_if_it_fits(scaled(width));
    return wide_button(app, label, name, scaled(width), false);
  };
  if (wide_button(app, "Open photos…", "open_photos", scaled(150), true)) app.ask_for_photos();
  if (button("Start a job…", "new_job", 130)) app.new_job();
  if (button("Print the card (A4)…", "sheet_a4", 180)) app.write_sheet(Paper::a4);
  if (button("US Letter…", "sheet_letter", 110)) app.write_sheet(Paper::letter);
  if (button("How to take the photos", "guide", 190)) app.show_guide();
  if (button("Look at the demo job", "demo", 180)) app.open_demo();
}

constexpr std::size_t kJobsWithoutSearch = 8;
constexpr double kLookAgain_s = 1;  ///< another window may have added a job meanwhile

void find_jobs(App& app, JobListForm& form) {
  const double now_s = ImGui::GetTime();
  if (form.found_for == form.words && now_s - form.found_at_s < kLookAgain_s &&
      now_s >= form.found_at_s)
    return;
  form.lines = app.session().find_jobs(form.words);
  form.found_for = form.words;
  form.found_at_s = now_s;
}

std::string job_words(const JobLine& line) {
  std::string words =
      date_title(line.job.date) + "   " + line.vehicle.name + ", " + axle_title(line.job.axle);
  if (line.job.odometer_km) words += ", " + shown(distance_title(*line.job.odometer_km));
  if (!line.vehicle.registration.empty()) words += "   " + line.vehicle.registration;
  return words;
}

void draw_jobs(App& app) {
  JobListForm& form = app.forms().jobs;
  find_jobs(app, form);
  if (form.lines.empty() && form.words.empty()) return;
  gap(14);
  ImGui::AlignTextToFramePadding();
  heading("Your jobs");
  if (form.lines.size() > kJobsWithoutSearch || !form.words.empty()) {
    ImGui::SameLine(0, scaled(14));
    text_field(app, "find_job", "find: car, registration, owner, date, note", form.words,
               scaled(340));
    ImGui::SameLine();
    ImGui::AlignTextToFramePadding();
    muted_text(fmt::format("{} {}", form.lines.size(), form.words.empty() ? "jobs" : "found"));
  }
  if (form.lines.empty()) muted_text("No job has all of these words: leave some out.");
  std::int64_t chosen = 0;
  ImGui::BeginChild("job_rows", {0, 0}, false, ImGuiWindowFlags_NavFlattened);
  ImGuiListClipper clipper;
  clipper.Begin(static_cast<int>(form.lines.size()), scaled(24) + ImGui::GetStyle().ItemSpacing.y);
  while (clipper.Step())
    for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i) {
      const JobLine& line = form.lines[static_cast<std::size_t>(i)];
      const std::string label = job_words(line) + "###job" + std::to_string(line.job.id);
      if (ImGui::Selectable(label.c_str(), false, 0, {0, scaled(24)})) chosen = line.job.id;
      place_last_item(app, "row:job:" + std::to_string(i + 1));
    }
  ImGui::EndChild();
  if (chosen != 0) {
    form.found_at_s = -1e9;
    app.open_job(chosen);
  }
}

}  // namespace

void draw_start(App& app, const ScreenRect& area) {
  ImGui::SetNextWindowPos(vec({area.x, area.y}));
  ImGui::SetNextWindowSize(vec({area.width, area.height}));
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                      ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus;
  if (ImGui::Begin("##start", nullptr, kFlags)) {
    const float width = std::min(static_cast<float>(area.width) - scaled(60), scaled(1080));
    const float left = (static_cast<float>(area.width) - width) / 2;
    ImGui::SetCursorPos({left, scaled(36)});
    ImGui::BeginGroup();
    ImGui::PushFont(fonts().large);
    ImGui::TextUnformatted("How thick are your brake pads and discs?");
    ImGui::PopFont();
    ImGui::TextUnformatted("Measured from a photo and a printed card. Four steps:");
    gap(8);
    draw_steps(width);
    gap(10);
    draw_buttons(app);
    muted_text("Or drop photos anywhere on this window.");
    ImGui::BeginChild("jobs", {width, 0}, false, ImGuiWindowFlags_NavFlattened);
    draw_jobs(app);
    ImGui::EndChild();
    ImGui::EndGroup();
  }
  ImGui::End();
}

}  // namespace scantling
