#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/edits.h"
#include "dimension/analysis.h"
#include "record/record.h"
#include "report/due_photos.h"
#include "report/summary.h"
#include "sorting/file_photos.h"
#include "sorting/place_photos.h"

namespace scantling {

/// That part's summary; null where the record does not know the part yet.
const PartSummary* find_part(const JobSummary& job, PartSlot slot);

/// One of the six parts of a job, whether the record knows it yet or not.
struct PartAddress {
  std::int64_t job_id = 0;
  PartSlot slot;
  bool operator==(const PartAddress&) const = default;
};

struct JobLine {
  Job job;
  Vehicle vehicle;
};

/// All that the window works on, without a window: the record, the open job as the record holds it,
/// what is selected, the photos analysed so far and the undo history.
/// Nothing here shows a result that is not in the record, except while an edge is being dragged.
class Session {
 public:
  explicit Session(const std::filesystem::path& record_path);

  Record& record() { return *record_; }
  const std::filesystem::path& record_path() const { return record_->path(); }

  // Jobs.
  std::vector<JobLine> job_lines() const;                          ///< newest first
  std::vector<JobLine> find_jobs(const std::string& words) const;  ///< as Record::find_jobs
  bool open_job(std::int64_t job_id);  ///< false when there is no such job
  void close_job();
  void remove_job();  ///< the open one; undo brings it back
  /// Makes a job (and its vehicle where `vehicle.id` is 0) and opens it.
  void start_job(Vehicle vehicle, Job job);
  /// A job for photos that came without one. They can be put right later; nothing is lost.
  void start_unsorted_job();
  NewJob unsorted_job() const;  ///< the same, not made yet
  bool job_is_unsorted() const;
  const std::optional<JobSummary>& job() const { return job_; }
  void change_job(const std::string& name, Vehicle vehicle, Job job);
  /// The job after this one on its axle, which starts from the parts that are on the car now.
  void start_next_job(std::int64_t after_job_id, const Job& job);
  /// Closes the job with the work done, or says otherwise of it; nothing is written where the
  /// record says the same.
  void set_work(const WorkDone& work);
  void reopen_job();  ///< takes the closing back
  /// After a job was taken in from a file: opens it and makes the taking undoable.
  void taken_in(TakenIn taken);

  // Selection.
  void select_part(PartSlot slot);
  PartSlot slot() const { return slot_; }
  PartAddress address() const { return {job_ ? job_->job.id : 0, slot_}; }
  const PartSummary* part() const;
  void select_photo(std::int64_t photo_id);
  const PhotoFinding* photo() const;
  /// The next photo of the job, round all parts, on which an edge waits to be confirmed; false
  /// where there is none.
  bool select_next_to_confirm();
  void select_edge(const std::string& edge) { edge_ = edge; }
  const std::string& edge() const { return edge_; }
  void select_next_edge(int step);
  /// The selected part's row in the record, or that of another one, made now where it is missing.
  std::int64_t part_id() { return part_id(address()); }
  std::int64_t part_id(const PartAddress& of);

  // Photos.
  /// What the next photo added to the part shows: as chosen, else the first view that lacks one.
  PhotoKind kind_to_add() const;
  void choose_kind_to_add(const PhotoKind& kind) { kind_chosen_ = kind; }
  /// Whether the user chose it, or the part lacks such a photo.
  bool kind_is_wanted(const PhotoKind& kind) const;
  /// After the worker has copied a photo in: makes the adding undoable and, where the part is still
  /// the selected one, shows the photo unless told not to. Nothing where another job is open by
  /// then.
  void photo_added(const PhotoEntry& photo, bool show = true);
  void remove_photo();

  // Measuring (session_measuring.cpp).
  /// A photo of the open job that is measured edge by edge.
  struct WantedPhoto {
    std::int64_t photo_id = 0;
    MeasureOptions options;  ///< it is to be measured with
    bool due = false;        ///< and was not yet
  };
  std::vector<WantedPhoto> wanted_photos() const;
  /// Those that are measured together with one of the open job's photos; see due_together().
  std::vector<DuePhoto> due_together(std::int64_t photo_id,
                                     const std::shared_ptr<const CameraShelf>& cameras) const;
  /// Finished analyses of photos that set out as `photos`: for drawing and dragging, and where one
  /// of them was due also for the record. Returns what keep_measurements() returns.
  std::vector<std::int64_t> analyses_ready(const std::vector<MeasuredPhoto>& measured,
                                           const std::vector<DuePhoto>& photos);
  const Analysis* analysis() const;  ///< of the selected photo; null until it is ready
  const Analysis* analysis_of(std::int64_t photo_id) const;

  // Photos that were sorted (session_sorting.cpp).
  /// What the open job holds, for the sorting to go on from.
  SortingContext sorting_context() const;
  /// After the worker has filed a heap: makes the filing one undoable change and, unless told not
  /// to, opens its job where that is another one and shows the first photo.
  void heap_filed(const FiledHeap& heap, bool show = true);

