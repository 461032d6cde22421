// The actions of the page of the sizes from planes: photos in and out, solving, its keys.
#include <fmt/format.h>

#include <algorithm>

#include "app/app.h"
#include "app/planes_list.h"
#include "report/wording.h"

namespace scantling {
namespace fs = std::filesystem;

void App::show_planes(bool shown) {
  canvas_.cancel_drag(*this);
  history_page_.hide();
  if (shown && session_.job())
    planes_page_.show();
  else
    planes_page_.hide();
}

PlanesTask App::planes_task(const PartSummary& part) {
  PlanesTask task;
  task.options = session_.planes_options(part);
  task.cameras = cameras_;
  std::vector<PhotoEntry> photos;
  for (const PhotoFinding* finding : Session::planes_photos(part)) photos.push_back(finding->photo);
  task.photos = planes_sources(session_.record(), photos);
  return task;
}

void App::ask_for_planes_photos() {
  ask({.title = session_.slot().kind == PartKind::disc ? "Open photos of the disc's faces"
                                                       : "Open photos of the pad on the sheet",
       .save = false,
       .suggestion = {},
       .patterns = photo_patterns(),
       .pattern_words = "Photos"},
      [this](const std::vector<fs::path>& files) { add_planes_photos(files); });
}

void App::add_planes_photos(const std::vector<fs::path>& photos) {
  if (!session_.job()) return;
  attempt([&] {
    const std::int64_t part = session_.part_id();
    const View view = session_.planes_view();
    for (const fs::path& photo : photos)
      copy_photo(photo, part, {view, std::nullopt},
                 [this](const PhotoEntry& entry) { session_.planes_photo_added(entry); });
  });
}

void App::remove_planes_photo(std::int64_t photo_id) {
  if (planes_page_.photo_id() == photo_id) planes_page_.show_scene();
  attempt([&] { session_.remove_planes_photo(photo_id); });
}

namespace {

bool same_task(const PlanesTask& a, const PlanesTask& b) {
  return same_planes_options(a.options, b.options) && a.cameras == b.cameras &&
         std::equal(
             a.photos.begin(), a.photos.end(), b.photos.begin(), b.photos.end(),
             [](const PlanesSource& x, const PlanesSource& y) { return x.photo_id == y.photo_id; });
}

}  // namespace

// Every part whose photos are not solved in the record; on the page also the one that is shown,
// as the record does not keep its scene.
void App::solve_planes() {
  const std::int64_t job = session_.job() ? session_.job()->job.id : 0;
  if (std::exchange(planes_job_, job) != job) planes_page_.forget();
  if (!session_.job()) return;
  for (const PartSummary& part : session_.job()->parts) {
    if (Session::planes_photos(part).empty()) continue;
    const bool shown = planes_page_.open() && slot_of(part.part) == session_.slot();
    PlanesTask task = planes_task(part);
    const bool kept = session_.planes_kept(part, task.options);
    if (kept && !shown) continue;
    PlanesCase& known = planes_page_.of(part.part.id);
    // In the background it waits for what the user asked for.
    if (known.running || (!shown && busy())) continue;
    if (known.outcome.complete(task)) {
      if (kept) continue;
      const std::int64_t id = part.part.id;  // keeping it reads the job anew
      return attempt([&] { session_.keep_planes(id, planes_entries(known.outcome)); });
    }
    if (known.failed_at && same_task(*known.failed_at, task)) continue;
    advance_planes(part.part.id, std::move(task));
  }
}

void App::advance_planes(std::int64_t part_id, PlanesTask task) {
  PlanesCase& started = planes_page_.of(part_id);
  started.running = true;
  const std::size_t taken = started.outcome.photo_ids.size();
  const std::string what = taken < task.photos.size()
                               ? fmt::format("Looking at {}", task.photos[taken].name)
                               : std::string("Solving all photos together");
  worker_.start(what,
                [this, part_id, solver = started.solver,
                 task = std::move(task)](const std::atomic<bool>&) -> Worker::Finish {
                  try {
                    auto outcome = std::make_shared<PlanesOutcome>(solver->advance(task));
                    return [this, part_id, solver, outcome] {
                      PlanesCase& known = planes_page_.of(part_id);
                      if (known.solver != solver) return;  // another job was opened meanwhile
                      known.running = false;
                      known.failed_at.reset();
                      known.outcome = std::move(*outcome);
                      attempt([&] { keep_if_whole(part_id); });
                    };
                  } catch (const std::exception& fault) {
                    return [this, part_id, task, solver, reason = std::string(fault.what())] {
                      PlanesCase& known = planes_page_.of(part_id);
                      if (known.solver != solver) return;
                      known.running = false;
                      known.failed_at = task;
                      show_fault(reason);
                    };
                  }
                });
}

// A whole outcome goes into the record, also where it differs from what was kept before.
void App::keep_if_whole(std::int64_t part_id) {
  if (!session_.job()) return;
  for (const PartSummary& part : session_.job()->parts)
    if (part.part.id == part_id) {
      const PlanesOutcome& outcome = planes_page_.of(part_id).outcome;
      if (outcome.complete(planes_task(part)))
        session_.keep_planes(part_id, planes_entries(outcome));
      return;
    }
}

std::vector<std::int64_t> App::planes_photo_ids() {
  std::vector<std::int64_t> ids;
  const PartSummary* part = session_.part();
  if (!part) return ids;
  const PlanesCase* known = planes_page_.find(part->part.id);
  for (const PlanesRow& row :
       planes_rows(planes_task(*part), known ? known->outcome : PlanesOutcome{}))
    ids.push_back(row.photo_id);
  return ids;
}

void App::zoom_planes(double factor) {
  if (planes_page_.photo_id() != 0)
    planes_page_.photo_view().zoom_about(planes_page_.area.middle(), factor, 0.02);
  else
    planes_page_.scene().zoom_by(factor);
}

// True where the page took the key.
bool App::obey_on_planes(const KeyCommand& command) {
  constexpr double kTurn_deg = 5;
  switch (command.action) {
    case KeyAction::nudge: {
      const double step = command.step_px > 1 ? 3 * kTurn_deg : kTurn_deg;
      if (planes_page_.photo_id() != 0)
        planes_page_.photo_view().pan_by(-12 * step / kTurn_deg * command.towards_x,
                                         -12 * step / kTurn_deg * command.towards_y);
      else
        planes_page_.scene().turn(step * command.towards_x, step * command.towards_y);
      return true;
    }
    case KeyAction::next_edge:
      planes_page_.step_photo(planes_photo_ids(), 1);
      return true;
    case KeyAction::previous_edge:
      planes_page_.step_photo(planes_photo_ids(), -1);
      return true;
    case KeyAction::zoom_in:
      zoom_planes(1.3);
      return true;
    case KeyAction::zoom_out:
      zoom_planes(1 / 1.3);
      return true;
    case KeyAction::zoom_fit:
      planes_page_.photo_id() != 0 ? planes_page_.reframe() : planes_page_.scene().reset();
      return true;
    case KeyAction::remove_photo:
      if (planes_page_.photo_id() != 0) remove_planes_photo(planes_page_.photo_id());
      return true;
    case KeyAction::escape:
      planes_page_.photo_id() != 0 ? planes_page_.show_scene() : show_planes(false);
      return true;
    case KeyAction::open_photos:
      ask_for_planes_photos();
      return true;
    case KeyAction::axle_map:
      show_planes(false);
      return false;
    case KeyAction::confirm:
    case KeyAction::zoom_actual:
    case KeyAction::zoom_part:
    case KeyAction::toggle_rivals:
      return true;  // mean nothing here
    default:
      return false;
  }
}

}  // namespace scantling
