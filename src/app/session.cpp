#include "app/session.h"

#include <algorithm>
#include <chrono>
#include <ctime>

#include "app/words.h"
#include "report/next_job.h"
#include "sorting/file_photos.h"

namespace scantling {

namespace {

constexpr const char* kUnsorted = "Unsorted photos";

std::string time_words(const char* format, bool utc) {
  const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm parts{};
  if (utc)
    gmtime_r(&now, &parts);
  else
    localtime_r(&now, &parts);
  char text[32];
  std::strftime(text, sizeof text, format, &parts);
  return text;
}

}  // namespace

std::string utc_now() {
  return time_words("%Y-%m-%dT%H:%M:%SZ", true);
}
std::string today() {
  return time_words("%Y-%m-%d", false);
}

const PartSummary* find_part(const JobSummary& job, PartSlot slot) {
  for (const PartSummary& p : job.parts)
    if (slot_of(p.part) == slot) return &p;
  return nullptr;
}

Session::Session(const std::filesystem::path& record_path)
    : record_(std::make_unique<Record>(record_path)), empty_part_(summarise_part({}, {}, {})) {}

std::vector<JobLine> Session::job_lines() const {
  return find_jobs({});
}

std::vector<JobLine> Session::find_jobs(const std::string& words) const {
  std::map<std::int64_t, Vehicle> vehicles;
  for (Vehicle& v : record_->vehicles()) vehicles[v.id] = std::move(v);
  std::vector<JobLine> lines;
  for (Job& job : record_->find_jobs(words)) {
    Vehicle vehicle = vehicles[job.vehicle_id];
    lines.push_back({std::move(job), std::move(vehicle)});
  }
  return lines;
}

bool Session::open_job(std::int64_t job_id) {
  std::optional<JobSummary> found = summarise_job(*record_, job_id);
  if (!found) return false;
  close_job();
  job_ = std::move(found);
  slot_ = {};
  // Open on the first part that has something to show.
  for (const PartSummary& part : job_->parts)
    if (!part.photos.empty()) {
      select_part(slot_of(part.part));
      break;
    }
  return true;
}

void Session::close_job() {
  drop_preview();
  analyses_.clear();
  job_.reset();
  photo_id_ = 0;
  edge_.clear();
  card_thickness_.reset();
}

void Session::start_job(Vehicle vehicle, Job job) {
  std::int64_t id = 0;
  record_->as_one_change([&] {
    job.vehicle_id = vehicle.id != 0 ? vehicle.id : record_->add_vehicle(vehicle);
    id = record_->add_job(job);
  });
  history_.already_done(edit_add_job(id));
  open_job(id);
}

void Session::remove_job() {
  if (job_) perform(edit_remove_job(job_->job.id));
}

NewJob Session::unsorted_job() const {
  NewJob made;
  made.vehicle.name = kUnsorted;
  for (const Vehicle& known : record_->vehicles())
    if (known.name == kUnsorted) made.vehicle = known;
  made.job.date = today();
  return made;
}

void Session::start_unsorted_job() {
  const NewJob made = unsorted_job();
  start_job(made.vehicle, made.job);
}

bool Session::job_is_unsorted() const {
  return job_ && job_->vehicle.name == kUnsorted;
}

void Session::change_job(const std::string& name, Vehicle vehicle, Job job) {
  const Job before = job_->job;
  if (vehicle.id == 0) return perform(edit_job_of_new_vehicle(name, before, job, vehicle));
  std::vector<Edit> edits;
  const EditFocus on{.job_id = before.id};
  if (const auto known = record_->vehicle(vehicle.id))
    if (known->name != vehicle.name || known->registration != vehicle.registration ||
        known->make_model != vehicle.make_model || known->owner != vehicle.owner)
      edits.push_back(edit_vehicle("change the vehicle", on, *known, vehicle));
  job.vehicle_id = vehicle.id;
  if (before.vehicle_id != job.vehicle_id || before.date != job.date || before.axle != job.axle ||
      before.odometer_km != job.odometer_km || before.note != job.note ||
      before.next_check_km != job.next_check_km || before.next_check_date != job.next_check_date)
    edits.push_back(edit_job(name, before, job));
  if (edits.empty()) return;
  const std::string told = edits.back().name;
  perform(edit_together(told, on, std::move(edits)));
}

void Session::start_next_job(std::int64_t after_job_id, const Job& job) {
  const std::int64_t id = scantling::start_next_job(*record_, after_job_id, job);
  history_.already_done(edit_add_job(id));
  open_job(id);
}

void Session::set_work(const WorkDone& work) {
  if (!job_) return;
  const std::optional<WorkDone>& before = job_->work;
  if (before && work_to_text(*before) == work_to_text(work)) return;
  perform(edit_work(before ? "change the work done" : "close the job", job_->job, before, work));
}

void Session::reopen_job() {
  if (job_ && job_->work)
    perform(edit_work("open the job again", job_->job, job_->work, std::nullopt));
}

void Session::taken_in(TakenIn taken) {
  const std::int64_t id = taken.job_id;
  history_.already_done(edit_take_in(std::move(taken)));
  open_job(id);
}

void Session::select_part(PartSlot slot) {
  drop_preview();
  slot_ = slot;
  kind_chosen_.reset();
  edge_.clear();
  photo_id_ = 0;
  if (const PartSummary* selected = part())
    for (const PhotoFinding& finding : selected->photos)
      if (!from_planes(finding.photo.view)) photo_id_ = finding.photo.id;
}

const PartSummary* Session::part() const {
  return job_ ? find_part(*job_, slot_) : nullptr;
}

void Session::select_photo(std::int64_t photo_id) {
  if (photo_id == photo_id_) return;
  drop_preview();
  edge_.clear();
  photo_id_ = photo_id;
}

const PhotoFinding* Session::photo() const {
  if (const PartSummary* selected = part())
    for (const PhotoFinding& photo : selected->photos)
      if (photo.photo.id == photo_id_) return &photo;
  return nullptr;
}

void Session::select_next_edge(int step) {
  const Measurement* shown = measurement();
  const int count = shown ? static_cast<int>(shown->edges.size()) : 0;
  if (count == 0) return;
  int at = step > 0 ? -1 : count;
  for (int i = 0; i < count; ++i)
    if (shown->edges[static_cast<std::size_t>(i)].name == edge_) at = i;
  edge_ = shown->edges[static_cast<std::size_t>((at + step + count) % count)].name;
}

std::int64_t Session::part_id(const PartAddress& of) {
  const std::vector<Part> parts = record_->parts(of.job_id);
  for (const Part& part : parts)
    if (slot_of(part) == of.slot) return part.id;
  const std::int64_t id = record_->add_part(new_part(of.job_id, of.slot, parts));
  reload();
  return id;
}

EditFocus Session::focus() const {
  EditFocus focus;
  if (job_) focus.job_id = job_->job.id;
  if (const PartSummary* selected = part()) focus.part_id = selected->part.id;
  if (photo()) focus.photo_id = photo_id_;
  return focus;
}

EditFocus Session::focus_of(const PartAddress& part, std::int64_t part_id) const {
  return part == address() ? focus() : EditFocus{.job_id = part.job_id, .part_id = part_id};
}

void Session::perform(Edit edit) {
  drop_preview();
  history_.perform(*record_, std::move(edit));
  reload();
}

bool Session::undo() {
  drop_preview();
  const auto touched = history_.undo(*record_);
  if (touched) show(*touched);
  return touched.has_value();
}

bool Session::redo() {
  drop_preview();
  const auto touched = history_.redo(*record_);
  if (touched) show(*touched);
  return touched.has_value();
}

// What an undo changed must be in sight, else it looks as if nothing happened.
void Session::show(const EditFocus& focus) {
  touched_ = focus;
  if (job_ && job_->job.id == focus.job_id)
    reload();
  else if (!open_job(focus.job_id))
    close_job();
  if (!job_ || focus.part_id == 0) return;
  for (const PartSummary& state : job_->parts)
    if (state.part.id == focus.part_id) {
      const PartSlot slot = slot_of(state.part);
      const bool here = slot == slot_;
      const bool has_photo =
          std::any_of(state.photos.begin(), state.photos.end(), [&](const PhotoFinding& p) {
            return p.photo.id == focus.photo_id && !from_planes(p.photo.view);
          });
      if (!here || (!has_photo && !photo())) select_part(slot);
      if (has_photo) select_photo(focus.photo_id);
      return;
    }
}

void Session::reload() {
  if (!job_) return;
  std::optional<JobSummary> anew = summarise_job(*record_, job_->job.id);
  if (!anew) return close_job();
  job_ = std::move(anew);
  drop_outdated_analyses();
}

// After an undo an analysis may rest on other settings than the record: it is made anew.
void Session::drop_outdated_analyses() {
  if (!job_) return;
  for (const PartSummary& part : job_->parts)
    for (const PhotoFinding& finding : part.photos)
      if (const Analysis* ready = analysis_of(finding.photo.id);
          ready && finding.newest && !same_options(ready->options(), finding.newest->options))
        analyses_.erase(finding.photo.id);
}

}  // namespace scantling
