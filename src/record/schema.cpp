#include "record/schema.h"

#include <SQLiteCpp/Backup.h>
#include <SQLiteCpp/SQLiteCpp.h>
#include <fmt/chrono.h>
#include <fmt/format.h>

#include <ctime>

#include "record/record_error.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

// Nothing in a stored step may ever change: a change is a new step.
constexpr const char* kVersion1 = R"sql(
CREATE TABLE vehicle (
  id INTEGER PRIMARY KEY, name TEXT NOT NULL, registration TEXT NOT NULL,
  make_model TEXT NOT NULL, owner TEXT NOT NULL) STRICT;

CREATE TABLE sheet (
  id INTEGER PRIMARY KEY, name TEXT NOT NULL,
  scale_x REAL NOT NULL CHECK (scale_x > 0), scale_y REAL NOT NULL CHECK (scale_y > 0),
  scale_uncertainty REAL NOT NULL CHECK (scale_uncertainty >= 0),
  checked INTEGER NOT NULL CHECK (checked IN (0, 1)),
  how_checked TEXT NOT NULL, checked_at TEXT NOT NULL) STRICT;

CREATE TABLE job (
  id INTEGER PRIMARY KEY, vehicle_id INTEGER NOT NULL REFERENCES vehicle (id),
  date TEXT NOT NULL CHECK (date IS date (date)),
  odometer_km REAL CHECK (odometer_km >= 0),
  axle TEXT NOT NULL CHECK (axle IN ('front', 'rear')), note TEXT NOT NULL,
  sheet_id INTEGER REFERENCES sheet (id), removed_at TEXT) STRICT;
CREATE INDEX job_by_vehicle ON job (vehicle_id);

CREATE TABLE part (
  id INTEGER PRIMARY KEY, job_id INTEGER NOT NULL REFERENCES job (id),
  kind TEXT NOT NULL CHECK (kind IN ('pad', 'disc')),
  side TEXT NOT NULL CHECK (side IN ('left', 'right')),
  place TEXT CHECK (place IN ('inner', 'outer')),
  minimum_mm REAL CHECK (minimum_mm > 0), minimum_origin TEXT NOT NULL, removed_at TEXT,
  CHECK ((kind = 'pad') = (place IS NOT NULL))) STRICT;
CREATE INDEX part_by_job ON part (job_id);

CREATE TABLE photo (
  id INTEGER PRIMARY KEY, part_id INTEGER NOT NULL REFERENCES part (id),
  view TEXT NOT NULL CHECK (view IN ('pad', 'rim', 'lip')),
  sha256 TEXT NOT NULL CHECK (length (sha256) = 64), original_name TEXT NOT NULL,
  added_at TEXT NOT NULL, sheet_id INTEGER REFERENCES sheet (id), removed_at TEXT,
  UNIQUE (part_id, view, sha256)) STRICT;

-- The JSON columns say all; the numbers of table dimension repeat what queries need.
CREATE TABLE measurement (
  id INTEGER PRIMARY KEY, photo_id INTEGER NOT NULL REFERENCES photo (id),
  measurement TEXT NOT NULL CHECK (json_valid (measurement)),
  options TEXT NOT NULL CHECK (json_valid (options)),
  moved_edges TEXT NOT NULL CHECK (json_valid (moved_edges)),
  engine_version TEXT NOT NULL, made_at TEXT NOT NULL) STRICT;
CREATE INDEX measurement_by_photo ON measurement (photo_id);

CREATE TABLE dimension (
  measurement_id INTEGER NOT NULL REFERENCES measurement (id), name TEXT NOT NULL,
  value_mm REAL NOT NULL, standard_uncertainty_mm REAL NOT NULL, confidence REAL NOT NULL,
  PRIMARY KEY (measurement_id, name)) STRICT, WITHOUT ROWID;

CREATE TABLE confirmation (
  id INTEGER PRIMARY KEY, photo_id INTEGER NOT NULL REFERENCES photo (id), edge TEXT NOT NULL,
  confirmed_by TEXT NOT NULL, confirmed_at TEXT NOT NULL, removed_at TEXT) STRICT;
CREATE UNIQUE INDEX confirmation_that_counts ON confirmation (photo_id, edge)
  WHERE removed_at IS NULL;

CREATE TABLE hand_reading (
  id INTEGER PRIMARY KEY, part_id INTEGER NOT NULL REFERENCES part (id),
  as_typed TEXT NOT NULL, value_mm REAL NOT NULL CHECK (value_mm >= 0),
  standard_uncertainty_mm REAL NOT NULL CHECK (standard_uncertainty_mm >= 0),
  instrument TEXT NOT NULL, read_at TEXT NOT NULL, removed_at TEXT) STRICT;
CREATE INDEX hand_reading_by_part ON hand_reading (part_id);

CREATE TABLE history (
  id INTEGER PRIMARY KEY, changed_at TEXT NOT NULL, changed_table TEXT NOT NULL,
  row_id INTEGER NOT NULL, before TEXT NOT NULL CHECK (json_valid (before))) STRICT;
