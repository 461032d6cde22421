// What the app does when asked: jobs, photos, measuring, files.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <map>
#include <stdexcept>

#include "app/app.h"
#include "app/shown.h"
#include "app/words.h"
#include "record/record_error.h"
#include "record/words.h"
#include "report/drawn_size.h"
#include "report/result_text.h"
#include "report/wording.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

// The profiles at hand serve a photo that is measured for the first time, or anew.
MeasureOptions with_cameras(MeasureOptions options, std::shared_ptr<const CameraShelf> cameras) {
  options.cameras = std::move(cameras);
  return options;
}

// As a photo was measured, so that what is dragged starts from what the record shows.
MeasureOptions as_recorded(const MeasurementEntry& entry) {
  return with_cameras(entry.options, cameras_as_recorded(entry));
}

// A name typed without its ending gets it. The dialog asked about the name as typed only, so a file
// that is there already under the full name is not written over.
void complete_name(fs::path& file, const FileQuestion& question) {
  const fs::path full = with_pattern_ending(file, question);
  if (full != file && fs::exists(full))
    throw std::runtime_error(full.string() +
                             " is there already. Choose it by its full name to write over it.");
  file = full;
}

}  // namespace

const std::vector<std::string>& App::photo_patterns() {
  static const std::vector<std::string> patterns = {"*.jpg",  "*.jpeg", "*.png", "*.tif",
                                                    "*.tiff", "*.heic", "*.heif"};
  return patterns;
}

void App::new_job() {
  JobForm form;
  form.asked = form.is_new = true;
  form.date = today();
  forms_.job = std::move(form);
}

void App::edit_job() {
  if (!session_.job()) return;
  const JobSummary& state = *session_.job();
  JobForm form;
  form.asked = true;
  // Photos without a car want a car of their own, not a new name for the unsorted ones.
  if (!session_.job_is_unsorted()) {
    form.vehicle_id = state.vehicle.id;
    form.vehicle_name = state.vehicle.name;
    form.registration = state.vehicle.registration;
    form.make_model = state.vehicle.make_model;
    form.owner = state.vehicle.owner;
  }
  const DistanceUnit unit = shown_style().distance;
  form.date = state.job.date;
  if (state.job.odometer_km) form.odometer = distance_for_typing(*state.job.odometer_km, unit);
  form.axle = state.job.axle == Axle::front ? 0 : 1;
  form.note = state.job.note;
  if (state.job.next_check_km)
    form.next_check_km = distance_for_typing(*state.job.next_check_km, unit);
  form.next_check_date = state.job.next_check_date;
  forms_.job = std::move(form);
}

void App::start_job(const Vehicle& vehicle, const Job& job) {
  planes_page_.hide();
  work_page_.hide();
  history_page_.hide();
  session_.start_job(vehicle, job);
  remember();
}

void App::open_job(std::int64_t job_id) {
  planes_page_.hide();
  work_page_.hide();
  history_page_.hide();
  attempt([&] { session_.open_job(job_id); });
  remember();
}

void App::close_job() {
  canvas_.cancel_drag(*this);
  session_.close_job();
  texture_.clear();
  remember();
}

void App::take_disc_diameter(std::optional<double> diameter_mm) {
  attempt([&] {
    const std::int64_t part = session_.part_id();
    std::vector<std::int64_t> ids;
    for (const PhotoFinding& finding : session_.part()->photos)
      if (!from_planes(finding.photo.view)) ids.push_back(finding.photo.id);
    if (ids.empty()) return session_.set_disc_diameter(part, diameter_mm, {});
    remeasure(
        ids, [diameter_mm](MeasureOptions& options) { options.disc_diameter_mm = diameter_mm; },
        [this, part, diameter_mm](const Session::Analyses& anew) {
          session_.set_disc_diameter(part, diameter_mm, anew);
        });
  });
}

void App::draw_size() {
  const PartSummary* part = session_.part();
  if (!part || !part->size) return;
  worker_.start(
      "Drawing the size by Monte Carlo",
      [this, part = *part,
       record = session_.record_path()](const std::atomic<bool>&) -> Worker::Finish {
        const Quantity& size = part.size->quantity;
        auto check = scantling::draw_size(Record(record), part);
        if (!check) return {};
        return [this, drawn = DrawnSize{part.part.id, size.value_mm, size.standard_uncertainty_mm,
                                        std::move(*check)}] { drawn_size_ = drawn; };
      });
}

const ChainCheck* App::drawn_size() const {
  const PartSummary* part = session_.part();
  if (!drawn_size_ || !part || !part->size || part->part.id != drawn_size_->part_id) return nullptr;
  const Quantity& size = part->size->quantity;
  const bool same =
      size.value_mm == drawn_size_->size_mm && size.standard_uncertainty_mm == drawn_size_->u_mm;
  return same ? &drawn_size_->check : nullptr;
}

