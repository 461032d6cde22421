#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "app/session.h"
#include "exchange/job_import.h"

namespace scantling {

/// What is typed but not yet taken over, and which dialogs are open.
struct JobForm {
  bool asked = false;  ///< open the dialog in the next frame
  bool is_new = false;
  std::int64_t job_id = 0;      ///< the one whose details these are; 0: a new one
  std::int64_t vehicle_id = 0;  ///< 0: a new one
  std::string vehicle_name;
  std::string registration;
  std::string make_model;
  std::string owner;
  std::string date;
  std::string odometer;
  int axle = 0;
  std::string note;
  std::string next_check_km, next_check_date;
  std::string next_check_offered;  ///< by the settings, not typed
  std::string refusal;             ///< why it could not be taken over
  /// The job that this one comes after on its axle, and its words; 0: none.
  std::int64_t after_job_id = 0;
  std::string after_words;
};

struct PartForm {
  std::string key;            ///< what the texts below belong to
  PartAddress of;             ///< the part they are typed for, whichever is selected meanwhile
  bool typing = false;        ///< a field is active: nothing is put in its place
  bool minimum_open = false;  ///< typed into, and not yet taken
  bool drawn = false;         ///< in this frame
  std::string minimum;
  int origin = 0;
  std::string origin_words;  ///< where it is from, when the list does not have it
  std::string reading;
  std::string clock;  ///< discs: where round it
  int instrument = 0;
  /// What stays from reading to reading: the instrument's zero and its own figures.
  std::string zero, resolution, permissible_error;
  std::string refusal;  ///< of the reading
  std::string minimum_refusal;
};

struct SheetForm {
  std::string key;
  std::string name;
  std::string x_printed, x_measured, y_printed, y_measured;
  int instrument = 0;
  std::string refusal;
};

struct OffsetForm {
  std::string key;
  std::int64_t photo_id = 0;  ///< it is typed for
  bool typing = false;
  std::string offset, uncertainty;
};

struct DiscForm {
  std::string key;
  PartAddress of;
  bool typing = false;
  std::string diameter;
  std::string refusal;
};

/// The list of jobs on the first screen.
struct JobListForm {
  std::string words;      ///< what is searched for
  std::string found_for;  ///< what the lines below were found for
  std::vector<JobLine> lines;
  double found_at_s = -1e9;
};

/// A job from a file that says otherwise than the record.
struct ImportForm {
  bool asked = false;
  std::string file;
  std::shared_ptr<const JobImport> import;
  std::vector<ImportConflict> conflicts;
};

struct SettingsForm {
  bool asked = false;
  std::string person;
  std::string check_every;  ///< in the settings' distance unit
  std::string refusal;
};

struct Forms {
  SettingsForm settings;
  JobListForm jobs;
  ImportForm import;
  DiscForm disc;
  JobForm job;
  PartForm part;
  SheetForm sheet;
  OffsetForm offset;
  std::optional<PartSlot> entries_of;  ///< the part whose entries are in sight
  bool entries_overflow = false;       ///< more of them than there is room for
  bool help_asked = false;
};

}  // namespace scantling