  // Sizes from planes: photos that are solved together (session_planes.cpp).
  /// The view whose photos give the selected part's size from planes: faces of a disc, pile of a
  /// pad.
  View planes_view() const;
  /// Those of a part that count, in the order they were added.
  static std::vector<const PhotoFinding*> planes_photos(const PartSummary& part);
  /// What they are solved with: the job's sheet, and as `part_offset` how far the part lies behind
  /// a card's printed face, which is the cut-out card's thickness.
  MeasureOptions planes_options(const PartSummary& part) const;
  /// After the worker has copied such a photo in; undoable.
  void planes_photo_added(const PhotoEntry& photo);
  void remove_planes_photo(std::int64_t photo_id);
  /// Whether the record holds what all of the part's photos say together with these options.
  bool planes_kept(const PartSummary& part, const MeasureOptions& options) const;
  /// Keeps what they say together, one measurement a photo; nothing is written where the record
  /// says the same already.
  void keep_planes(std::int64_t part_id, const std::vector<MeasurementEntry>& entries);
  /// Another thickness of the cut-out card, for the selected part.
  void set_card_thickness(const PartOffset& thickness);

  // Edges.
  /// The selected photo's measurement: the dragged one during a drag, else the recorded one.
  const Measurement* measurement() const;
  /// The selected pad as it stands, a drag that is going on included. Null without a job.
  const PartSummary* summary() const;
  /// What the selected photo says about the pad's governing size; nothing where it may not be
  /// shown.
  const GoverningSize* photo_size() const;
  std::vector<MovedEdge> moved_edges() const;
  void preview_edge(const std::string& edge, const EdgeSegment& segment);
  void drop_preview();
  bool previewing() const { return preview_.has_value(); }
  /// Puts an edge where `segment` lies. Whoever moves an edge has looked at it: it counts as
  /// confirmed by `person`. Consecutive nudges of one edge stay single steps of the history.
  void move_edge(const std::string& edge, const EdgeSegment& segment, const std::string& person);
  void put_edge_back(const std::string& edge);  ///< to where it was found
  void confirm_edge(const std::string& edge, const std::string& person);
  void confirm_all_edges(const std::string& person);
  void withdraw_confirmation(const std::string& edge);

  // The part's figures.
  // The part that a figure was typed for is named, as another one may be selected by the time it is
  // taken. What photos are measured with is kept at once; they are due from then on, and are
  // measured in the background.
  void set_minimum(const PartAddress& of, std::optional<double> minimum_mm,
                   const std::string& origin);
  void set_minimum(std::optional<double> minimum_mm, const std::string& origin) {
    set_minimum(address(), minimum_mm, origin);
  }
  void add_reading(const PartAddress& of, HandReadingEntry reading);
  void add_reading(HandReadingEntry reading) { add_reading(address(), std::move(reading)); }
  void remove_reading(const HandReadingEntry& reading);
  void set_disc_diameter(const PartAddress& of, std::optional<double> diameter_mm);
  /// Another printed sheet for the job; none: not checked. A sheet with id 0 is a new one.
  void set_sheet(const std::optional<Sheet>& sheet);
  /// What a photo is measured with for itself: its offset, or an ID-1 card instead of a printed
  /// one. Until it is measured with that it gives no size.
  void set_photo_options(const std::string& name, std::int64_t photo_id,
                         const MeasureOptions& options);

  // History.
  bool undo();
  bool redo();
  const EditHistory& history() const { return history_; }
  const EditFocus& touched() const { return touched_; }  ///< by the last undo or redo

  void reload();  ///< reads the open job again

 private:
  EditFocus focus() const;
  EditFocus focus_of(const PartAddress& part, std::int64_t part_id) const;
  void drop_outdated_analyses();
  void perform(Edit edit);
  void show(const EditFocus& focus);
  PhotoStanding standing() const;
  void confirm(const std::vector<std::string>& edges, const std::string& person,
               const std::string& name);

  std::unique_ptr<Record> record_;
  std::optional<JobSummary> job_;
  PartSlot slot_;
  std::int64_t photo_id_ = 0;
  std::string edge_;
  std::optional<PhotoKind> kind_chosen_;
  std::map<std::int64_t, MeasuredPhoto> analyses_;
  std::optional<Measurement> preview_;
  std::optional<PartSummary> preview_summary_;
  PartSummary empty_part_;  ///< stands in for a pad that the record does not know yet
  EditHistory history_;
  EditFocus touched_;
  std::optional<PartOffset> card_thickness_;  ///< entered before any photo could hold it
};

/// Now, as ISO 8601 date and time in UTC; today in local time.
std::string utc_now();
std::string today();

}  // namespace scantling
