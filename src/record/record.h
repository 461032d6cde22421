#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "dimension/analysis.h"
#include "dimension/measurement.h"
#include "record/work_done.h"

namespace scantling {

struct Vehicle {
  std::int64_t id = 0;
  std::string name;  ///< how the owner calls it
  std::string registration;
  std::string make_model;
  std::string owner;
};

/// One printed sheet of cards: its scale serves every photo taken with it.
struct Sheet {
  std::int64_t id = 0;
  std::string name;  ///< what the user wrote on it, such as "A4, kitchen printer"
  SheetScale scale;
  std::string how_checked;  ///< "check bars with a steel rule", ...; empty while unchecked
  std::string checked_at;   ///< ISO 8601 date and time, UTC; empty while unchecked
};

struct Job {
  std::int64_t id = 0;
  std::int64_t vehicle_id = 0;
  std::string date;  ///< ISO 8601 calendar date, "2026-11-25"
  std::optional<double> odometer_km;
  Axle axle = Axle::front;
  std::string note;
  std::optional<std::int64_t> sheet_id;  ///< the sheet its photos were taken with
  /// The next planned check: odometer reading and calendar date, either may be missing.
  std::optional<double> next_check_km = {};
  std::string next_check_date = {};
};

struct Part {
  std::int64_t id = 0;
  std::int64_t job_id = 0;
  PartKind kind = PartKind::pad;
  Side side = Side::left;
  PadPlace place = PadPlace::inner;  ///< pads only
  std::optional<double> minimum_mm;  ///< friction material for a pad, worn thickness for a disc
  std::string minimum_origin;        ///< "stamped on the part", "workshop manual", ...
  std::optional<double> disc_diameter_mm = {};  ///< discs only
};

/// A disc's friction faces: away from the car's middle, and towards it.
enum class DiscFace { outboard, inboard };

/// A photo that the record keeps by its content.
struct PhotoEntry {
  std::int64_t id = 0;
  std::int64_t part_id = 0;
  View view = View::pad;
  std::string sha256;  ///< hexadecimal, names the file in the photo store
  std::string original_name;
  std::string added_at;                        ///< ISO 8601 date and time, UTC
  std::optional<std::int64_t> sheet_id;        ///< where it differs from the job's sheet
  std::optional<std::int64_t> camera_id = {};  ///< where the file says what took it
  std::optional<DiscFace> face = {};           ///< whose lip a lip photo shows
};

/// A photo's file that lies in the store already, with what its row is going to say of it.
struct StoredPhoto {
  std::string sha256;
  std::string original_name;
  std::string camera_make, camera_model;  ///< as the file says; empty where it does not
};

/// What a photo said, as found or with edges moved; the newest one of a photo counts.
struct MeasurementEntry {
  std::int64_t id = 0;
  std::int64_t photo_id = 0;
  Measurement measurement;
  MeasureOptions options;
  std::vector<MovedEdge> moved_edges;
  std::string engine_version;       ///< empty: this program's
  std::string made_at;              ///< ISO 8601 date and time, UTC; empty: now
  std::string camera_profile = {};  ///< JSON text of the profile used; empty: none
  /// Photos that this one was read together with, by their SHA-256: of the same lip, or all others
  /// of a part that is measured from planes.
  std::vector<std::string> read_with = {};
  /// The card's definition as it was, JSON text, filled when read; empty when saved: the built-in
  /// one's.
  std::string card_definition = {};
};

/// Who looked at an edge and agreed with where it lies.
struct EdgeConfirmation {
  std::int64_t photo_id = 0;
  std::string edge;
  std::string confirmed_by;
  std::string confirmed_at;  ///< empty: now
};

struct HandReadingEntry {
  std::int64_t id = 0;
  std::int64_t part_id = 0;
  std::string as_typed;  ///< the user's own text is kept beside the number
  double value_mm = 0;
  double standard_uncertainty_mm = 0;
  std::string instrument;
  std::string read_at;               ///< empty: now
  std::optional<double> clock = {};  ///< clock position round a disc, above 0 to 12
  std::string zero_as_typed = {};
  double zero_error_mm = 0;  ///< already taken off `value_mm`
  std::optional<double> resolution_mm = {};
  std::optional<double> permissible_error_mm = {};
};

/// What took photos, as their files say, with its profile where there is one.
struct Camera {
  std::int64_t id = 0;
  std::string make;
  std::string model;
  std::string profile;  ///< JSON text; empty: none
};

/// A verdict as it was given, with the rule and the program that gave it.
struct VerdictEntry {
  std::int64_t id = 0;
  std::int64_t part_id = 0;
  std::string state;
  std::optional<double> probability_below;
  std::optional<double> size_mm;  ///< of the photo that governed; none by hand alone
  std::optional<double> standard_uncertainty_mm;
  std::optional<double> degrees_of_freedom;  ///< none where unlimited
  double minimum_mm = 0;
  std::string minimum_origin;
  std::vector<std::string> because;
  std::string rule;            ///< see verdict_rule()
  std::string engine_version;  ///< empty: this program's
  std::string made_at;         ///< empty: now
};

/// The job record: an SQLite database and a folder of photos named by their SHA-256.
/// Every change is one committed transaction; a photo's file is safe on disk before its row is.
/// Nothing is deleted: removing hides, restoring shows again, and every changed row is kept in the
/// table `history` as it was before. Times left empty are filled with the time of the call.
/// One thread at a time; for another thread, or another program, open the file once more.
/// @throws RecordError (a sentence for the user) from every function when the record cannot be
/// opened, read or written, or when a number makes no sense; the record then stays as it was.
class Record {
 public:
  /// Opens or creates. `database`: the file; photos lie in a folder beside it ("NAME.photos").
  explicit Record(const std::filesystem::path& database);
  ~Record();
  Record(Record&&) noexcept;
  Record& operator=(Record&&) noexcept;