CREATE TRIGGER keep_vehicle BEFORE UPDATE ON vehicle BEGIN
  INSERT INTO history (changed_at, changed_table, row_id, before) VALUES
    (strftime ('%Y-%m-%dT%H:%M:%SZ', 'now'), 'vehicle', old.id, json_object ('name', old.name,
     'registration', old.registration, 'make_model', old.make_model, 'owner', old.owner)); END;
CREATE TRIGGER keep_sheet BEFORE UPDATE ON sheet BEGIN
  INSERT INTO history (changed_at, changed_table, row_id, before) VALUES
    (strftime ('%Y-%m-%dT%H:%M:%SZ', 'now'), 'sheet', old.id, json_object ('name', old.name,
     'scale_x', old.scale_x, 'scale_y', old.scale_y, 'scale_uncertainty', old.scale_uncertainty,
     'checked', old.checked, 'how_checked', old.how_checked, 'checked_at', old.checked_at)); END;
CREATE TRIGGER keep_job BEFORE UPDATE ON job BEGIN
  INSERT INTO history (changed_at, changed_table, row_id, before) VALUES
    (strftime ('%Y-%m-%dT%H:%M:%SZ', 'now'), 'job', old.id, json_object (
     'vehicle_id', old.vehicle_id, 'date', old.date, 'odometer_km', old.odometer_km,
     'axle', old.axle, 'note', old.note, 'sheet_id', old.sheet_id,
     'removed_at', old.removed_at)); END;
CREATE TRIGGER keep_part BEFORE UPDATE ON part BEGIN
  INSERT INTO history (changed_at, changed_table, row_id, before) VALUES
    (strftime ('%Y-%m-%dT%H:%M:%SZ', 'now'), 'part', old.id, json_object (
     'kind', old.kind, 'side', old.side, 'place', old.place, 'minimum_mm', old.minimum_mm,
     'minimum_origin', old.minimum_origin, 'removed_at', old.removed_at)); END;
)sql";

// The next planned check, a disc's diameter, and which friction face a lip photo shows.
constexpr const char* kVersion2 = R"sql(
ALTER TABLE job ADD COLUMN next_check_km REAL CHECK (next_check_km >= 0);
ALTER TABLE job ADD COLUMN next_check_date TEXT
  CHECK (next_check_date IS date (next_check_date));
ALTER TABLE part ADD COLUMN disc_diameter_mm REAL CHECK (disc_diameter_mm > 0);
ALTER TABLE photo ADD COLUMN face TEXT CHECK (face IN ('outboard', 'inboard'));
DROP TRIGGER keep_job;
CREATE TRIGGER keep_job BEFORE UPDATE ON job BEGIN
  INSERT INTO history (changed_at, changed_table, row_id, before) VALUES
    (strftime ('%Y-%m-%dT%H:%M:%SZ', 'now'), 'job', old.id, json_object (
     'vehicle_id', old.vehicle_id, 'date', old.date, 'odometer_km', old.odometer_km,
     'axle', old.axle, 'note', old.note, 'sheet_id', old.sheet_id,
     'next_check_km', old.next_check_km, 'next_check_date', old.next_check_date,
     'removed_at', old.removed_at)); END;
DROP TRIGGER keep_part;
CREATE TRIGGER keep_part BEFORE UPDATE ON part BEGIN
  INSERT INTO history (changed_at, changed_table, row_id, before) VALUES
    (strftime ('%Y-%m-%dT%H:%M:%SZ', 'now'), 'part', old.id, json_object (
     'kind', old.kind, 'side', old.side, 'place', old.place, 'minimum_mm', old.minimum_mm,
     'minimum_origin', old.minimum_origin, 'disc_diameter_mm', old.disc_diameter_mm,
     'removed_at', old.removed_at)); END;
)sql";

// What a job needs to be redone from the record alone, to be closed, and to be
// handed on: cards and cameras as they were, how a reading was taken, verdicts
// with their rule, the work done. Photos of two more views are let in, for
// which their table is built anew (a CHECK cannot be altered).
constexpr const char* kVersion3 = R"sql(
CREATE TABLE camera (
  id INTEGER PRIMARY KEY, make TEXT NOT NULL, model TEXT NOT NULL,
  profile TEXT CHECK (profile IS NULL OR json_valid (profile)),
  added_at TEXT NOT NULL, UNIQUE (make, model)) STRICT;
CREATE TRIGGER keep_camera BEFORE UPDATE ON camera BEGIN
  INSERT INTO history (changed_at, changed_table, row_id, before) VALUES
    (strftime ('%Y-%m-%dT%H:%M:%SZ', 'now'), 'camera', old.id, json_object (
     'make', old.make, 'model', old.model, 'profile', old.profile)); END;

CREATE TABLE card (
  id INTEGER PRIMARY KEY, name TEXT NOT NULL, definition TEXT NOT NULL CHECK (json_valid (definition)),
  added_at TEXT NOT NULL, UNIQUE (name, definition)) STRICT;

