#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "record/record.h"
#include "sorting/file_photos.h"

namespace scantling {

/// What of the record an edit is about, so that undo can show what it changes.
struct EditFocus {
  std::int64_t job_id = 0;
  std::int64_t part_id = 0;   ///< 0: the job as a whole
  std::int64_t photo_id = 0;  ///< 0: no single photo
  bool planes = false;        ///< belongs to the page of the sizes from planes
  bool work = false;          ///< belongs to the page of the work done
  bool sorted = false;        ///< photos that came through the sorting page
};

/// One undoable change of the record. Both ways append to it; nothing is deleted.
struct Edit {
  std::string name;  ///< as in "Undo move friction face"
  EditFocus focus;
  std::function<void(Record&)> apply;
  std::function<void(Record&)> revert;
};

/// Every change goes through here: first into the record, then onto the stack, so that what can be
/// undone is exactly what was saved. Each edit is one change of the record, all of it or nothing,
/// however many rows it touches. Without limit.
class EditHistory {
 public:
  /// @throws RecordError when the record refused; the history is then unchanged.
  void perform(Record& record, Edit edit);
  /// Puts an edit on the stack that the record already holds.
  void already_done(Edit edit);

  /// Takes the last change back, or does it again. Returns what it was about.
  std::optional<EditFocus> undo(Record& record);
  std::optional<EditFocus> redo(Record& record);

  const std::string* undo_name() const;  ///< null when there is nothing to undo
  const std::string* redo_name() const;

 private:
  std::vector<Edit> done_;
  std::vector<Edit> undone_;
};

/// A photo's measurement and confirmations before and after a change.
struct PhotoStanding {
  MeasurementEntry measurement;
  std::vector<EdgeConfirmation> confirmations;
};

Edit edit_photo(std::string name, EditFocus focus, PhotoStanding before, PhotoStanding after);
/// Several photos' measurements, as one change.
Edit edit_photos(std::string name, EditFocus focus, std::vector<MeasurementEntry> before,
                 std::vector<MeasurementEntry> after);
Edit edit_confirmations(std::string name, EditFocus focus, std::vector<EdgeConfirmation> before,
                        std::vector<EdgeConfirmation> after);
Edit edit_part(std::string name, EditFocus focus, Part before, Part after);
/// Something entered that these photos are measured with: they are measured anew afterwards, which
/// is no edit of its own. Taking the entry back brings back what had been measured before it, and
/// doing it again what was measured with it.
Edit edit_with_measurements(Edit entered, std::vector<std::int64_t> photo_ids);
Edit edit_job(std::string name, Job before, Job after);
/// The job's printed sheet; none: not checked. A sheet with id 0 is new and made the first time.
Edit edit_sheet(std::string name, EditFocus focus, Job before, std::optional<Sheet> after);
/// The same for a job that goes to a vehicle which the record does not know yet.
Edit edit_job_of_new_vehicle(std::string name, Job before, Job after, Vehicle vehicle);
/// The work done when a job was closed, with the next check that it set; `before` where it was
/// closed already. `job`: as it was before.
Edit edit_work(std::string name, Job job, std::optional<WorkDone> before,
               std::optional<WorkDone> after);
/// A job that was taken in from a file, for `already_done`: `hidden` were the jobs that it stands
/// for, `vehicles` what was changed of known ones.
struct TakenIn {
  std::int64_t job_id = 0;
  std::vector<std::int64_t> hidden;
  std::vector<std::pair<Vehicle, Vehicle>> vehicles;  ///< before, after
};
Edit edit_take_in(TakenIn taken);
Edit edit_vehicle(std::string name, EditFocus focus, Vehicle before, Vehicle after);
Edit edit_add_job(std::int64_t job_id);  ///< for `already_done`
Edit edit_remove_job(std::int64_t job_id);
/// Several edits as one step, undone in the opposite order.
Edit edit_together(std::string name, EditFocus focus, std::vector<Edit> edits);
Edit edit_remove_photo(std::string name, EditFocus focus);
Edit edit_add_photo(std::string name, EditFocus focus);  ///< for `already_done`
/// Photos that were sorted and filed together, with their job where they began it; for
/// `already_done`.
Edit edit_file_photos(const FiledHeap& heap);
Edit edit_add_reading(EditFocus focus, HandReadingEntry reading);
Edit edit_remove_reading(EditFocus focus, const HandReadingEntry& reading);

}  // namespace scantling
