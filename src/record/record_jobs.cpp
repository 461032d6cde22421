// Jobs, their parts, and readings taken by hand.
#include <cmath>
#include <sstream>

#include "record/record_state.h"

namespace scantling {

namespace {

constexpr const char* kJobColumns =
    "SELECT id, vehicle_id, date, odometer_km, axle, note, sheet_id, next_check_km, "
    "next_check_date FROM job ";
// `said`: all that a search may find.
constexpr const char* kJobsWithVehicles =
    "SELECT job.id, vehicle_id, date, odometer_km, axle, note, sheet_id, next_check_km, "
    "next_check_date, lower (vehicle.name || ' ' || registration || ' ' || make_model || ' ' || "
    "owner || ' ' || date || ' ' || axle || ' ' || note) AS said "
    "FROM job JOIN vehicle ON vehicle.id = vehicle_id WHERE removed_at IS NULL";
constexpr std::size_t kMostSearchWords = 8;
constexpr const char* kPartColumns =
    "SELECT id, job_id, kind, side, place, minimum_mm, minimum_origin, disc_diameter_mm "
    "FROM part ";
constexpr const char* kReadingColumns =
    "SELECT id, part_id, as_typed, value_mm, standard_uncertainty_mm, "
    "instrument, read_at, clock, "
    "zero_as_typed, zero_error_mm, resolution_mm, permissible_error_mm FROM "
    "hand_reading ";

Job job_of(const SQLite::Statement& row) {
  Job job;
  job.id = row.getColumn(0).getInt64();
  job.vehicle_id = row.getColumn(1).getInt64();
  job.date = row.getColumn(2).getString();
  job.odometer_km = optional_number(row.getColumn(3));
  job.axle = axle_from(row.getColumn(4).getString());
  job.note = row.getColumn(5).getString();
  job.sheet_id = optional_id(row.getColumn(6));
  job.next_check_km = optional_number(row.getColumn(7));
  if (!row.getColumn(8).isNull()) job.next_check_date = row.getColumn(8).getString();
  return job;
}

Part part_of(const SQLite::Statement& row) {
  Part part;
  part.id = row.getColumn(0).getInt64();
  part.job_id = row.getColumn(1).getInt64();
  part.kind = kind_from(row.getColumn(2).getString());
  part.side = side_from(row.getColumn(3).getString());
  if (!row.getColumn(4).isNull()) part.place = place_from(row.getColumn(4).getString());
  part.minimum_mm = optional_number(row.getColumn(5));
  part.minimum_origin = row.getColumn(6).getString();
  part.disc_diameter_mm = optional_number(row.getColumn(7));
  return part;
}

HandReadingEntry reading_of(const SQLite::Statement& row) {
  HandReadingEntry reading;
  reading.id = row.getColumn(0).getInt64();
  reading.part_id = row.getColumn(1).getInt64();
  reading.as_typed = row.getColumn(2).getString();
  reading.value_mm = row.getColumn(3).getDouble();
  reading.standard_uncertainty_mm = row.getColumn(4).getDouble();
  reading.instrument = row.getColumn(5).getString();
  reading.read_at = row.getColumn(6).getString();
  reading.clock = optional_number(row.getColumn(7));
  reading.zero_as_typed = row.getColumn(8).getString();
  reading.zero_error_mm = row.getColumn(9).getDouble();
  reading.resolution_mm = optional_number(row.getColumn(10));
  reading.permissible_error_mm = optional_number(row.getColumn(11));
  return reading;
}

void require_sense(const Job& job) {
  if (!is_calendar_date(job.date))
    throw RecordError("\"" + clean_text(job.date) +
                      "\" is not a date: write year, month and day as in 2026-11-25.");
  if (job.odometer_km && !(*job.odometer_km >= 0 && *job.odometer_km < 1e7))
    throw RecordError("The odometer reading must be a number of kilometres from 0 up: correct it.");
  if (job.next_check_km && !(*job.next_check_km >= 0 && *job.next_check_km < 1e7))
    throw RecordError(
        "The next check's odometer reading must be a number of kilometres: correct it.");
  if (!job.next_check_date.empty() && !is_calendar_date(job.next_check_date))
    throw RecordError("\"" + clean_text(job.next_check_date) +
                      "\" is not a date: write year, month and day as in 2026-11-25.");
}

void require_sense(const Part& part) {
  if (part.minimum_mm && !(*part.minimum_mm > 0 && *part.minimum_mm < 1000))
    throw RecordError(
        "The minimum must be a thickness above 0 mm: read it off the part or the workshop manual.");
  if (part.disc_diameter_mm && !(*part.disc_diameter_mm >= 100 && *part.disc_diameter_mm <= 600))
    throw RecordError("A disc's diameter lies between 100 and 600 mm: measure it again.");
}

void require_sense(const HandReadingEntry& reading) {
  if (!(reading.value_mm >= 0 && reading.value_mm < 1000))
    throw RecordError("A reading must be a thickness from 0 mm up: type it again.");
  if (!(reading.standard_uncertainty_mm >= 0 && reading.standard_uncertainty_mm < 100))
    throw RecordError("A reading's uncertainty must be 0 mm or more: type it again.");
  if (reading.clock && !(*reading.clock > 0 && *reading.clock <= 12))
    throw RecordError("A clock position lies above 0 and up to 12: correct it.");
  const auto sensible = [](std::optional<double> mm) { return !mm || (*mm >= 0 && *mm <= 10); };
  if (!sensible(reading.resolution_mm) || !sensible(reading.permissible_error_mm) ||
      !(std::abs(reading.zero_error_mm) <= 10))
    throw RecordError(
        "The instrument's figures must be sizes of at most 10 "
        "mm: correct them.");
}

std::optional<std::string> date_column(const std::string& date) {
  return date.empty() ? std::nullopt : std::optional(date);
}

std::optional<std::string> place_column(const Part& part) {
  if (part.kind != PartKind::pad) return std::nullopt;
  return place_word(part.place);
}

}  // namespace

std::int64_t Record::add_job(const Job& j) {
  require_sense(j);
  return state_->change("save the job", [&] {
    return inserted(state_->database,
                    "INSERT INTO job (vehicle_id, date, odometer_km, axle, note, sheet_id, "
                    "next_check_km, next_check_date) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                    j.vehicle_id, j.date, j.odometer_km, axle_word(j.axle), j.note, j.sheet_id,
                    j.next_check_km, date_column(j.next_check_date));
  });
}

void Record::update_job(const Job& j) {
  require_sense(j);
  state_->change("save the job", [&] {
    changed(state_->database, "job",
            "UPDATE job SET vehicle_id = ?, date = ?, odometer_km = ?, axle = ?, note = ?, "
            "sheet_id = ?, next_check_km = ?, next_check_date = ? "
            "WHERE id = ? AND removed_at IS NULL",
            j.vehicle_id, j.date, j.odometer_km, axle_word(j.axle), j.note, j.sheet_id,
            j.next_check_km, date_column(j.next_check_date), j.id);
  });
}

std::vector<Job> Record::jobs() const {
  return state_->read([&] {
    return rows(state_->shelf.lend(
                    state_->database,
                    query(kJobColumns, "WHERE removed_at IS NULL ORDER BY date DESC, id DESC")),
                job_of);
  });
}

std::vector<Job> Record::find_jobs(const std::string& words) const {
  std::istringstream typed(clean_text(words));
  std::vector<std::string> wanted;
  for (std::string word; wanted.size() < kMostSearchWords && typed >> word;) wanted.push_back(word);
  if (wanted.empty()) return jobs();
  std::string sql(kJobsWithVehicles);
  for (std::size_t i = 0; i < wanted.size(); ++i) sql += " AND instr (said, lower (?)) > 0";
  return state_->read([&] {
    const LentStatement found =
        state_->shelf.lend(state_->database, sql + " ORDER BY date DESC, job.id DESC");
    for (std::size_t i = 0; i < wanted.size(); ++i)
      bind_one(*found, static_cast<int>(i) + 1, wanted[i]);
    std::vector<Job> list;
    while ((*found).executeStep()) list.push_back(job_of(*found));
    return list;
  });
}

std::vector<Job> Record::jobs_of_axle(std::int64_t vehicle_id, Axle axle) const {
  return state_->read([&] {
    return rows(state_->shelf.lend(state_->database,
                                   query(kJobColumns,
                                         "WHERE vehicle_id = ? AND axle = ? AND removed_at IS NULL "
                                         "ORDER BY date, id"),
                                   vehicle_id, axle_word(axle)),
                job_of);
  });
}

std::optional<Job> Record::job(std::int64_t job_id) const {
  return state_->read([&] {
    return row(
        state_->shelf.lend(state_->database,
                           query(kJobColumns, "WHERE id = ? AND removed_at IS NULL"), job_id),
        job_of);
  });
}

void Record::remove_job(std::int64_t job_id) {
  state_->set_removed("job", job_id, true);
}
void Record::restore_job(std::int64_t job_id) {
  state_->set_removed("job", job_id, false);
}

std::int64_t Record::add_part(const Part& p) {
  require_sense(p);
  return state_->change("save the part", [&] {
    return inserted(state_->database,
                    "INSERT INTO part (job_id, kind, side, place, minimum_mm, minimum_origin, "
                    "disc_diameter_mm) VALUES (?, ?, ?, ?, ?, ?, ?)",
                    p.job_id, kind_word(p.kind), side_word(p.side), place_column(p), p.minimum_mm,
                    p.minimum_origin, p.disc_diameter_mm);
  });
}

void Record::update_part(const Part& p) {
  require_sense(p);
  state_->change("save the part", [&] {
    changed(state_->database, "part",
            "UPDATE part SET kind = ?, side = ?, place = ?, minimum_mm = ?, minimum_origin = ?, "
            "disc_diameter_mm = ? WHERE id = ? AND removed_at IS NULL",
            kind_word(p.kind), side_word(p.side), place_column(p), p.minimum_mm, p.minimum_origin,
            p.disc_diameter_mm, p.id);
  });
}

std::vector<Part> Record::parts(std::int64_t job_id) const {
  return state_->read([&] {
    return rows(
        state_->shelf.lend(
            state_->database,
            query(kPartColumns, "WHERE job_id = ? AND removed_at IS NULL ORDER BY id"), job_id),
        part_of);
  });
}

std::optional<Part> Record::part(std::int64_t part_id) const {
  return state_->read([&] {
    return row(
        state_->shelf.lend(state_->database,
                           query(kPartColumns, "WHERE id = ? AND removed_at IS NULL"), part_id),
        part_of);
  });
}

void Record::remove_part(std::int64_t part_id) {
  state_->set_removed("part", part_id, true);
}
void Record::restore_part(std::int64_t part_id) {
  state_->set_removed("part", part_id, false);
}

std::int64_t Record::add_hand_reading(const HandReadingEntry& r) {
  require_sense(r);
  return state_->change("save the reading", [&] {
    return inserted(state_->database,
                    "INSERT INTO hand_reading (part_id, as_typed, value_mm, "
                    "standard_uncertainty_mm, instrument, read_at, clock, zero_as_typed, "
                    "zero_error_mm, resolution_mm, permissible_error_mm) "
                    "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                    r.part_id, r.as_typed, r.value_mm, r.standard_uncertainty_mm, r.instrument,
                    or_now(r.read_at), r.clock, r.zero_as_typed, r.zero_error_mm, r.resolution_mm,
                    r.permissible_error_mm);
  });
}

void Record::remove_hand_reading(std::int64_t reading_id) {
  state_->set_removed("hand_reading", reading_id, true);
}

void Record::restore_hand_reading(std::int64_t reading_id) {
  state_->set_removed("hand_reading", reading_id, false);
}

std::vector<std::int64_t> Record::parts_with_readings() const {
  return state_->read([&] {
    return rows(state_->shelf.lend(state_->database,
                                   "SELECT DISTINCT part_id FROM hand_reading "
                                   "WHERE removed_at IS NULL "
                                   "ORDER BY part_id"),
                [](const SQLite::Statement& found) { return found.getColumn(0).getInt64(); });
  });
}

std::vector<HandReadingEntry> Record::hand_readings(std::int64_t part_id) const {
  return state_->read([&] {
    return rows(state_->shelf.lend(
                    state_->database,
                    query(kReadingColumns, "WHERE part_id = ? AND removed_at IS NULL ORDER BY id"),
                    part_id),
                reading_of);
  });
}

}  // namespace scantling
