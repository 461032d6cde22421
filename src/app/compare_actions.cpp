// The actions of the side-by-side view: what to compare with, opening it, its keys.
#include <algorithm>
#include <memory>

#include "app/app.h"
#include "app/theme.h"
#include "report/measure_photos.h"
#include "report/summary.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

constexpr double kArrowPan = 24;  ///< style pixels for one arrow press

// On the worker, with a connection of its own.
ComparedPhoto open_photo(const fs::path& record_path, const CompareChoice& choice,
                         std::shared_ptr<const CameraShelf> cameras) {
  const Record record(record_path);
  ComparedPhoto photo;
  const fs::path file = record.photo_path(choice.photo);
  photo.colours = PhotoColours::load(file);
  for (const PhotoFinding& finding : summarise_part(record, choice.part).photos)
    if (finding.photo.id == choice.photo.id) photo.finding = finding;
  MeasureOptions options;
  options.view = choice.photo.view;
  options.disc_diameter_mm = choice.part.disc_diameter_mm;
  options.cameras = std::move(cameras);
  if (const auto sheet = record.sheet_for(choice.photo)) options.sheet_scale = sheet->scale;
  if (photo.finding && photo.finding->newest) {
    options = photo.finding->newest->options;
    options.cameras = cameras_as_recorded(*photo.finding->newest);
  }
  photo.analysis = Analysis::run(file, options);
  return photo;
}

}  // namespace

void App::show_compare(bool shown) {
  canvas_.cancel_drag(*this);
  if (!shown) return compare_page_.hide();
  if (!session_.photo()) return say("Open a photo first: another one is then laid beside it.");
  show_map(false);
  compare_page_.show();
}

// Keeps the list of what there is to compare with, and starts opening the photo that is wanted.
void App::fetch_compared() {
  if (!compare_page_.open()) return;
  const PhotoFinding* photo = session_.photo();
  if (!photo || planes_page_.open() || work_page_.open()) return compare_page_.hide();
  if (compare_page_.shown_id() != photo->photo.id)
    compare_page_.offer(photo->photo.id,
                        photos_to_compare(session_.record(), session_.job()->job, photo->photo));
  const std::int64_t id = compare_page_.take_wanted();
  if (id == 0) return;
  worker_.start("Opening the photo to compare with",
                [this, id, choice = *compare_page_.choice(), cameras = cameras_,
                 record = session_.record_path()](const std::atomic<bool>&) -> Worker::Finish {
                  auto opened =
                      std::make_shared<ComparedPhoto>(open_photo(record, choice, cameras));
                  return [this, id, opened] { compare_page_.opened(id, std::move(*opened)); };
                });
}

bool App::obey_on_compare(const KeyCommand& command) {
  const ScreenRect pane = compare_page_.pane;
  const auto zoom = [&](double factor) {
    compare_page_.view.zoom_about(pane.middle(), factor, pane);
  };
  switch (command.action) {
    case KeyAction::compare:
    case KeyAction::escape:
      show_compare(false);
      return true;
    case KeyAction::next_edge:
      compare_page_.step(1);
      return true;
    case KeyAction::previous_edge:
      compare_page_.step(-1);
      return true;
    case KeyAction::zoom_in:
      zoom(1.5);
      return true;
    case KeyAction::zoom_out:
      zoom(1 / 1.5);
      return true;
    case KeyAction::zoom_fit:
      compare_page_.frame(CompareFraming::card);
      return true;
    case KeyAction::zoom_actual:
    case KeyAction::zoom_part:
      compare_page_.frame(CompareFraming::part);
      return true;
    case KeyAction::nudge: {
      const double step = scaled(kArrowPan) * std::clamp(command.step_px, 0.2, 5.0);
      compare_page_.view.pan_by(-command.towards_x * step, -command.towards_y * step);
      return true;
    }
    case KeyAction::brighten:
    case KeyAction::darken: {
      const int step = command.action == KeyAction::brighten ? 1 : -1;
      canvas_.brighten(step);
      if (const CompareChoice* choice = compare_page_.choice())
        canvas_.brighten(choice->photo.id, step);
      return true;
    }
    case KeyAction::new_job:
    case KeyAction::open_photos:
    case KeyAction::undo:
    case KeyAction::redo:
    case KeyAction::report:
    case KeyAction::quit:
    case KeyAction::help:
    case KeyAction::save:
    case KeyAction::axle_map:
    case KeyAction::planes:
    case KeyAction::work:
    case KeyAction::history:
    case KeyAction::settings:
    case KeyAction::copy_result:
      return false;
    default:  // belongs to the photo alone
      return true;
  }
}

}  // namespace scantling
