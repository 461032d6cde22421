// The sorting page's actions: photos in, looking at them on all cores, filing.
#include <fmt/format.h>

#include <algorithm>

#include "app/app.h"
#include "photo/photo.h"
#include "sorting/photo_names.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

constexpr int kThumbnailSide_px = 512, kPreviewSide_px = 1400;

std::string photos_words(std::size_t count) {
  return fmt::format("{} photo{}", count, count == 1 ? "" : "s");
}

}  // namespace

void App::sort_photos(const std::vector<fs::path>& given) {
  const std::vector<fs::path> photos = photos_meant(given);
  if (photos.empty())
    return say(
        "No photos (JPEG, PNG, TIFF, HEIC) lie in that folder. Choose the one into which the "
        "phone's photos were copied.");
  take_to_sorting(photos);
  show_sorting(true);
}

void App::show_sorting(bool shown) {
  canvas_.cancel_drag(*this);
  if (!shown) return sorting_page_.hide();
  work_page_.hide();
  planes_page_.hide();
  sorting_page_.show();
}

// First all times, which is quick, so that the rows stand in order; then each photo by itself.
void App::take_to_sorting(const std::vector<fs::path>& photos) {
  const std::vector<int> added = sorting_page_.add(photos);
  if (added.empty()) return;
  std::vector<std::pair<int, fs::path>> files;
  for (const SortingRow& row : sorting_page_.rows())
    if (std::find(added.begin(), added.end(), row.id) != added.end())
      files.emplace_back(row.id, row.sight.file);
  batch_.start("Reading when the photos were taken",
               [this, files](const std::atomic<bool>& stop) -> Worker::Finish {
                 std::vector<std::pair<int, std::string>> times;
                 for (const auto& [id, file] : files)
                   if (!stop) times.emplace_back(id, camera_tags_of(file).taken_at);
                 return [this, times] {
                   sorting_page_.take_times(times);
                   std::set<int> ids;
                   for (const auto& [id, time] : times) ids.insert(id);
                   look_at(ids);
                 };
               });
}

void App::look_at(const std::set<int>& rows) {
  SightOptions options;
  options.cameras = cameras_;
  if (session_.job() && session_.job()->sheet) options.sheet_scale = session_.job()->sheet->scale;
  for (const SortingRow& row : sorting_page_.rows()) {
    if (!rows.contains(row.id)) continue;
    batch_.start(fmt::format("Looking at {}", row.sight.file.filename().string()),
                 [this, id = row.id, file = row.sight.file,
                  options](const std::atomic<bool>& stop) -> Worker::Finish {
                   if (stop) return {};
                   auto picture = std::make_shared<cv::Mat>(load_colour(file, kThumbnailSide_px));
                   auto sight = std::make_shared<PhotoSight>(sight_photo(file, options));
                   return [this, id, picture, sight] {
                     if (!sorting_page_.has(id)) return;
                     thumbnails_.put(id, *picture);
                     sorting_page_.take_sight(id, std::move(*sight));
                   };
                 });
  }
}

// What was not looked at when the looking was stopped, begun again.
void App::go_on_looking() {
  std::set<int> rows;
  for (const SortingRow& row : sorting_page_.rows())
    if (!row.seen) rows.insert(row.id);
  look_at(rows);
}

void App::clear_sorting() {
  dealt_with(sorting_page_.rows());  // the user does not want them
  sorting_page_.clear();
  thumbnails_.clear();
  preview_.clear();
}

// The picture of the row in hand, larger.
void App::fetch_preview() {
  if (!sorting_page_.open()) return;
  sorting_page_.set_context(session_.sorting_context());
  const SortingRow* row = sorting_page_.row();
  if (!row || preview_.has(row->id) || preview_wanted_ == row->id) return;
  preview_wanted_ = row->id;
  opener_.start(
      "Opening the photo",
      [this, id = row->id, file = row->sight.file](const std::atomic<bool>&) -> Worker::Finish {
        auto picture = std::make_shared<cv::Mat>(load_colour(file, kPreviewSide_px));
        return [this, id, picture] {
          if (preview_wanted_ != id) return;
          preview_.clear();
          preview_.put(id, *picture);
        };
      });
}

void App::file_sorted() {
  const SortingPage::Outcome outcome = sorting_page_.outcome();
  if (filing() || (outcome.files.empty() && outcome.camera.empty())) return;
  if (outcome.files.empty()) return sorted_away(outcome, true);
  filing_ = outcome.files.size();
  std::shared_ptr<const NewJob> new_job;
  if (!session_.job()) new_job = std::make_shared<const NewJob>(session_.unsorted_job());
  const std::int64_t job_id = session_.job() ? session_.job()->job.id : 0;
  const PartAddress from = session_.address();
  keeper_.start(
      fmt::format("Filing {}", photos_words(outcome.files.size())),
      [this, outcome, new_job, job_id, from,
       path = session_.record_path()](const std::atomic<bool>&) -> Worker::Finish {
        Record own(path);
        auto heap = std::make_shared<const FiledHeap>(
            file_photos(own, job_id, outcome.files, new_job.get()));
        return [this, outcome, heap, from] {
          filing_ = 0;
          // Whoever has gone on to another part, or is typing, is not taken away from there.
          heap_filed(outcome, *heap, session_.address() == from && hands_free());
        };
      },
      [this] {
        filing_ = 0;
        say("Nothing was filed; the photos are still on the sorting page.");
      });
}

