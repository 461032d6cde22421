#include "app/app.h"

#include <imgui.h>

#include <algorithm>
#include <chrono>
#include <nlohmann/json.hpp>

#include "app/axle_map.h"
#include "app/fonts.h"
#include "app/panels.h"
#include "app/shown.h"
#include "app/theme.h"
#include "app/words.h"
#include "base/each_index.h"
#include "record/record_error.h"
#include "report/wording.h"
#include "sorting/photo_names.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

constexpr float kLeftWidth = 288;
constexpr float kResultWidth = 336;
constexpr float kLeastForBoth = 940;  ///< below this the photo would shrink to a strip
constexpr float kOnlyWidth = 296;
constexpr float kTabsHeight = 42;
constexpr float kStatusHeight = 28;

}  // namespace

App::App(const AppOptions& options, Window& window, Settings settings)
    : window_(window),
      settings_(std::move(settings)),
      session_(options.record.empty() ? Record::default_path() : options.record),
      worker_(&Window::wake, [this](const std::string& reason) { show_fault(reason); }),
      keeper_(
          &Window::wake, [this](const std::string& reason) { show_fault(reason); }, 1,
          Worker::AtEnd::work_off),
      opener_(&Window::wake, [this](const std::string& reason) { show_fault(reason); }),
      analyser_(&Window::wake, [this](const std::string& reason) { show_fault(reason); }),
      batch_(
          &Window::wake, [this](const std::string& reason) { show_fault(reason); }, usable_cores()),
      dialogs_(&Window::wake, [this](const std::string& reason) { show_fault(reason); }),
      watcher_(
          &Window::wake, [this](const std::string& reason) { show_fault(reason); }, 1,
          Worker::AtEnd::work_off),
      launcher_(&Window::wake, [this](const std::string& reason) { show_fault(reason); }) {
  known_record_ = settings_.record;
  if (settings_.person.empty()) settings_.person = system_person();
  load_cameras();
  watch_folder(settings_.watched_folder);
  attempt([&] { open_first(options); });
  kept_settings_ = settings_;
}

App::~App() {
  remember();
}

// What the user sees first: the photos asked for, else the job of the last time, else the newest.
void App::open_first(const AppOptions& options) {
  if (options.demo) return open_demo();
  std::error_code ignored;
  if (options.photos.size() > 1 ||
      (options.photos.size() == 1 && fs::is_directory(options.photos.front(), ignored)))
    return sort_photos({options.photos.begin(), options.photos.end()});
  if (!options.photos.empty()) {
    session_.start_unsorted_job();
    return add_photos(options.photos);
  }
  const std::vector<JobLine> jobs = session_.job_lines();
  if (jobs.empty()) return;
  const bool known = settings_.record == fs::absolute(session_.record_path()).string();
  if (known && settings_.last_job == 0) return;  // closed on the first screen
  if (!known || !session_.open_job(settings_.last_job)) session_.open_job(jobs.front().job.id);
  remember();  // as a recent job
}

void App::attempt(const std::function<void()>& action) {
  try {
    action();
  } catch (const std::exception& error) {
    show_fault(error.what());
  }
}

void App::show_fault(const std::string& reason) {
  fault_ = fault_sentence(reason);
}

bool App::hands_free() const {
  return !ImGui::IsAnyItemActive() && !canvas_.dragging() && !session_.previewing();
}

bool App::finished() {
  if (!ending_) {
    ending_ = true;
    last_frames_ = 3;
    fault_.clear();   // it was seen; what fails from now on is told before the end
    batch_.cancel();  // what is not measured yet is at the next start
    measuring_log_.stop();
    batch_total_ = batch_done_ = 0;
  }
  return last_frames_ == 0 && !keeper_.busy() && to_keep_.empty() && fault_.empty();
}

void App::remember() {
  settings_.record = fs::absolute(session_.record_path()).string();
  if (settings_.record != known_record_) settings_.recent_jobs.clear();
  known_record_ = settings_.record;
  settings_.last_job = session_.job() ? session_.job()->job.id : 0;
  if (settings_.last_job != 0) remember_job(settings_, settings_.last_job);
  const Window::Size size = window_.size();
  settings_.window_width =
      static_cast<int>(static_cast<float>(size.width) / window_.content_scale());
  settings_.window_height =
      static_cast<int>(static_cast<float>(size.height) / window_.content_scale());
  save_settings(settings_, settings_path());
  kept_settings_ = settings_;
}

