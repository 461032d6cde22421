// Vehicles and printed sheets: what outlives a job.
#include "record/record_state.h"

namespace scantling {

namespace {

constexpr const char* kVehicleColumns =
    "SELECT id, name, registration, make_model, owner FROM vehicle ";
constexpr const char* kSheetColumns =
    "SELECT id, name, scale_x, scale_y, scale_uncertainty, checked, how_checked, checked_at "
    "FROM sheet ";

Vehicle vehicle_of(const SQLite::Statement& row) {
  Vehicle vehicle;
  vehicle.id = row.getColumn(0).getInt64();
  vehicle.name = row.getColumn(1).getString();
  vehicle.registration = row.getColumn(2).getString();
  vehicle.make_model = row.getColumn(3).getString();
  vehicle.owner = row.getColumn(4).getString();
  return vehicle;
}

Sheet sheet_of(const SQLite::Statement& row) {
  Sheet sheet;
  sheet.id = row.getColumn(0).getInt64();
  sheet.name = row.getColumn(1).getString();
  sheet.scale.x = row.getColumn(2).getDouble();
  sheet.scale.y = row.getColumn(3).getDouble();
  sheet.scale.standard_uncertainty = row.getColumn(4).getDouble();
  sheet.scale.checked = row.getColumn(5).getInt() != 0;
  sheet.how_checked = row.getColumn(6).getString();
  sheet.checked_at = row.getColumn(7).getString();
  return sheet;
}

void require_sense(const Sheet& sheet) {
  const SheetScale& scale = sheet.scale;
  // A print more than a tenth off is a wrong printer setting, not a scale to work with.
  const auto sensible = [](double s) { return s >= 0.9 && s <= 1.1; };
  if (!sensible(scale.x) || !sensible(scale.y))
    throw RecordError(
        "The sheet's scale must lie between 0.9 and 1.1: measure the check bars again, or print "
        "the sheet at 100 %.");
  if (!(scale.standard_uncertainty >= 0 && scale.standard_uncertainty <= 0.1))
    throw RecordError(
        "The scale's uncertainty must lie between 0 and 0.1: give the rule's uncertainty in mm "
        "over the check bar's length.");
}

std::string checked_time(const Sheet& sheet) {
  return sheet.scale.checked ? or_now(sheet.checked_at) : std::string{};
}

}  // namespace

std::int64_t Record::add_vehicle(const Vehicle& v) {
  return state_->change("save the vehicle", [&] {
    return inserted(state_->database,
                    "INSERT INTO vehicle (name, registration, make_model, owner) "
                    "VALUES (?, ?, ?, ?)",
                    v.name, v.registration, v.make_model, v.owner);
  });
}

void Record::update_vehicle(const Vehicle& v) {
  state_->change("save the vehicle", [&] {
    changed(state_->database, "vehicle",
            "UPDATE vehicle SET name = ?, registration = ?, make_model = ?, owner = ? "
            "WHERE id = ?",
            v.name, v.registration, v.make_model, v.owner, v.id);
  });
}

std::vector<Vehicle> Record::vehicles() const {
  return state_->read([&] {
    return rows(state_->shelf.lend(state_->database, query(kVehicleColumns, "ORDER BY name, id")),
                vehicle_of);
  });
}

std::optional<Vehicle> Record::vehicle(std::int64_t vehicle_id) const {
  return state_->read([&] {
    return row(
        state_->shelf.lend(state_->database, query(kVehicleColumns, "WHERE id = ?"), vehicle_id),
        vehicle_of);
  });
}

std::int64_t Record::add_sheet(const Sheet& s) {
  require_sense(s);
  return state_->change("save the sheet", [&] {
    return inserted(state_->database,
                    "INSERT INTO sheet (name, scale_x, scale_y, scale_uncertainty, checked, "
                    "how_checked, checked_at) VALUES (?, ?, ?, ?, ?, ?, ?)",
                    s.name, s.scale.x, s.scale.y, s.scale.standard_uncertainty,
                    std::int64_t{s.scale.checked}, s.how_checked, checked_time(s));
  });
}

void Record::update_sheet(const Sheet& s) {
  require_sense(s);
  state_->change("save the sheet", [&] {
    changed(state_->database, "sheet",
            "UPDATE sheet SET name = ?, scale_x = ?, scale_y = ?, scale_uncertainty = ?, "
            "checked = ?, how_checked = ?, checked_at = ? WHERE id = ?",
            s.name, s.scale.x, s.scale.y, s.scale.standard_uncertainty,
            std::int64_t{s.scale.checked}, s.how_checked, checked_time(s), s.id);
  });
}

std::vector<Sheet> Record::sheets() const {
  return state_->read([&] {
    return rows(state_->shelf.lend(state_->database, query(kSheetColumns, "ORDER BY id DESC")),
                sheet_of);
  });
}

std::optional<Sheet> Record::sheet(std::int64_t sheet_id) const {
  return state_->read([&] {
    return row(state_->shelf.lend(state_->database, query(kSheetColumns, "WHERE id = ?"), sheet_id),
               sheet_of);
  });
}

std::optional<Sheet> Record::sheet_for(const PhotoEntry& photo) const {
  if (photo.sheet_id) return sheet(*photo.sheet_id);
  return state_->read([&] {
    return row(state_->shelf.lend(state_->database,
                                  query(kSheetColumns,
                                        "WHERE id = (SELECT job.sheet_id FROM part JOIN job "
                                        "ON job.id = part.job_id WHERE part.id = ?)"),
                                  photo.part_id),
               sheet_of);
  });
}

}  // namespace scantling