void App::heap_filed(const SortingPage::Outcome& outcome, const FiledHeap& heap, bool show) {
  if (heap.photos.empty()) return;
  attempt([&] {
    session_.heap_filed(heap, show);
    remember();
  });
  say(fmt::format("{} filed.{}", photos_words(heap.photos.size()),
                  outcome.left_out == 0
                      ? std::string()
                      : fmt::format(" {} left where they are.", photos_words(outcome.left_out))));
  std::vector<SortingRow>& rows = filed_rows_[heap.photos.front().id];
  rows.clear();
  for (const SortingRow& row : sorting_page_.rows())
    if (outcome.rows.contains(row.id)) rows.push_back(row);
  sorted_away(outcome, show);
}

// The rows are settled; what is left waits on the page.
void App::sorted_away(const SortingPage::Outcome& outcome, bool show) {
  dealt_with(sorting_page_.remove(outcome.rows));
  if (!outcome.camera.empty()) {
    add_camera_photos(outcome.camera);
    say(fmt::format("{} of the sheet went to your phone's camera (Job menu).",
                    photos_words(outcome.camera.size())));
  }
  if (!sorting_page_.empty()) return;
  thumbnails_.clear();
  preview_.clear();
  sorting_page_.hide();
  if (show && outcome.files.size() > 1) show_map(true);
}

// Each at its place, so that nothing has to be dropped and looked at again.
void App::bring_filed_back() {
  const auto filed = filed_rows_.find(session_.touched().photo_id);
  if (filed == filed_rows_.end()) return;
  sorting_page_.put_back(filed->second);
  dealt_with(filed->second, false);
  fetch_thumbnails(filed->second);
  show_sorting(true);
}

void App::take_filed_away() {
  const auto filed = filed_rows_.find(session_.touched().photo_id);
  if (filed == filed_rows_.end()) return;
  std::set<int> ids;
  for (const SortingRow& row : filed->second) ids.insert(row.id);
  dealt_with(sorting_page_.remove(ids));
}

void App::fetch_thumbnails(const std::vector<SortingRow>& rows) {
  for (const SortingRow& row : rows) {
    if (thumbnails_.has(row.id)) continue;
    batch_.start(fmt::format("Opening {}", row.sight.file.filename().string()),
                 [this, id = row.id,
                  file = row.sight.file](const std::atomic<bool>& stop) -> Worker::Finish {
                   if (stop) return {};
                   auto picture = std::make_shared<cv::Mat>(load_colour(file, kThumbnailSide_px));
                   return [this, id, picture] {
                     if (sorting_page_.has(id)) thumbnails_.put(id, *picture);
                   };
                 });
  }
}

void App::show_next_to_confirm() {
  if (!session_.job()) return;
  if (!session_.select_next_to_confirm()) return say("No edge waits to be confirmed.");
  show_map(false);
}

// True where the page took the key.
bool App::obey_on_sorting(const KeyCommand& command) {
  SortingPage& page = sorting_page_;
  const bool takes_back = command.action == KeyAction::undo || command.action == KeyAction::redo;
  if (page.empty() && takes_back) return false;  // it is the job's
  switch (command.action) {
    case KeyAction::nudge: {
      const bool far = command.step_px > 1;
      if (command.towards_y != 0)
        page.step(static_cast<int>(command.towards_y) * (far ? 8 : 1));
      else if (far)
        page.step_view(static_cast<int>(command.towards_x));
      else
        page.step_place(static_cast<int>(command.towards_x));
      return true;
    }
    case KeyAction::next_edge:
      page.step_to_look();
      return true;
    case KeyAction::previous_edge:
      page.step(-1);
      return true;
    case KeyAction::next_photo:
    case KeyAction::previous_photo:
      page.step(command.action == KeyAction::next_photo ? 8 : -8);
      return true;
    case KeyAction::confirm:
      file_sorted();
      return true;
    case KeyAction::remove_photo:
      page.leave_out_or_take();
      return true;
    case KeyAction::undo:
      if (!page.undo_choice()) say("No choice of place is left to take back here.");
      return true;
    case KeyAction::redo:
      if (page.redo_choice()) return true;
      // A filing that was taken back has brought its photos here: it is done again from here, too.
      if (!session_.history().redo_name()) say("No choice of place was taken back here.");
      return !session_.history().redo_name();
    case KeyAction::escape:
    case KeyAction::sorting:
      show_sorting(false);
      return true;
    case KeyAction::open_photos:
      ask_for_heap();
      return true;
    case KeyAction::axle_map:
    case KeyAction::planes:
    case KeyAction::work:
    case KeyAction::history:
      show_sorting(false);
      return false;
    case KeyAction::new_job:
    case KeyAction::report:
    case KeyAction::settings:
    case KeyAction::quit:
    case KeyAction::help:
    case KeyAction::save:
      return false;
    default:  // belongs to the photo of the job, which is not shown
      return true;
  }
}

void App::ask_for_heap() {
  ask({.title = "Open photos to be sorted",
       .save = false,
       .suggestion = {},
       .patterns = photo_patterns(),
       .pattern_words = "Photos"},
      [this](const std::vector<fs::path>& files) { sort_photos(files); });
}

}  // namespace scantling