void App::frame() {
  const auto start = std::chrono::steady_clock::now();
  if (batch_.busy() && !std::exchange(batch_was_busy_, true)) slowest_frame_ms_ = 0;
  if (!batch_.busy()) batch_was_busy_ = false;
  show_figures(figure_style(settings_));
  for (Worker* worker :
       {&worker_, &keeper_, &opener_, &analyser_, &batch_, &dialogs_, &watcher_, &launcher_})
    worker->finish_ready();
  show_copied();
  if (ending_ && last_frames_ > 0) {
    --last_frames_;
    window_.keep_drawing();
    ImGui::SetWindowFocus(nullptr);  // a field that is left gives what was typed into it
  }
  if (const auto dropped = window_.take_dropped(); !dropped.empty() && !ending_)
    take_dropped(dropped);
  take_next_job_file();
  take_keys();
  attempt([&] { follow_the_record(); });
  if (!session_.job())
    planes_page_.hide(), work_page_.hide(), history_page_.hide(), compare_page_.hide();
  follow_guide();
  attempt([&] { solve_planes(); });
  attempt([&] { fetch_photo(); });
  attempt([&] { measure_in_hand(); });
  attempt([&] { measure_due(); });
  attempt([&] { fetch_compared(); });
  attempt([&] { fetch_preview(); });
  look_into_watched_folder();
  if (busy() || dialogs_.busy() || ending_) window_.keep_drawing_gently();
  probe_.begin_frame();
  if (primer_.draw()) window_.keep_drawing();
  draw();
  settle_focus();
  if (settings_ != kept_settings_) remember();
  if (probe_.on()) probe_.end_frame(probe_state(*this));
  std::string title = "Scantling";
  if (session_.job())
    title += ": " + session_.job()->vehicle.name + ", " + axle_title(session_.job()->job.axle);
  window_.set_title(title);
  const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
  slowest_frame_ms_ = std::max(slowest_frame_ms_, took.count());
}

// Job files are taken in, one after the other. Of photos, one is the open part's; several, or a
// folder, are sorted first.
void App::take_dropped(std::vector<fs::path> dropped) {
  std::error_code ignored;
  const auto photos = std::stable_partition(
      dropped.begin(), dropped.end(),
      [](const fs::path& file) { return fits_patterns(file.filename().string(), {"*.zip"}); });
  job_files_.insert(job_files_.end(), dropped.begin(), photos);
  dropped.erase(dropped.begin(), photos);
  if (dropped.empty()) return;
  const bool heap = dropped.size() > 1 || fs::is_directory(dropped.front(), ignored);
  if (camera_page_.open())
    add_camera_photos(photos_meant(dropped));
  else if (planes_page_.open())
    add_planes_photos(photos_meant(dropped));
  else if (heap || sorting_page_.open())
    sort_photos(dropped);
  else
    add_photos(dropped);
}

// The next one waits for what the user says of the one before.
void App::take_next_job_file() {
  if (job_files_.empty() || worker_.busy() || !forms_.import.file.empty() || focus_.in_popup())
    return;
  const fs::path file = job_files_.front();
  job_files_.pop_front();
  take_in(file);
}

// Another window may work on the same record: what is shown, and what edits start from, follows it.
void App::follow_the_record() {
  if (canvas_.dragging() || session_.previewing()) return;
  if (session_.record().changed_elsewhere()) session_.reload();
}