CREATE TABLE photo_3 (
  id INTEGER PRIMARY KEY, part_id INTEGER NOT NULL REFERENCES part (id),
  view TEXT NOT NULL CHECK (view IN ('pad', 'rim', 'lip', 'faces', 'pile')),
  sha256 TEXT NOT NULL CHECK (length (sha256) = 64), original_name TEXT NOT NULL,
  added_at TEXT NOT NULL, sheet_id INTEGER REFERENCES sheet (id), removed_at TEXT,
  camera_id INTEGER REFERENCES camera (id),
  face TEXT CHECK (face IN ('outboard', 'inboard')),
  UNIQUE (part_id, view, sha256)) STRICT;
INSERT INTO photo_3 (id, part_id, view, sha256, original_name, added_at, sheet_id, removed_at, face)
  SELECT id, part_id, view, sha256, original_name, added_at, sheet_id, removed_at, face FROM photo;
DROP TABLE photo;
ALTER TABLE photo_3 RENAME TO photo;

ALTER TABLE measurement ADD COLUMN card_id INTEGER REFERENCES card (id);
ALTER TABLE measurement ADD COLUMN camera_profile TEXT
  CHECK (camera_profile IS NULL OR json_valid (camera_profile));

CREATE INDEX job_by_axle ON job (vehicle_id, axle, date);

ALTER TABLE hand_reading ADD COLUMN clock REAL CHECK (clock > 0 AND clock <= 12);
ALTER TABLE hand_reading ADD COLUMN zero_as_typed TEXT NOT NULL DEFAULT '';
ALTER TABLE hand_reading ADD COLUMN zero_error_mm REAL NOT NULL DEFAULT 0;
ALTER TABLE hand_reading ADD COLUMN resolution_mm REAL CHECK (resolution_mm > 0);
ALTER TABLE hand_reading ADD COLUMN permissible_error_mm REAL CHECK (permissible_error_mm >= 0);

CREATE TABLE verdict (
  id INTEGER PRIMARY KEY, part_id INTEGER NOT NULL REFERENCES part (id),
  state TEXT NOT NULL, probability_below REAL, size_mm REAL, standard_uncertainty_mm REAL,
  degrees_of_freedom REAL, minimum_mm REAL NOT NULL, minimum_origin TEXT NOT NULL,
  because TEXT NOT NULL CHECK (json_valid (because)), rule TEXT NOT NULL,
  engine_version TEXT NOT NULL, made_at TEXT NOT NULL) STRICT;
CREATE INDEX verdict_by_part ON verdict (part_id);

-- The newest row of a job counts; earlier ones stay.
CREATE TABLE work_done (
  id INTEGER PRIMARY KEY, job_id INTEGER NOT NULL REFERENCES job (id),
  work TEXT NOT NULL CHECK (json_valid (work)), saved_at TEXT NOT NULL) STRICT;
CREATE INDEX work_by_job ON work_done (job_id);
)sql";

constexpr Migration kMigrations[] = {{1, kVersion1}, {2, kVersion2}, {3, kVersion3}};

int pragma_number(SQLite::Database& database, const char* pragma) {
  return database.execAndGet(pragma).getInt();
}

/// Refuses before anything is written.
void require_ours(SQLite::Database& database, const fs::path& path, int newest) {
  const int version = pragma_number(database, "PRAGMA user_version");
  const int application = pragma_number(database, "PRAGMA application_id");
  const bool empty = pragma_number(database, "SELECT count(*) FROM sqlite_master") == 0;
  const bool fresh = empty && version == 0 && application == 0;
  if (!fresh && application != kRecordApplicationId)
    throw RecordError(fmt::format(
        "{} is a database of another program: choose another file for the record.", path.string()));
  if (version > newest)
    throw RecordError(
        fmt::format("{} was written by a newer Scantling (record version {}, this program knows "
                    "{}): install the newer program, or choose another file.",
                    path.string(), version, newest));
}

}  // namespace

fs::path back_up_database(SQLite::Database& database, const fs::path& path, int version) {
  const std::string stem = fmt::format("{}.version-{}.{:%Y%m%dT%H%M%SZ}", path.string(), version,
                                       fmt::gmtime(std::time(nullptr)));
  std::string name = stem + ".backup";
  for (int i = 2; fs::exists(name); ++i) name = fmt::format("{}-{}.backup", stem, i);
  SQLite::Database copy(name, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  SQLite::Backup backup(copy, database);
  backup.executeStep();
  return name;
}

std::span<const Migration> migrations() {
  return kMigrations;
}

void bring_up_to_date(SQLite::Database& database, const fs::path& path,
                      std::span<const Migration> steps) {
  require_ours(database, path, steps.back().to_version);
  const int found = pragma_number(database, "PRAGMA user_version");
  if (found > 0 && found < steps.back().to_version) back_up_database(database, path, found);
  for (const Migration& step : steps) {
    // Read again inside the lock: another program may have taken the same step meanwhile.
    SQLite::Transaction transaction(database, SQLite::TransactionBehavior::IMMEDIATE);
    if (pragma_number(database, "PRAGMA user_version") >= step.to_version) continue;
    database.exec(step.sql);
    database.exec(fmt::format("PRAGMA application_id = {}", kRecordApplicationId));
    database.exec(fmt::format("PRAGMA user_version = {}", step.to_version));
    transaction.commit();
  }
}

}  // namespace scantling
