#include "app/edits.h"

#include <memory>
#include <ranges>
#include <string>
#include <utility>

namespace scantling {

void EditHistory::perform(Record& record, Edit edit) {
  record.as_one_change([&] { edit.apply(record); });
  already_done(std::move(edit));
}

void EditHistory::already_done(Edit edit) {
  done_.push_back(std::move(edit));
  undone_.clear();
}

std::optional<EditFocus> EditHistory::undo(Record& record) {
  if (done_.empty()) return {};
  record.as_one_change([&] { done_.back().revert(record); });
  undone_.push_back(std::move(done_.back()));
  done_.pop_back();
  return undone_.back().focus;
}

std::optional<EditFocus> EditHistory::redo(Record& record) {
  if (undone_.empty()) return {};
  record.as_one_change([&] { undone_.back().apply(record); });
  done_.push_back(std::move(undone_.back()));
  undone_.pop_back();
  return done_.back().focus;
}

const std::string* EditHistory::undo_name() const {
  return done_.empty() ? nullptr : &done_.back().name;
}

const std::string* EditHistory::redo_name() const {
  return undone_.empty() ? nullptr : &undone_.back().name;
}

Edit edit_photo(std::string name, EditFocus focus, PhotoStanding before, PhotoStanding after) {
  const auto put = [id = focus.photo_id](Record& record, const PhotoStanding& standing) {
    record.add_measurement(standing.measurement);
    record.set_confirmations(id, standing.confirmations);
  };
  return {std::move(name), focus,
          [put, after = std::move(after)](Record& record) { put(record, after); },
          [put, before = std::move(before)](Record& record) { put(record, before); }};
}

Edit edit_photos(std::string name, EditFocus focus, std::vector<MeasurementEntry> before,
                 std::vector<MeasurementEntry> after) {
  const auto put = [](Record& record, const std::vector<MeasurementEntry>& entries) {
    for (const MeasurementEntry& entry : entries) record.add_measurement(entry);
  };
  return {std::move(name), focus,
          [put, after = std::move(after)](Record& record) { put(record, after); },
          [put, before = std::move(before)](Record& record) { put(record, before); }};
}

Edit edit_with_measurements(Edit entered, std::vector<std::int64_t> photo_ids) {
  struct Standing {
    std::vector<std::int64_t> photo_ids;
    std::vector<MeasurementEntry> before, after;
  };
  const auto standing = std::make_shared<Standing>(Standing{std::move(photo_ids), {}, {}});
  const auto newest = [standing](const Record& record) {
    std::vector<MeasurementEntry> entries;
    for (const std::int64_t id : standing->photo_ids)
      if (const auto entry = record.newest_measurement(id)) entries.push_back(*entry);
    return entries;
  };
  const auto put = [](Record& record, const std::vector<MeasurementEntry>& entries) {
    for (const MeasurementEntry& entry : entries) {
      const auto now = record.newest_measurement(entry.photo_id);
      if (!now || now->id != entry.id) record.add_measurement(entry);
    }
  };
  Edit edit{entered.name, entered.focus, {}, {}};
  edit.apply = [=, apply = std::move(entered.apply)](Record& record) {
    standing->before = newest(record);
    apply(record);
    put(record, standing->after);
  };
  edit.revert = [=, revert = std::move(entered.revert)](Record& record) {
    standing->after = newest(record);
    revert(record);
    put(record, standing->before);
  };
  return edit;
}

Edit edit_confirmations(std::string name, EditFocus focus, std::vector<EdgeConfirmation> before,
                        std::vector<EdgeConfirmation> after) {
  const auto id = focus.photo_id;
  return {std::move(name), focus,
          [id, after = std::move(after)](Record& r) { r.set_confirmations(id, after); },
          [id, before = std::move(before)](Record& r) { r.set_confirmations(id, before); }};
}

Edit edit_part(std::string name, EditFocus focus, Part before, Part after) {
  return {std::move(name), focus, [after = std::move(after)](Record& r) { r.update_part(after); },
          [before = std::move(before)](Record& r) { r.update_part(before); }};
}

Edit edit_job(std::string name, Job before, Job after) {
  const EditFocus focus{.job_id = after.id};
  return {std::move(name), focus, [after = std::move(after)](Record& r) { r.update_job(after); },
          [before = std::move(before)](Record& r) { r.update_job(before); }};
}

Edit edit_sheet(std::string name, EditFocus focus, Job before, std::optional<Sheet> after) {
  const auto id = std::make_shared<std::int64_t>(after ? after->id : 0);
  return {std::move(name), focus,
          [id, before, after = std::move(after)](Record& r) {
            if (after && *id == 0) *id = r.add_sheet(*after);
            Job job = before;
            job.sheet_id = after ? std::optional(*id) : std::nullopt;
            r.update_job(job);
          },
          [before](Record& r) { r.update_job(before); }};
}

Edit edit_job_of_new_vehicle(std::string name, Job before, Job after, Vehicle vehicle) {
  const EditFocus focus{.job_id = after.id};
  // The vehicle's row is made the first time and stays: a vehicle without jobs is in nobody's way.
  const auto made = std::make_shared<std::int64_t>(0);
  return {std::move(name), focus,
          [made, after = std::move(after), vehicle = std::move(vehicle)](Record& r) {
            if (*made == 0) *made = r.add_vehicle(vehicle);
            Job job = after;
            job.vehicle_id = *made;
            r.update_job(job);
          },
          [before = std::move(before)](Record& r) { r.update_job(before); }};
}

Edit edit_work(std::string name, Job job, std::optional<WorkDone> before,
               std::optional<WorkDone> after) {
  const auto put = [id = job.id](Record& record, const std::optional<WorkDone>& work) {
    if (work)
      record.set_work(id, *work);
    else
      record.reopen_job(id);
  };
  const EditFocus focus{.job_id = job.id, .work = true};
  return {std::move(name), focus, [put, after = std::move(after)](Record& r) { put(r, after); },
          [put, before = std::move(before), job = std::move(job)](Record& r) {
            put(r, before);
            r.update_job(job);  // the next check as it was
          }};
}

Edit edit_take_in(TakenIn taken) {
  const EditFocus focus{.job_id = taken.job_id};
  const auto all = std::make_shared<const TakenIn>(std::move(taken));
  return {"take the job in", focus,
          [all](Record& r) {
            for (const std::int64_t id : all->hidden) r.remove_job(id);
            for (const auto& [before, after] : all->vehicles) r.update_vehicle(after);
            r.restore_job(all->job_id);
          },
          [all](Record& r) {
            r.remove_job(all->job_id);
            for (const auto& [before, after] : all->vehicles) r.update_vehicle(before);
            for (const std::int64_t id : all->hidden) r.restore_job(id);
          }};
}

Edit edit_vehicle(std::string name, EditFocus focus, Vehicle before, Vehicle after) {
  return {std::move(name), focus,
          [after = std::move(after)](Record& r) { r.update_vehicle(after); },
          [before = std::move(before)](Record& r) { r.update_vehicle(before); }};
}

Edit edit_add_job(std::int64_t job_id) {
  return {"start job",
          {.job_id = job_id},
          [job_id](Record& r) { r.restore_job(job_id); },
          [job_id](Record& r) { r.remove_job(job_id); }};
}

Edit edit_remove_job(std::int64_t job_id) {
  return {"remove job",
          {.job_id = job_id},
          [job_id](Record& r) { r.remove_job(job_id); },
          [job_id](Record& r) { r.restore_job(job_id); }};
}

Edit edit_together(std::string name, EditFocus focus, std::vector<Edit> edits) {
  const auto all = std::make_shared<std::vector<Edit>>(std::move(edits));
  return {std::move(name), focus,
          [all](Record& record) {
            for (const Edit& edit : *all) edit.apply(record);
          },
          [all](Record& record) {
            for (const Edit& edit : *all | std::views::reverse) edit.revert(record);
          }};
}

Edit edit_remove_photo(std::string name, EditFocus focus) {
  const auto id = focus.photo_id;
  return {std::move(name), focus, [id](Record& r) { r.remove_photo(id); },
          [id](Record& r) { r.restore_photo(id); }};
}

Edit edit_add_photo(std::string name, EditFocus focus) {
  const auto id = focus.photo_id;
  return {std::move(name), focus, [id](Record& r) { r.restore_photo(id); },
          [id](Record& r) { r.remove_photo(id); }};
}

Edit edit_file_photos(const FiledHeap& heap) {
  EditFocus focus{.job_id = heap.job_id};
  focus.part_id = heap.photos.front().part_id;
  focus.photo_id = heap.photos.front().id;
  focus.sorted = true;
  return {"file " + std::to_string(heap.added.size()) + " photos", focus,
          [heap](Record& record) {
            if (heap.new_job) record.restore_job(heap.job_id);
            for (const std::int64_t id : heap.added) record.restore_photo(id);
          },
          [heap](Record& record) {
            for (const std::int64_t id : heap.added) record.remove_photo(id);
            if (heap.new_job) record.remove_job(heap.job_id);
          }};
}

Edit edit_add_reading(EditFocus focus, HandReadingEntry reading) {
  // The row's id is known only after the first time; from then on the row is hidden and shown.
  auto id = std::make_shared<std::int64_t>(0);
  return {"add hand reading", focus,
          [id, reading = std::move(reading)](Record& record) {
            if (*id == 0)
              *id = record.add_hand_reading(reading);
            else
              record.restore_hand_reading(*id);
          },
          [id](Record& record) { record.remove_hand_reading(*id); }};
}

Edit edit_remove_reading(EditFocus focus, const HandReadingEntry& reading) {
  const auto id = reading.id;
  return {"remove hand reading", focus, [id](Record& r) { r.remove_hand_reading(id); },
          [id](Record& r) { r.restore_hand_reading(id); }};
}

}  // namespace scantling
