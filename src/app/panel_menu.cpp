#include <imgui.h>

#include "app/app.h"
#include "app/panels.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"
#include "report/wording.h"

namespace scantling {

namespace {

constexpr std::size_t kJobsInMenu = 20;

// What was chosen is on the page: so are the keys.
bool item(App& app, const std::string& label, const char* keys, const std::string& name,
          bool enabled = true, bool ticked = false) {
  const bool chosen = ImGui::MenuItem(label.c_str(), keys, ticked, enabled);
  place_last_item(app, "menu:" + name);
  if (chosen) app.focus().leave();
  return chosen;
}

bool open_menu(App& app, const char* label, const std::string& name) {
  const bool open = ImGui::BeginMenu(label);
  place_last_item(app, "menu:" + name);
  return open;
}

std::string job_words(const JobLine& line) {
  return line.vehicle.name + ", " + axle_title(line.job.axle) + ", " + date_title(line.job.date);
}

// Those opened last, the open one ticked; a job that is no longer there is left out.
void recent_jobs(App& app) {
  Session& session = app.session();
  const std::int64_t open = session.job() ? session.job()->job.id : 0;
  const std::vector<std::int64_t> recent = app.settings().recent_jobs;
  std::size_t shown_jobs = 0;
  for (const std::int64_t id : recent) {
    const auto job = session.record().job(id);
    if (!job) continue;
    const JobLine line{*job, session.record().vehicle(job->vehicle_id).value_or(Vehicle{})};
    const std::string label = job_words(line) + "###recent" + std::to_string(id);
    const std::string name = "recent:" + std::to_string(++shown_jobs);
    if (item(app, label, nullptr, name, true, id == open)) app.open_job(id);
  }
  if (shown_jobs == 0) ImGui::TextDisabled("None yet");
}

void job_menu(App& app) {
  Session& session = app.session();
  const bool has_job = session.job().has_value();
  if (item(app, "New job…", "Ctrl+N", "new_job")) app.new_job();
  if (open_menu(app, "Recent jobs", "recent_jobs")) {
    recent_jobs(app);
    ImGui::EndMenu();
  }
  if (open_menu(app, "Open job", "open_job")) {
    const std::vector<JobLine> lines = session.job_lines();
    for (std::size_t i = 0; i < lines.size() && i < kJobsInMenu; ++i) {
      const JobLine& line = lines[i];
      const std::string label = job_words(line) + "###job" + std::to_string(line.job.id);
      if (item(app, label, nullptr, "job:" + std::to_string(i + 1))) app.open_job(line.job.id);
    }
    if (lines.size() > kJobsInMenu && item(app, "All jobs, with a search…", nullptr, "all_jobs"))
      app.close_job();
    ImGui::EndMenu();
  }
  if (item(app, "Next job of this axle…", nullptr, "next_job", has_job)) app.next_job();
  if (item(app, "Back to all jobs", nullptr, "close_job", has_job)) app.close_job();
  if (item(app, "Remove job", nullptr, "remove_job", has_job))
    app.attempt([&] { session.remove_job(); });
  ImGui::Separator();
  if (item(app, "Add photos…", "Ctrl+O", "add_photos")) app.ask_for_photos();
  if (item(app, "Sort photos…", "S", "sorting")) app.show_sorting(true);
  if (app.settings().watched_folder.empty()) {
    if (item(app, "Watch a folder for new photos…", nullptr, "watch")) app.ask_for_watched_folder();
  } else if (item(app, "Stop watching the folder", nullptr, "unwatch")) {
    app.watch_folder({});
  }
  if (item(app, "Work done, refit list…", "W", "work", has_job)) app.show_work(true);
  if (item(app, "Write the report (PDF)…", "Ctrl+P", "report", has_job)) app.write_report();
  if (item(app, "Write the report (web page)…", nullptr, "web_report", has_job))
    app.write_web_report();
  ImGui::Separator();
  if (item(app, "Hand the job on (one file)…", nullptr, "hand_on", has_job)) app.hand_on_job();
  if (item(app, "Take in a job from a file…", nullptr, "take_in")) app.ask_for_job_file();
  if (item(app, "All sizes as a table (CSV)…", nullptr, "sizes_table")) app.write_sizes_table();
  ImGui::Separator();
  if (item(app, "Print the card: A4…", nullptr, "sheet_a4")) app.write_sheet(Paper::a4);
  if (item(app, "Print the card: US Letter…", nullptr, "sheet_letter"))
    app.write_sheet(Paper::letter);
  if (item(app, "Sizes from planes…", "P", "planes", has_job)) app.show_planes(true);
  if (item(app, "Your phone's camera…", nullptr, "camera")) app.camera_page().show();
  if (item(app, "Open the demo job", nullptr, "demo")) app.open_demo();
  ImGui::Separator();
  if (item(app, "Quit", "Ctrl+Q", "quit")) app.window().close();
}

void edit_menu(App& app) {
  const EditHistory& history = app.session().history();
  const std::string* undo = history.undo_name();
  const std::string* redo = history.redo_name();
  if (item(app, undo ? "Undo " + *undo : "Undo", "Ctrl+Z", "undo", undo != nullptr)) app.undo();
  if (item(app, redo ? "Redo " + *redo : "Redo", "Ctrl+Shift+Z", "redo", redo != nullptr))
    app.redo();
  ImGui::Separator();
  const bool photo = app.photo_in_front() && app.session().photo();
  const bool edges = photo && app.session().measurement();
  const bool has_edge = edges && !app.session().edge().empty();
  if (item(app, "Copy the result", "Ctrl+C", "copy_result", app.session().job().has_value()))
    app.copy_result();
  if (item(app, "Next edge", "Tab", "next_edge", edges)) app.session().select_next_edge(1);
  if (item(app, "Confirm the edge", "Enter", "confirm", has_edge)) app.confirm_selected_edge();
  if (item(app, "Next photo of the part", "Page Down", "next_photo", photo))
    app.show_photo_beside(1);
  if (item(app, "Next photo to confirm", "N", "next_to_confirm", app.session().job().has_value()))
    app.show_next_to_confirm();
  if (item(app, "Remove the photo", "Delete", "remove_photo", photo))
    app.attempt([&] { app.session().remove_photo(); });
  ImGui::Separator();
  if (item(app, "Settings…", "Ctrl+,", "settings")) app.ask_for_settings();
}

void view_menu(App& app) {
  Canvas& canvas = app.canvas();
  const bool photo = app.photo_in_front() && app.session().photo();
  if (item(app, "Zoom in", "+", "zoom_in", photo)) canvas.zoom_by(1.5);
  if (item(app, "Zoom out", "−", "zoom_out", photo)) canvas.zoom_by(1 / 1.5);
  if (item(app, "Whole photo", "0", "zoom_whole", photo)) canvas.show_whole();
  if (item(app, "One to one", "1", "zoom_actual", photo)) canvas.show_actual();
  if (item(app, "The part", "2", "zoom_part", photo)) canvas.show_edges();
  if (item(app, app.map_shown() ? "The photo" : "The whole axle", "M", "axle_map",
           app.session().job().has_value()))
    app.show_map(!app.map_shown());
  if (item(app, "History of the axle", "H", "history", app.session().job().has_value()))
    app.show_history(true);
  ImGui::Separator();
  if (item(app, "Brighter photo", "B", "brighter", photo)) canvas.brighten(1);
  if (item(app, "Darker photo", "Shift+B", "darker", photo)) canvas.brighten(-1);
  if (item(app, "Turn right", "T", "turn_right", photo)) canvas.turn(1);
  if (item(app, "Turn left", "Shift+T", "turn_left", photo)) canvas.turn(-1);
  if (item(app, "Photo as taken", nullptr, "as_taken", photo && !canvas.look().as_taken()))
    canvas.show_as_taken();
  ImGui::Separator();
  if (item(app, "Light across the edge", "L", "light", photo)) canvas.toggle_light(app);
  if (item(app, canvas.ruler().on() ? "Put the ruler away" : "Ruler", "D", "ruler", photo))
    canvas.toggle_ruler(app);
  if (item(app, "Compare with another photo", "C", "compare", photo)) app.show_compare(true);
  if (item(app, app.rivals_shown() ? "Hide other lines" : "Show other lines", "R", "rivals", photo))
    app.toggle_rivals();
  ImGui::Separator();
  if (item(app, app.settings().light_theme ? "Dark window" : "Light window", nullptr, "theme"))
    app.switch_theme();
}

}  // namespace

void draw_menu(App& app) {
  if (!ImGui::BeginMainMenuBar()) return;
  if (open_menu(app, "Job", "job")) {
    job_menu(app);
    ImGui::EndMenu();
  }
  if (open_menu(app, "Edit", "edit")) {
    edit_menu(app);
    ImGui::EndMenu();
  }
  if (open_menu(app, "View", "view")) {
    view_menu(app);
    ImGui::EndMenu();
  }
  if (open_menu(app, "Help", "help")) {
    if (item(app, "How to take the photos", "G", "guide")) app.show_guide();
    if (item(app, "Keys and steps", "F1", "keys")) app.forms().help_asked = true;
    ImGui::EndMenu();
  }
  ImGui::EndMainMenuBar();
}

}  // namespace scantling
