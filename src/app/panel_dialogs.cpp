// The dialogs: a job's details, the key sheet, the user's name, and what went wrong.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "app/app.h"
#include "app/key_list.h"
#include "app/panels.h"
#include "app/shown.h"
#include "app/theme.h"
#include "app/widgets.h"
#include "app/words.h"

namespace scantling {

namespace {

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
  const DistanceUnit unit = shown_style().distance;
  const char* unit_words = unit == DistanceUnit::mile ? "miles" : "kilometres";
  std::optional<double> odometer;
  if (form.odometer.find_first_not_of(' ') != std::string::npos) {
    odometer = km_from_text(form.odometer, unit);
    if (!odometer || *odometer > 5e6) {
      form.refusal = fmt::format(
          "The odometer is a number of {}, such as 83210. It may stay empty.", unit_words);
      return false;
    }
  }
  std::optional<double> next_km;
  if (form.next_check_km.find_first_not_of(' ') != std::string::npos) {
    next_km = km_from_text(form.next_check_km, unit);
    if (!next_km || *next_km <= odometer.value_or(0) || *next_km > 5e6) {
      form.refusal = fmt::format(
          "The next check's odometer reading is a number of {} beyond today's, such as 95000. It "
          "may stay empty.",
          unit_words);
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
  if (!form.is_new) {
    // Another job may have come up behind the dialog.
    if (!app.session().job() || app.session().job()->job.id != form.job_id)
      app.open_job(form.job_id);
    if (!app.session().job()) return true;  // it was removed meanwhile
    job = app.session().job()->job;
  }
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

// What is usual, where nothing else was entered for the next check.
void offer_next_check(JobForm& form, double check_every_km) {
  const DistanceUnit unit = shown_style().distance;
  const auto now_km = km_from_text(form.odometer, unit);
  if (!form.is_new || check_every_km <= 0 || !now_km) return;
  if (!form.next_check_km.empty() && form.next_check_km != form.next_check_offered) return;
  form.next_check_km = form.next_check_offered =
      distance_for_typing(*now_km + check_every_km, unit);
}

void draw_job_dialog(App& app) {
  JobForm& form = app.forms().job;
  if (form.asked) {
    ImGui::OpenPopup("Job###job_dialog");
    form.asked = false;
  }
  const char* title = form.is_new ? "New job###job_dialog" : "Job###job_dialog";
  if (!begin_dialog(app, title)) return;
  const float width = scaled(360);
  const bool next = form.after_job_id != 0;
  if (next) {
    heading(form.after_words);
    muted_text("It starts from the parts that are on the car now, each with its minimum.");
  } else {
    draw_vehicle_choice(app, form);
  }
  // What is typed goes into the first field at once.
  if (ImGui::IsWindowAppearing()) ImGui::SetKeyboardFocusHere();
  const auto field = [&](const char* label, const std::string& name, const char* hint,
                         std::string& text) {
    const bool left = text_field(app, name, hint, text, width);
    ImGui::SameLine();
    ImGui::TextUnformatted(label);
    return left;
  };
  const DistanceUnit unit = shown_style().distance;
  const auto with_unit = [&](const char* words) {
    return fmt::format("{}, {}", words, distance_word(unit));
  };
  if (!next) {
    field("Name", "vehicle_name", "how you call it", form.vehicle_name);
    field("Registration", "registration", "may stay empty", form.registration);
    field("Make and model", "make_model", "may stay empty", form.make_model);
    field("Owner", "owner", "may stay empty", form.owner);
    ImGui::Separator();
  }
  field("Date", "date", "2026-11-25", form.date);
  if (field(with_unit("Odometer").c_str(), "odometer", "may stay empty", form.odometer))
    offer_next_check(form, app.settings().check_every_km);
  if (!next) {
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, scaled(1));
    ImGui::PushStyleColor(ImGuiCol_Border, theme().muted);
    ImGui::RadioButton("Front axle", &form.axle, 0);
    place_last_item(app, "radio:front");
    ImGui::SameLine(0, scaled(14));
    ImGui::RadioButton("Rear axle", &form.axle, 1);
    place_last_item(app, "radio:rear");
    ImGui::PopStyleColor();
    ImGui::PopStyleVar();
  }
  ImGui::Separator();
  field(with_unit("Next check at").c_str(), "next_check_km", "may stay empty", form.next_check_km);
  field("or on", "next_check_date", "2027-11-25, may stay empty", form.next_check_date);
  field("Note", "note", "may stay empty", form.note);
  if (form.is_new) caution_line(WorkStage::wheel_off);
  if (!form.refusal.empty()) wrapped_text(form.refusal);
  gap(4);
  if (default_button(app, form.is_new ? "Start the job" : "Done", "job_done", scaled(150)) &&
      take_job(app, form))
    ImGui::CloseCurrentPopup();
  ImGui::SameLine();
  if (wide_button(app, "Cancel", "job_cancel", scaled(110), false) || app.take_escape())
    ImGui::CloseCurrentPopup();
  ImGui::EndPopup();
}

void draw_help_dialog(App& app) {
  if (app.forms().help_asked) {
    ImGui::OpenPopup("Keys and steps");
    app.forms().help_asked = false;
  }
  if (!begin_dialog(app, "Keys and steps")) return;
  // As high as the window allows; the rest scrolls.
  const float line = ImGui::GetTextLineHeight() + 2 * ImGui::GetStyle().CellPadding.y;
  const float wanted = line * static_cast<float>(key_list().size()) + scaled(4);
  const float height = std::min(wanted, ImGui::GetIO().DisplaySize.y - scaled(120));
  constexpr ImGuiTableFlags kFlags = ImGuiTableFlags_SizingFixedFit | ImGuiTableFlags_ScrollY;
  const float width = std::min(scaled(840), ImGui::GetIO().DisplaySize.x - scaled(60));
  if (ImGui::BeginTable("keys", 2, kFlags, {width, height})) {
    if (const int lines = app.take_scroll(); lines != 0)
      ImGui::SetScrollY(ImGui::GetScrollY() + static_cast<float>(lines) * line);
    for (const KeyLine& entry : key_list()) {
      ImGui::TableNextRow();
      ImGui::TableNextColumn();
      heading(entry.keys);
      ImGui::TableNextColumn();
      ImGui::TextUnformatted(entry.what);
    }
    ImGui::EndTable();
  }
  gap(4);
  if (default_button(app, "Close", "help_close", scaled(110)) || app.take_escape())
    ImGui::CloseCurrentPopup();
  ImGui::EndPopup();
}

void draw_fault_dialog(App& app) {
  if (!app.fault().empty() && !ImGui::IsPopupOpen("That did not work"))
    ImGui::OpenPopup("That did not work");
  if (!begin_dialog(app, "That did not work")) return;
  ImGui::PushTextWrapPos(scaled(460));
  plain_text(app.fault());
  ImGui::PopTextWrapPos();
  gap(4);
  if (default_button(app, "Close", "fault_close", scaled(110)) || app.take_escape()) {
    app.fault().clear();
    ImGui::CloseCurrentPopup();
  }
  ImGui::EndPopup();
}

}  // namespace

void draw_dialogs(App& app) {
  draw_job_dialog(app);
  draw_help_dialog(app);
  draw_settings_dialog(app);
  draw_import_dialog(app);
  app.chooser().draw(app);
  draw_fault_dialog(app);
}

}  // namespace scantling