void App::draw() {
  draw_menu(*this);
  const ImVec2 display = ImGui::GetIO().DisplaySize;
  const float top = ImGui::GetFrameHeight();
  const float status = scaled(kStatusHeight);
  const float height = display.y - top - status;
  if (camera_page_.open()) {
    draw_camera_page(*this, {0, top, display.x, height});
  } else if (sorting_page_.open()) {
    draw_sorting_page(*this, {0, top, display.x, height});
  } else if (!session_.job() && guide_open_) {
    draw_guide(*this, guide_view(), {0, top, display.x, height}, false);
  } else if (!session_.job()) {
    draw_start(*this, {0, top, display.x, height});
  } else if (work_page_.open()) {
    draw_work_page(*this, {0, top, display.x, height});
  } else if (history_page_.open()) {
    draw_history_page(*this, {0, top, display.x, height});
  } else if (planes_page_.open()) {
    draw_planes_page(*this, {0, top, display.x, height});
  } else if (compare_page_.open()) {
    draw_compare_page(*this, {0, top, display.x, height});
  } else {
    draw_job({0, top, display.x, height});
  }
  draw_status_bar(*this, {0, display.y - status, display.x, status});
  draw_dialogs(*this);
  take_left_entries(*this);
  if (ending_ && fault_.empty()) draw_finishing(*this);
}

// Both side panels where the photo keeps room enough between them, else one of them at a time.
void App::draw_job(const ScreenRect& area) {
  const float right_edge = static_cast<float>(area.width);
  narrow_ = right_edge < scaled(kLeastForBoth);
  const float left = scaled(narrow_ ? kOnlyWidth : kLeftWidth);
  const float right = narrow_ ? 0 : scaled(kResultWidth);
  if (narrow_) {
    const float tabs = scaled(kTabsHeight);
    draw_side_tabs(*this, {0, area.y, left, tabs});
    const ScreenRect below{0, area.y + tabs, left, area.height - tabs};
    if (result_in_front_)
      draw_result_panel(*this, below);
    else
      draw_left_panel(*this, below);
  } else {
    draw_left_panel(*this, {0, area.y, left, area.height});
    if (session_.job()) draw_result_panel(*this, {right_edge - right, area.y, right, area.height});
  }
  if (!session_.job()) return;
  const ScreenRect middle{left, area.y, right_edge - left - right, area.height};
  if (map_shown_)
    draw_axle_map(*this, middle);
  else if (guide_open_ || !session_.photo())
    draw_guide(*this, guide_view(), middle, !guide_open_);
  else
    draw_canvas(middle);
}

// Its background is what the frame was cleared to: two layers less beneath a photo.
void App::draw_canvas(const ScreenRect& area) {
  ImGui::SetNextWindowPos({static_cast<float>(area.x), static_cast<float>(area.y)});
  ImGui::SetNextWindowSize({static_cast<float>(area.width), static_cast<float>(area.height)});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 0});
  constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                      ImGuiWindowFlags_NoScrollWithMouse |
                                      ImGuiWindowFlags_NoBringToFrontOnFocus |
                                      ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoBackground;
  const bool open = ImGui::Begin("##canvas", nullptr, kFlags);
  ImGui::PopStyleVar();
  if (open) canvas_.draw(*this, area);
  ImGui::End();
}

const char* App::screen() const {
  return camera_page_.open()    ? "camera"
         : sorting_page_.open() ? "sorting"
         : !session_.job()      ? "start"
         : work_page_.open()    ? "work"
         : history_page_.open() ? "history"
         : planes_page_.open()  ? "planes"
         : compare_page_.open() ? "compare"
                                : "job";
}

bool App::page_listens() const {
  if (camera_page_.open()) return false;
  if (sorting_page_.open()) return !sorting_page_.empty();
  return session_.job() ? !work_page_.open() : guide_open_;
}

// Another page has the keys for itself.
void App::settle_focus() {
  if (std::exchange(focus_screen_, screen()) != screen()) focus_.leave();
  // The chooser has its own keys, until Tab goes through its fields and buttons.
  const bool popup = focus_.in_popup() && !chooser_.open();
  focus_.end_frame(popup || (!page_listens() && !focus_.in_popup()));
}

// In a narrow window one side panel is shown at a time: F6 goes through both.
void App::step_panel(int by) {
  const bool sides = narrow_ && std::string_view(screen()) == "job";
  const bool first = by > 0 ? !focus_.in_controls() : focus_.in_panel("##result");
  const bool second = by > 0 ? focus_.in_panel("##left") : false;
  if (sides && (first || second)) {
    if (result_in_front_ != second) switch_side();
    return focus_.go_to_panel(second ? "##result" : "##left");
  }
  focus_.step_panel(by, page_listens());
}