// What was taken back or done again must be in sight.
void App::show_touched_page() {
  sorting_page_.hide();
  if (session_.touched().work) return show_work(true);
  work_page_.hide();
  history_page_.hide();
  show_planes(session_.touched().planes);
}

void App::undo() {
  canvas_.cancel_drag(*this);
  const std::string* name = session_.history().undo_name();
  if (!name) return;
  const std::string taken_back = *name;
  attempt([&] {
    if (!session_.undo()) return;
    say(fmt::format("Taken back: {}.", taken_back));
    show_touched_page();
  });
}

void App::redo() {
  canvas_.cancel_drag(*this);
  const std::string* name = session_.history().redo_name();
  if (!name) return;
  const std::string done_again = *name;
  attempt([&] {
    if (!session_.redo()) return;
    say(fmt::format("Done again: {}.", done_again));
    show_touched_page();
  });
}

void App::confirm_selected_edge() {
  const std::string edge = session_.edge();
  if (edge.empty()) return;
  attempt([&] { session_.confirm_edge(edge, person()); });
}

void App::confirm_all_edges() {
  attempt([&] { session_.confirm_all_edges(person()); });
}

// A confirmed edge in hand with others left: the next of those, to be looked at first.
void App::confirm_and_go_on() {
  const PhotoFinding* photo = session_.photo();
  const Measurement* measurement = session_.measurement();
  if (!photo || !measurement) return;
  const auto open = [&](const MeasuredEdge& edge) {
    return confirmed_by(photo->confirmations, edge.name).empty();
  };
  const auto left = std::find_if(measurement->edges.begin(), measurement->edges.end(), open);
  if (left == measurement->edges.end()) return show_next_to_confirm();
  const MeasuredEdge* edge = measurement->edge(session_.edge());
  if (!edge) return confirm_all_edges();
  if (open(*edge)) return confirm_selected_edge();
  session_.select_edge(left->name);
}

void App::show_photo_beside(int by) {
  const PartSummary* part = session_.part();
  if (!part || !session_.photo()) return;
  std::vector<std::int64_t> photos;
  for (const PhotoFinding& finding : part->photos)
    if (!from_planes(finding.photo.view)) photos.push_back(finding.photo.id);
  const auto now = std::find(photos.begin(), photos.end(), session_.photo()->photo.id);
  if (now == photos.end()) return;
  if (photos.size() < 2) return say("This part has no other photo.");
  const long count = static_cast<long>(photos.size());
  session_.select_photo(
      photos[static_cast<std::size_t>((now - photos.begin() + by + count) % count)]);
}

void App::switch_theme() {
  settings_.light_theme = !settings_.light_theme;
  restyle_ = true;
}

void App::copy_result() {
  const PartSummary* part = session_.summary();
  if (!session_.job() || !part || part->standing == PartStanding::nothing_yet)
    return say("There is no result to copy yet.");
  ImGui::SetClipboardText(shown(result_text(*session_.job(), *part)).c_str());
  say(fmt::format("Copied: the result of the {}.",
                  part_title(part->part, session_.job()->job.axle)));
}

void App::ask(FileQuestion question, std::function<void(const std::vector<fs::path>&)> answer) {
  const auto program = dialog_program();
  if (!program) return chooser_.ask(std::move(question), std::move(answer));
  if (dialogs_.busy()) return;  // one dialog at a time
  dialogs_.start("Waiting for the file dialog",
                 [program = *program, question = std::move(question),
                  answer = std::move(answer)](const std::atomic<bool>& stop) -> Worker::Finish {
                   auto files = ask_for_files(program, question, stop);
                   if (question.save && !files.empty()) complete_name(files.front(), question);
                   return [answer, files = std::move(files)] {
                     if (!files.empty()) answer(files);
                   };
                 });
}

void App::ask_for_photos() {
  ask({.title = fmt::format("Open photos of the {} with the card", kind_word(session_.slot().kind)),
       .save = false,
       .suggestion = {},
       .patterns = photo_patterns(),
       .pattern_words = "Photos"},
      [this](const std::vector<fs::path>& files) { add_photos(files); });
}

