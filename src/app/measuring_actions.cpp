// Measuring: the photo in hand on a thread of its own, and in the background, on all cores, every
// photo of the open job that was not measured yet with what is entered.
#include <fmt/format.h>

#include <algorithm>

#include "app/app.h"

namespace scantling {

namespace {

using Photos = std::vector<DuePhoto>;

}  // namespace

// For dragging the photo in hand wants its analysis, which the record does not keep; where the
// photo is due, that settles it too. Once for each choice of a photo, so that a fault is told once.
void App::measure_in_hand() {
  const PhotoFinding* photo = photo_on_screen();
  if (!photo) attempted_.reset();
  if (!photo || from_planes(photo->photo.view) || ending_) return;
  const std::int64_t id = photo->photo.id;
  const bool due = is_due(*photo, session_.part()->part);
  if (session_.analysis() && !due) return;
  const MeasureOptions options =
      due ? wanted_options(*photo, session_.part()->part) : photo->newest->options;
  if (attempted_ && attempted_->first == id && same_options(attempted_->second, options)) return;
  attempted_.emplace(id, options);  // also where what it was measured with cannot be read
  Photos photos = session_.due_together(id, cameras_);
  if (photos.empty() || any_on_its_way(photos)) return attempted_.reset();
  for (const DuePhoto& one : photos) analysing_.insert(one.what.photo.id);
  const auto ended = [this, photos] {
    for (const DuePhoto& one : photos) analysing_.erase(one.what.photo.id);
  };
  analyser_.start(
      "Measuring the photo",
      [this, id, photos, ended](const std::atomic<bool>& stop) -> Worker::Finish {
        const std::vector<MeasuredPhoto> measured = measure_photos(to_measure(photos), &stop);
        return [this, id, measured, photos, ended] {
          ended();
          attempt([&] {
            const auto changed = session_.analyses_ready(measured, photos);
            const bool again = std::find(changed.begin(), changed.end(), id) != changed.end();
            if (again || session_.analysis_of(id)) attempted_.reset();
          });
        };
      },
      [this, photos, ended] {
        ended();
        for (const DuePhoto& one : photos)
          if (one.due) measuring_log_.tried(one.what.photo.id, one.what.options);
      });
}

bool App::any_on_its_way(const Photos& photos) const {
  return std::any_of(photos.begin(), photos.end(), [&](const DuePhoto& one) {
    return analysing_.contains(one.what.photo.id) || measuring_log_.on_its_way(one.what.photo.id);
  });
}

void App::measure_due() {
  if (ending_ || canvas_.dragging() || session_.previewing()) return;
  for (const Session::WantedPhoto& wanted : measuring_log_.to_begin(session_.wanted_photos())) {
    Photos photos;
    try {
      photos = session_.due_together(wanted.photo_id, cameras_);
    } catch (...) {  // what another of its lip was measured with cannot be read
      measuring_log_.tried(wanted.photo_id, wanted.options);
      throw;
    }
    // Of a lip one may be on its way alone, or all have been begun with the one before.
    if (photos.empty() || any_on_its_way(photos)) continue;
    begin_measuring(std::move(photos));
  }
}

void App::begin_measuring(Photos photos) {
  batch_total_ += photos.size();
  for (const DuePhoto& photo : photos)
    measuring_log_.begun(photo.what.photo.id, photo.what.options);
  const std::string what = fmt::format("Measuring {}", photos.front().what.photo.original_name);
  batch_.start(
      what,
      [this, photos](const std::atomic<bool>& stop) -> Worker::Finish {
        auto entries = new_measurements(measure_photos(to_measure(photos), &stop), photos);
        return [this, entries = std::move(entries), count = photos.size()] {
          batch_done_ += count;
          to_keep_.insert(to_keep_.end(), entries.begin(), entries.end());
          keep_measured();
        };
      },
      [this, photos] {  // the others are measured all the same
        batch_done_ += photos.size();
        for (const DuePhoto& photo : photos) measuring_log_.ended(photo.what.photo.id);
        keep_measured();
      });
}

// Written by the keeper, several at a time while it is busy writing: the disk takes its time.
void App::keep_measured() {
  if (batch_done_ >= batch_total_) batch_total_ = batch_done_ = 0;
  if (keeping_ || to_keep_.empty()) return;
  keeping_ = true;
  std::vector<std::int64_t> ids;
  for (const NewMeasurement& one : to_keep_) ids.push_back(one.entry.photo_id);
  const auto ended = [this, ids] {
    keeping_ = false;
    for (const std::int64_t id : ids) measuring_log_.ended(id);
  };
  keeper_.start(
      "Keeping what was measured",
      [this, entries = std::exchange(to_keep_, {}), ended,
       path = session_.record_path()](const std::atomic<bool>&) -> Worker::Finish {
        Record own(path);
        const std::vector<std::int64_t> changed = keep_measurements(own, entries);
        return [this, changed, ended] {
          ended();
          for (const std::int64_t id : changed) measuring_log_.overtaken(id);
          attempt([&] { follow_the_record(); });
          keep_measured();
        };
      },
      ended);
}

// What is looked at for the sorting, and what is measured.
void App::stop_batch() {
  const std::size_t left = batch_total_ - batch_done_;
  batch_.cancel();
  measuring_log_.stop();
  batch_total_ = batch_done_ = 0;
  if (left > 0)
    say(fmt::format("Stopped. {} not measured yet.",
                    left == 1 ? "One photo is" : fmt::format("{} photos are", left)));
}

void App::go_on_measuring() {
  measuring_log_.go_on();
  attempted_.reset();
}

std::size_t App::not_measured() const {
  return measuring_log_.left(session_.wanted_photos());
}

bool App::measuring_is_due() {
  return !measuring_log_.to_begin(session_.wanted_photos()).empty();
}

}  // namespace scantling
