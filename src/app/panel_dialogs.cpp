// The dialogs: a job's details, the key sheet, the user's name, and what went wrong.
#include <fmt/format.h>
#include <imgui.h>

#include <array>

#include "app/app.h"
#include "app/panels.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"

namespace scantling {

namespace {

constexpr ImGuiWindowFlags kDialog =
    ImGuiWindowFlags_AlwaysAutoResize | ImGuiWindowFlags_NoSavedSettings;

void in_the_middle() {
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  ImGui::SetNextWindowPos({size.x / 2, size.y / 2}, ImGuiCond_Always, {0.5f, 0.5f});
}

// Fills the form's vehicle fields from one the record knows.
void choose_vehicle(JobForm& form, const Vehicle& vehicle) {
  form.vehicle_id = vehicle.id;
  form.vehicle_name = vehicle.name;
  form.registration = vehicle.registration;
  form.make_model = vehicle.make_model;
  form.owner = vehicle.owner;
}

void draw_vehicle_choice(App& app, JobForm& form) {
  const std::vector<Vehicle> vehicles = app.session().record().vehicles();
  if (vehicles.empty()) return;
  const std::string shown = form.vehicle_id == 0 ? "A new car" : form.vehicle_name;
  ImGui::SetNextItemWidth(scaled(360));
  if (ImGui::BeginCombo("Car", shown.c_str())) {
    if (ImGui::Selectable("A new car", form.vehicle_id == 0)) choose_vehicle(form, {});
    for (const Vehicle& vehicle : vehicles) {
      ImGui::PushID(static_cast<int>(vehicle.id));
      if (ImGui::Selectable(vehicle.name.c_str(), vehicle.id == form.vehicle_id))
        choose_vehicle(form, vehicle);
      ImGui::PopID();
    }
    ImGui::EndCombo();
  }
  place_last_item(app, "combo:vehicle");
}

// Takes the form over, or says why not. True when it is done.
bool take_job(App& app, JobForm& form) {
  if (form.vehicle_name.find_first_not_of(' ') == std::string::npos) {
    form.refusal = "Give the car a name, such as “Blue estate”.";
    return false;
  }
  if (!is_iso_date(form.date)) {
    form.refusal = "The date is written year-month-day, such as 2026-11-25.";
    return false;
  }
  std::optional<double> odometer;
  if (form.odometer.find_first_not_of(' ') != std::string::npos) {
    odometer = number_from(form.odometer, "km");
    if (!odometer || *odometer < 0 || *odometer > 5e6) {
      form.refusal = "The odometer is a number of kilometres, such as 83210. It may stay empty.";
      return false;
    }
  }
  std::optional<double> next_km;
  if (form.next_check_km.find_first_not_of(' ') != std::string::npos) {
    next_km = number_from(form.next_check_km, "km");
    if (!next_km || *next_km <= odometer.value_or(0) || *next_km > 5e6) {
      form.refusal =
          "The next check's odometer reading is a number of kilometres beyond today's, such as "
          "95000. It may stay empty.";
      return false;
    }
  }
  if (!form.next_check_date.empty() &&
      (!is_iso_date(form.next_check_date) || form.next_check_date <= form.date)) {
    form.refusal = "The next check's date comes after today's and is written as in 2027-11-25.";
    return false;
  }
  Vehicle vehicle{form.vehicle_id, form.vehicle_name, form.registration, form.make_model,
                  form.owner};
  Job job;
  if (!form.is_new) job = app.session().job()->job;
  job.date = form.date;
  job.odometer_km = odometer;
  job.axle = form.axle == 0 ? Axle::front : Axle::rear;
  job.note = form.note;
  job.next_check_km = next_km;
  job.next_check_date = form.next_check_date;
  app.attempt([&] {
    if (form.after_job_id != 0)
      app.start_next_job(form.after_job_id, job);
    else if (form.is_new)
      app.start_job(vehicle, job);
    else
      app.session().change_job("change the job", vehicle, job);
  });
  return true;
}

void draw_job_dialog(App& app) {
  JobForm& form = app.forms().job;
  if (form.asked) {
    ImGui::OpenPopup("Job###job_dialog");
    form.asked = false;
  }
  in_the_middle();
  const char* title = form.is_new ? "New job###job_dialog" : "Job###job_dialog";
  if (!ImGui::BeginPopupModal(title, nullptr, kDialog)) return;
  const float width = scaled(360);
  const bool next = form.after_job_id != 0;
  if (next) {
    heading(form.after_words);
    muted_text("It starts from the parts that are on the car now, each with its minimum.");
  } else {
    draw_vehicle_choice(app, form);
  }
  const auto field = [&](const char* label, const std::string& name, const char* hint,
                         std::string& text) {
    text_field(app, name, hint, text, width);
    ImGui::SameLine();
    ImGui::TextUnformatted(label);
  };
  if (!next) {
    field("Name", "vehicle_name", "how you call it", form.vehicle_name);
    field("Registration", "registration", "may stay empty", form.registration);
    field("Make and model", "make_model", "may stay empty", form.make_model);
    field("Owner", "owner", "may stay empty", form.owner);
    ImGui::Separator();
  }
  field("Date", "date", "2026-11-25", form.date);
  field("Odometer, km", "odometer", "may stay empty", form.odometer);
  if (!next) {
    ImGui::RadioButton("Front axle", &form.axle, 0);
    place_last_item(app, "radio:front");
    ImGui::SameLine();
    ImGui::RadioButton("Rear axle", &form.axle, 1);
    place_last_item(app, "radio:rear");
  }
  ImGui::Separator();
  field("Next check at, km", "next_check_km", "may stay empty", form.next_check_km);
  field("or on", "next_check_date", "2027-11-25, may stay empty", form.next_check_date);
  field("Note", "note", "may stay empty", form.note);
  if (!form.refusal.empty()) wrapped_text(form.refusal);
  gap(4);
  if (wide_button(app, form.is_new ? "Start the job" : "Done", "job_done", scaled(150), true) &&
      take_job(app, form))
    ImGui::CloseCurrentPopup();
  ImGui::SameLine();
  if (wide_button(app, "Cancel", "job_cancel", scaled(110), false)) ImGui::CloseCurrentPopup();
  ImGui::EndPopup();
}

struct KeyLine {
  const char* keys;
  const char* what;
};
constexpr std::array kKeys = {
    KeyLine{"Drag a square or the ring", "move one end of an edge, or all of it"},
    KeyLine{"Ctrl while dragging", "place it freely, without snapping to a real edge"},
    KeyLine{"Tab, Shift+Tab", "next edge, edge before"},
    KeyLine{"Arrow keys", "move the selected edge by 1 pixel; Shift 10, Alt 0.1"},
    KeyLine{"Enter", "confirm the selected edge, or all edges where none is selected"},
    KeyLine{"R", "show the other lines that the selected edge could be"},
    KeyLine{"M", "the whole axle, and back; there arrow keys choose a part, Enter opens it"},
    KeyLine{"P", "the sizes from planes, and back; there arrow keys turn, Tab shows the photos"},
    KeyLine{"F6", "in a narrow window: from the job to the result and back"},
    KeyLine{"Wheel, + and −", "zoom"},
    KeyLine{"0, 1, 2", "whole photo, one to one, the part"},
    KeyLine{"B, Shift+B", "show the photo brighter, darker; sizes stay as they are"},
    KeyLine{"T, Shift+T", "turn the photo right, left"},
    KeyLine{"L", "the light across the selected edge, with the blurred step fitted to it"},
    KeyLine{"D", "ruler: drag, or arrow keys and Tab; measures in the card's plane, Esc ends"},
    KeyLine{"C", "another photo beside this one, or the same part then and now; Tab: the next one"},
    KeyLine{"G", "how to take the photos, and back; Tab or arrow keys: another view"},
    KeyLine{"Drag beside the edges, or Space", "move the photo"},
    KeyLine{"Esc", "let go of a drag; deselect"},
    KeyLine{"Ctrl+Z; Ctrl+Shift+Z or Ctrl+Y", "undo; redo"},
    KeyLine{"W", "the work done and its refit list, and back (Esc)"},
    KeyLine{"Ctrl+N, Ctrl+O, Ctrl+P, Ctrl+Q", "new job, add photos, report, quit"},
    KeyLine{"Ctrl+S", "nothing to do: every change is saved at once"},
};

void draw_help_dialog(App& app) {
  if (app.forms().help_asked) {
    ImGui::OpenPopup("Keys and steps");
    app.forms().help_asked = false;
  }
  in_the_middle();
  if (!ImGui::BeginPopupModal("Keys and steps", nullptr, kDialog)) return;
  if (ImGui::BeginTable("keys", 2, ImGuiTableFlags_SizingFixedFit)) {
    for (const KeyLine& line : kKeys) {
      ImGui::TableNextRow();
      ImGui::TableNextColumn();
      heading(line.keys);
      ImGui::TableNextColumn();
      ImGui::TextUnformatted(line.what);
    }
    ImGui::EndTable();
  }
  gap(4);
  if (wide_button(app, "Close", "help_close", scaled(110), true) || app.take_escape())
    ImGui::CloseCurrentPopup();
  ImGui::EndPopup();
}

void draw_person_dialog(App& app) {
  Forms& forms = app.forms();
  if (forms.person_asked) {
    forms.person = app.person();
    ImGui::OpenPopup("Your name");
    forms.person_asked = false;
  }
  in_the_middle();
  if (!ImGui::BeginPopupModal("Your name", nullptr, kDialog)) return;
  ImGui::TextUnformatted("Kept with every edge you confirm or move.");
  text_field(app, "person", "name", forms.person, scaled(320));
  if (wide_button(app, "Done", "person_done", scaled(110), true)) {
    if (forms.person.find_first_not_of(' ') != std::string::npos)
      app.settings().person = forms.person;
    ImGui::CloseCurrentPopup();
  }
  ImGui::SameLine();
  if (wide_button(app, "Cancel", "person_cancel", scaled(110), false)) ImGui::CloseCurrentPopup();
  ImGui::EndPopup();
}

void draw_fault_dialog(App& app) {
  if (!app.fault().empty() && !ImGui::IsPopupOpen("That did not work"))
    ImGui::OpenPopup("That did not work");
  in_the_middle();
  if (!ImGui::BeginPopupModal("That did not work", nullptr, kDialog)) return;
  ImGui::PushTextWrapPos(scaled(460));
  ImGui::TextUnformatted(app.fault().c_str());
  ImGui::PopTextWrapPos();
  gap(4);
  if (wide_button(app, "Close", "fault_close", scaled(110), true)) {
    app.fault().clear();
    ImGui::CloseCurrentPopup();
  }
  ImGui::EndPopup();
}

}  // namespace

void draw_dialogs(App& app) {
  draw_job_dialog(app);
  draw_help_dialog(app);
  draw_person_dialog(app);
  draw_import_dialog(app);
  app.chooser().draw(app);
  draw_fault_dialog(app);
}

}  // namespace scantling