// True where the key moved through the controls, or is left to the control it stands on.
bool App::steer(const KeyCommand& command) {
  const bool popup = focus_.in_popup();
  const bool through_controls = popup || command.typing || focus_.in_controls() || !page_listens();
  switch (command.action) {
    case KeyAction::next_edge:
    case KeyAction::previous_edge:
      if (through_controls) focus_.step(command.action == KeyAction::next_edge ? 1 : -1);
      return through_controls;
    case KeyAction::next_panel:
    case KeyAction::previous_panel:
      if (!popup) step_panel(command.action == KeyAction::next_panel ? 1 : -1);
      return true;
    case KeyAction::menu_bar:
      if (focus_.in_dialog()) return true;
      focus_.in_menu() && popup ? focus_.leave_menu() : focus_.open_menu();
      return true;
    case KeyAction::confirm:
      enter_ = focus_.in_dialog() && (command.typing || !focus_.framed());
      return through_controls;
    case KeyAction::escape:
      // ImGui has closed an open list or menu, and a field has taken its text back.
      if (focus_.popup_closed()) return true;
      escape_ = focus_.in_dialog();
      if (popup || command.typing) return true;
      if (!focus_.in_controls() || (!page_listens() && !focus_.in_menu())) return false;
      focus_.leave();
      return true;
    case KeyAction::nudge:
      if (focus_.in_dialog()) scroll_ += static_cast<int>(command.towards_y);
      if (command.towards_x != 0) focus_.menu_moved();
      return through_controls;
    case KeyAction::next_photo:
    case KeyAction::previous_photo:
      if (focus_.in_dialog()) scroll_ += command.action == KeyAction::next_photo ? 10 : -10;
      return through_controls;
    case KeyAction::remove_photo:
      return focus_.in_controls() && !camera_page_.open();
    default:
      if (command.typing) focus_.finish_typing();
      return false;
  }
}

void App::take_keys() {
  escape_ = enter_ = false;  // of another frame: what is open now must not take them
  scroll_ = 0;
  while (const auto command = window_.keys().next()) {
    const bool own_keys = chooser_.open() && !focus_.in_controls() && !command->typing;
    if (own_keys && chooser_.press(*command)) continue;
    if (steer(*command)) continue;
    if (!focus_.in_popup() || command->action == KeyAction::quit) attempt([&] { obey(*command); });
  }
}

void App::nudge(const KeyCommand& command) {
  const Measurement* measurement = session_.measurement();
  const MeasuredEdge* edge = measurement ? measurement->edge(session_.edge()) : nullptr;
  if (!edge || canvas_.dragging()) return;
  const EdgeSegment before = segment_of(*edge);
  const ScreenPoint towards = canvas_.direction_on_photo({command.towards_x, command.towards_y});
  const EdgeSegment after = nudged(before, towards.x, towards.y, command.step_px);
  if (after.a.x == before.a.x && after.a.y == before.a.y) return;
  const std::string name = edge->name;
  session_.move_edge(name, after, person());
}

void App::show_map(bool shown) {
  canvas_.cancel_drag(*this);
  if (shown) compare_page_.hide(), close_guide();
  map_shown_ = shown;
}

bool App::photo_in_front() const {
  return std::string_view(screen()) == "job" && !map_shown_ && !guide_open_;
}

// On the map the arrow keys choose a part; true where the map took the key.
bool App::obey_on_map(const KeyCommand& command) {
  const auto slots = map_slots();
  switch (command.action) {
    case KeyAction::nudge: {
      const auto here = std::find(slots.begin(), slots.end(), session_.slot());
      const long at = here == slots.end() ? 0 : here - slots.begin();
      const long column = std::clamp(at % 3 + static_cast<long>(command.towards_x), 0L, 2L);
      const long row = std::clamp(at / 3 + static_cast<long>(command.towards_y), 0L, 1L);
      session_.select_part(slots[static_cast<std::size_t>(3 * row + column)]);
      return true;
    }
    case KeyAction::confirm:
    case KeyAction::escape:
      show_map(false);
      return true;
    default:
      return false;
  }
}