void App::add_photos(const std::vector<fs::path>& photos) {
  attempt([&] {
    if (!session_.job()) session_.start_unsorted_job();
    const std::int64_t part = session_.part_id();
    const PhotoKind kind = session_.kind_to_add();
    remember();
    for (const fs::path& photo : photos)
      // The worker has a connection of its own: copying a photo safely to disk takes its time.
      worker_.start(fmt::format("Copying {}", photo.filename().string()),
                    [this, part, photo, kind,
                     record = session_.record_path()](const std::atomic<bool>&) -> Worker::Finish {
                      PhotoEntry entry =
                          Record(record).add_photo(part, kind.view, photo, kind.face);
                      return [this, entry = std::move(entry)] {
                        attempt([&] { session_.photo_added(entry); });
                      };
                    });
  });
}

const PhotoFinding* App::photo_on_screen() {
  if (!planes_page_.open()) return session_.photo();
  if (const PartSummary* part = session_.part())
    for (const PhotoFinding& finding : part->photos)
      if (finding.photo.id == planes_page_.photo_id()) return &finding;
  return nullptr;
}

// Starts what the selected photo still lacks: its colours for the screen and its analysis.
void App::fetch_photo() {
  const PhotoFinding* photo = photo_on_screen();
  if (!photo) {
    photo_fault_.clear();
    return;
  }
  const std::int64_t id = photo->photo.id;
  const fs::path path = session_.record().photo_path(photo->photo);
  if (photo_fault_id_ != id) {
    photo_fault_.clear();
    photo_fault_id_ = id;
  }
  if (texture_.photo_id() != id && photo_fault_.empty() && fetching_colours_.insert(id).second)
    worker_.start("Opening the photo",
                  [this, id, path](const std::atomic<bool>&) -> Worker::Finish {
                    auto colours = std::make_shared<PhotoColours>(PhotoColours::load(path));
                    return [this, id, colours] { colours_ready(id, std::move(*colours)); };
                  });
  if (!session_.analysis() && !from_planes(photo->photo.view) && analysing_.insert(id).second)
    measure(*photo);
}

// Photos of one lip are read together: the second one tells height and slope apart.
void App::measure(const PhotoFinding& photo) {
  std::vector<PhotoToMeasure> items;
  bool anew = false;
  for (const PhotoFinding& other : session_.part()->photos) {
    const bool wanted =
        other.photo.id == photo.photo.id ||
        (photo.photo.view == View::lip && kind_of(other.photo) == kind_of(photo.photo));
    if (!wanted) continue;
    anew = anew || !other.newest;
    items.push_back({other.photo, session_.record().photo_path(other.photo),
                     other.newest ? as_recorded(*other.newest)
                                  : with_cameras(session_.options_for(other.photo), cameras_)});
  }
  worker_.start(
      "Measuring the photo",
      [this, id = photo.photo.id, items, anew](const std::atomic<bool>&) -> Worker::Finish {
        const Session::Analyses measured = measure_photos(items);
        return [this, id, measured, anew] {
          analysing_.erase(id);
          attempt([&] {
            for (const MeasuredPhoto& one : measured) session_.analysis_ready(one, anew);
          });
        };
      });
}

void App::colours_ready(std::int64_t photo_id, PhotoColours colours) {
  fetching_colours_.erase(photo_id);
  const PhotoFinding* photo = photo_on_screen();
  if (!photo || photo->photo.id != photo_id) return;
  if (colours.full.empty())
    photo_fault_ =
        "The photo's file is missing or cannot be read. What was measured from it is "
        "still in the record; add the photo again to see it.";
  else
    texture_.set(photo_id, std::move(colours));
}

void App::remeasure(const std::vector<std::int64_t>& photo_ids,
                    const std::function<void(MeasureOptions&)>& change,
                    std::function<void(const Session::Analyses&)> finish) {
  std::vector<PhotoToMeasure> items;
  for (const PartSummary& part : session_.job()->parts)
    for (const PhotoFinding& photo : part.photos) {
      const std::int64_t id = photo.photo.id;
      if (from_planes(photo.photo.view)) continue;  // see solve_planes
      if (std::find(photo_ids.begin(), photo_ids.end(), id) == photo_ids.end()) continue;
      MeasureOptions options =
          photo.newest ? photo.newest->options : session_.options_for(photo.photo);
      change(options);
      items.push_back({photo.photo, session_.record().photo_path(photo.photo),
                       with_cameras(options, cameras_)});
    }
  const std::int64_t job_id = session_.job()->job.id;
  worker_.start("Measuring anew",
                [this, finish = std::move(finish), items,
                 job_id](const std::atomic<bool>& stop) -> Worker::Finish {
                  Session::Analyses anew = measure_photos(items, &stop);
                  if (stop) return {};
                  return [this, finish, anew = std::move(anew), job_id] {
                    if (session_.job() && session_.job()->job.id == job_id)
                      attempt([&] { finish(anew); });
                  };
                });
}

}  // namespace scantling