  /// $XDG_DATA_HOME/scantling/record.sqlite (XDG base directory specification 0.8).
  static std::filesystem::path default_path();

  std::int64_t add_vehicle(const Vehicle& vehicle);
  void update_vehicle(const Vehicle& vehicle);
  std::vector<Vehicle> vehicles() const;
  std::optional<Vehicle> vehicle(std::int64_t vehicle_id) const;

  std::int64_t add_sheet(const Sheet& sheet);
  void update_sheet(const Sheet& sheet);
  std::vector<Sheet> sheets() const;  ///< newest first
  std::optional<Sheet> sheet(std::int64_t sheet_id) const;
  /// The photo's own sheet, else its job's; nothing where neither names one.
  std::optional<Sheet> sheet_for(const PhotoEntry& photo) const;

  std::int64_t add_job(const Job& job);
  void update_job(const Job& job);
  std::vector<Job> jobs() const;  ///< newest first
  /// Jobs in whose vehicle, date, axle or note every word of `words` is found, newest first; large
  /// and small letters (of ASCII) are the same. Without words: all of them.
  std::vector<Job> find_jobs(const std::string& words) const;
  std::optional<Job> job(std::int64_t job_id) const;
  void remove_job(std::int64_t job_id);
  void restore_job(std::int64_t job_id);

  std::int64_t add_part(const Part& part);
  void update_part(const Part& part);
  std::vector<Part> parts(std::int64_t job_id) const;
  std::optional<Part> part(std::int64_t part_id) const;
  void remove_part(std::int64_t part_id);
  void restore_part(std::int64_t part_id);

  /// Copies the file in (once per content) and attaches it to the part. The same photo of the same
  /// part and view again gives the entry that is there, taken back if it was removed. Added again
  /// with another face it shows that one from now on. `original_name`: how it was called where the
  /// file itself has another name; empty: the file's.
  PhotoEntry add_photo(std::int64_t part_id, View view, const std::filesystem::path& photo,
                       std::optional<DiscFace> face = std::nullopt,
                       const std::string& original_name = {});
  /// The same in two steps, so that the copying, which takes its time, happens before a change of
  /// several rows: first into the store, then the row.
  StoredPhoto store_photo(const std::filesystem::path& photo,
                          const std::string& original_name = {});
  PhotoEntry add_photo(std::int64_t part_id, View view, const StoredPhoto& stored,
                       std::optional<DiscFace> face = std::nullopt);
  std::vector<PhotoEntry> photos(std::int64_t part_id) const;
  std::optional<PhotoEntry> photo(std::int64_t photo_id) const;
  /// The sheet this photo was taken with; nothing: the job's.
  void set_photo_sheet(std::int64_t photo_id, std::optional<std::int64_t> sheet_id);
  void set_photo_camera(std::int64_t photo_id, std::int64_t camera_id);
  void remove_photo(std::int64_t photo_id);   ///< detaches; the stored file stays
  void restore_photo(std::int64_t photo_id);  ///< takes the removal back
  /// Where the photo's file lies in the store. The caller checks that it is still there.
  std::filesystem::path photo_path(const PhotoEntry& photo) const;
  /// False when the stored file is missing or its content no longer has its hash.
  bool photo_intact(const PhotoEntry& photo) const;

  std::int64_t add_measurement(const MeasurementEntry& entry);
  std::optional<MeasurementEntry> newest_measurement(std::int64_t photo_id) const;
  std::vector<MeasurementEntry> measurements(std::int64_t photo_id) const;  ///< oldest first

  /// Replaces the photo's confirmations (empty takes them back).
  void set_confirmations(std::int64_t photo_id, const std::vector<EdgeConfirmation>& confirmations);
  std::vector<EdgeConfirmation> confirmations(std::int64_t photo_id) const;

  std::int64_t add_hand_reading(const HandReadingEntry& entry);
  void remove_hand_reading(std::int64_t reading_id);
  void restore_hand_reading(std::int64_t reading_id);
  std::vector<HandReadingEntry> hand_readings(std::int64_t part_id) const;
  std::vector<std::int64_t> parts_with_readings() const;  ///< ids, ascending

  /// The job's axle through time, this job included, oldest first; jobs of one
  /// day in their order.
  std::vector<Job> jobs_of_axle(std::int64_t vehicle_id, Axle axle) const;

  std::vector<Camera> cameras() const;
  std::optional<Camera> camera(std::int64_t camera_id) const;
  /// Adds the camera or gives the known one this profile; returns its id.
  std::int64_t keep_camera(const Camera& camera);

  std::int64_t add_verdict(const VerdictEntry& verdict);
  std::vector<VerdictEntry> verdicts(std::int64_t part_id) const;  ///< oldest first

  /// Closes the job with the work done, or corrects what was said of it.
  void set_work(std::int64_t job_id, const WorkDone& work);
  /// What was said last; nothing where the job was never closed, or was opened again.
  std::optional<WorkDone> work(std::int64_t job_id) const;
  /// Takes a closing back. What was said of the work stays in the table, but counts no more.
  void reopen_job(std::int64_t job_id);

  /// Runs several changes as one: all of them are kept, or, where `work` throws, none. May be
  /// called from within itself; then the outermost call counts.
  void as_one_change(const std::function<void()>& work);

  /// Whether another program, or another connection of this one, has changed the record since the
  /// last call; false at the first.
  bool changed_elsewhere();

  /// A dated whole copy of the database beside it (photos stay where they are).
  /// Returns its path.
  std::filesystem::path back_up() const;

  int schema_version() const;
  const std::filesystem::path& path() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace scantling