void App::obey(const KeyCommand& command) {
  if (camera_page_.open() && obey_on_camera(command)) return;
  if (sorting_page_.open() && !camera_page_.open() && obey_on_sorting(command)) return;
  if (work_page_.open() && obey_on_work(command)) return;
  if (history_page_.open() && obey_on_history(command)) return;
  if (guide_open_ && obey_on_guide(command)) return;
  if (planes_page_.open() && obey_on_planes(command)) return;
  if (compare_page_.open() && obey_on_compare(command)) return;
  if (map_shown_ && session_.job() && obey_on_map(command)) return;
  if (photo_in_front() && !session_.photo() && obey_on_guide_in_place(command)) return;
  if (photo_in_front() && canvas_.obey(command)) return;
  switch (command.action) {
    case KeyAction::new_job:
      return new_job();
    case KeyAction::open_photos:
      return ask_for_photos();
    case KeyAction::save:
      return say("Every change is saved at once. There is nothing more to save.");
    case KeyAction::undo:
      return undo();
    case KeyAction::redo:
      return redo();
    case KeyAction::report:
      return write_report();
    case KeyAction::quit:
      return window_.close();
    case KeyAction::help:
      forms_.help_asked = true;
      return;
    case KeyAction::next_edge:
      if (photo_in_front()) session_.select_next_edge(1);
      return;
    case KeyAction::previous_edge:
      if (photo_in_front()) session_.select_next_edge(-1);
      return;
    case KeyAction::confirm:
      if (photo_in_front()) confirm_and_go_on();
      return;
    case KeyAction::nudge:
      if (photo_in_front()) nudge(command);
      return;
    case KeyAction::zoom_in:
      return canvas_.zoom_by(1.5);
    case KeyAction::zoom_out:
      return canvas_.zoom_by(1 / 1.5);
    case KeyAction::zoom_fit:
      return canvas_.show_whole();
    case KeyAction::zoom_actual:
      return canvas_.show_actual();
    case KeyAction::zoom_part:
      return canvas_.show_edges();
    case KeyAction::light:
      if (photo_in_front()) canvas_.toggle_light(*this);
      return;
    case KeyAction::guide:
      return show_guide();
    case KeyAction::compare:
      if (session_.job()) show_compare(true);
      return;
    case KeyAction::ruler:
      if (photo_in_front()) canvas_.toggle_ruler(*this);
      return;
    case KeyAction::brighten:
      return canvas_.brighten(1);
    case KeyAction::darken:
      return canvas_.brighten(-1);
    case KeyAction::turn_right:
      return canvas_.turn(1);
    case KeyAction::turn_left:
      return canvas_.turn(-1);
    case KeyAction::remove_photo:
      if (photo_in_front()) session_.remove_photo();
      return;
    case KeyAction::toggle_rivals:
      if (photo_in_front()) toggle_rivals();
      return;
    case KeyAction::next_photo:
      if (photo_in_front()) show_photo_beside(1);
      return;
    case KeyAction::previous_photo:
      if (photo_in_front()) show_photo_beside(-1);
      return;
    case KeyAction::axle_map:
      if (session_.job()) show_map(!map_shown_);
      return;
    case KeyAction::planes:
      if (session_.job()) show_planes(!planes_page_.open());
      return;
    case KeyAction::work:
      return show_work(true);
    case KeyAction::sorting:
      return show_sorting(true);
    case KeyAction::next_to_confirm:
      return show_next_to_confirm();
    case KeyAction::history:
      return show_history(true);
    case KeyAction::settings:
      return ask_for_settings();
    case KeyAction::copy_result:
      return copy_result();
    case KeyAction::next_panel:
    case KeyAction::previous_panel:
    case KeyAction::menu_bar:
      return;  // see steer
    case KeyAction::escape:
      if (canvas_.dragging())
        canvas_.cancel_drag(*this);
      else
        session_.select_edge({});
      return;
  }
}

}  // namespace scantling
