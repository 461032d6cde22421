// Photos, what was measured on them, and who confirmed the edges.
#include <nlohmann/json.hpp>

#include "base/version.h"
#include "card/card_definition.h"
#include "dimension/measurement_json.h"
#include "photo/photo.h"
#include "record/options_json.h"
#include "record/record_state.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kPhotoColumns =
    "SELECT id, part_id, view, sha256, original_name, added_at, sheet_id, camera_id, face "
    "FROM photo ";
constexpr const char* kMeasurementColumns =
    "SELECT measurement.id, photo_id, measurement, options, moved_edges, "
    "engine_version, made_at, "
    "camera_profile, definition FROM measurement LEFT JOIN card ON card.id = "
    "card_id ";

PhotoEntry photo_of(const SQLite::Statement& row) {
  PhotoEntry photo;
  photo.id = row.getColumn(0).getInt64();
  photo.part_id = row.getColumn(1).getInt64();
  photo.view = view_from(row.getColumn(2).getString());
  photo.sha256 = row.getColumn(3).getString();
  photo.original_name = row.getColumn(4).getString();
  photo.added_at = row.getColumn(5).getString();
  photo.sheet_id = optional_id(row.getColumn(6));
  photo.camera_id = optional_id(row.getColumn(7));
  if (!row.getColumn(8).isNull()) photo.face = face_from(row.getColumn(8).getString());
  return photo;
}

std::string measurement_text(const Measurement& measurement) {
  try {
    return measurement_to_json(measurement).dump(-1, ' ', false, Json::error_handler_t::replace);
  } catch (const std::invalid_argument& error) {
    throw RecordError(std::string(error.what()) + " Nothing was saved: measure this photo again.");
  }
}

Measurement measurement_from(const std::string& text) {
  try {
    return measurement_from_json(Json::parse(text));
  } catch (const std::exception& error) {
    throw RecordError(std::string("A stored measurement cannot be read (") + error.what() +
                      "): measure this photo again.");
  }
}

MeasurementEntry measurement_of(const SQLite::Statement& row) {
  MeasurementEntry entry;
  entry.id = row.getColumn(0).getInt64();
  entry.photo_id = row.getColumn(1).getInt64();
  entry.measurement = measurement_from(row.getColumn(2).getString());
  const std::string options = row.getColumn(3).getString();
  entry.options = options_from_text(options);
  entry.read_with = read_with_from_text(options);
  entry.moved_edges = moved_edges_from_text(row.getColumn(4).getString());
  entry.engine_version = row.getColumn(5).getString();
  entry.made_at = row.getColumn(6).getString();
  entry.camera_profile = row.getColumn(7).getString();
  entry.card_definition = row.getColumn(8).getString();
  return entry;
}

EdgeConfirmation confirmation_of(const SQLite::Statement& row) {
  return {row.getColumn(0).getInt64(), row.getColumn(1).getString(), row.getColumn(2).getString(),
          row.getColumn(3).getString()};
}

/// The card's row; a definition is kept once, and for good. One that comes with the measurement,
/// as from another record, is an older or newer card's.
std::optional<std::int64_t> card_row(SQLite::Database& database, const MeasurementEntry& entry) {
  const Measurement& measurement = entry.measurement;
  if (!measurement.card) return std::nullopt;
  std::string definition(card_definition_text(measurement.card->name));
  if (!entry.card_definition.empty() && !same_definition(entry.card_definition, definition))
    definition = entry.card_definition;
  if (definition.empty()) return std::nullopt;
  prepared(database,
           "INSERT INTO card (name, definition, added_at) VALUES (?, ?, ?) "
           "ON CONFLICT (name, definition) DO NOTHING",
           measurement.card->name, definition, time_of_change())
      .exec();
  return row(prepared(database, "SELECT id FROM card WHERE name = ? AND definition = ?",
                      measurement.card->name, definition),
             [](const SQLite::Statement& found) { return found.getColumn(0).getInt64(); });
}

}  // namespace

PhotoEntry Record::add_photo(std::int64_t part_id, View view, const fs::path& photo_file,
                             std::optional<DiscFace> face, const std::string& original_name) {
  return add_photo(part_id, view, store_photo(photo_file, original_name), face);
}

StoredPhoto Record::store_photo(const fs::path& photo_file, const std::string& original_name) {
  StoredPhoto stored;
  stored.original_name =
      fs::path(original_name.empty() ? photo_file : fs::path(original_name)).filename().string();
  stored.sha256 = state_->store.add(photo_file);  // safe on disk before its row is
  const CameraTags tags = camera_tags_of(state_->store.path(stored.sha256));
  stored.camera_make = tags.make;
  stored.camera_model = tags.model;
  return stored;
}

PhotoEntry Record::add_photo(std::int64_t part_id, View view, const StoredPhoto& stored,
                             std::optional<DiscFace> face) {
  const std::optional<std::string> shown_face =
      face ? std::optional<std::string>(face_word(*face)) : std::nullopt;
  return state_->change("save the photo", [&] {
    std::optional<std::int64_t> camera_id;
    if (!stored.camera_make.empty() || !stored.camera_model.empty())
      camera_id = state_->camera_row(stored.camera_make, stored.camera_model);
    prepared(state_->database,
             "INSERT INTO photo (part_id, view, sha256, original_name, added_at, camera_id, face) "
             "VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT (part_id, view, sha256) DO UPDATE SET "
             "removed_at = NULL, face = coalesce (excluded.face, face)",
             part_id, view_word(view), stored.sha256, stored.original_name, time_of_change(),
             camera_id, shown_face)
        .exec();
    return row(state_->shelf.lend(
                   state_->database,
                   query(kPhotoColumns, "WHERE part_id = ? AND view = ? AND sha256 = ?"), part_id,
                   view_word(view), stored.sha256),
               photo_of)
        .value();
  });
}

std::vector<PhotoEntry> Record::photos(std::int64_t part_id) const {
  return state_->read([&] {
    return rows(
        state_->shelf.lend(
            state_->database,
            query(kPhotoColumns, "WHERE part_id = ? AND removed_at IS NULL ORDER BY id"), part_id),
        photo_of);
  });
}

std::optional<PhotoEntry> Record::photo(std::int64_t photo_id) const {
  return state_->read([&] {
    return row(
        state_->shelf.lend(state_->database,
                           query(kPhotoColumns, "WHERE id = ? AND removed_at IS NULL"), photo_id),
        photo_of);
  });
}

void Record::set_photo_sheet(std::int64_t photo_id, std::optional<std::int64_t> sheet_id) {
  state_->change("save the photo's sheet", [&] {
    changed(state_->database, "photo",
            "UPDATE photo SET sheet_id = ? WHERE id = ? AND removed_at IS NULL", sheet_id,
            photo_id);
  });
}

void Record::set_photo_camera(std::int64_t photo_id, std::int64_t camera_id) {
  state_->change("save the photo's camera", [&] {
    changed(state_->database, "photo",
            "UPDATE photo SET camera_id = ? WHERE id = ? AND removed_at IS NULL", camera_id,
            photo_id);
  });
}

void Record::remove_photo(std::int64_t photo_id) {
  state_->set_removed("photo", photo_id, true);
}
void Record::restore_photo(std::int64_t photo_id) {
  state_->set_removed("photo", photo_id, false);
}

fs::path Record::photo_path(const PhotoEntry& photo) const {
  return state_->store.path(photo.sha256);
}

bool Record::photo_intact(const PhotoEntry& photo) const {
  return state_->store.intact(photo.sha256);
}

std::int64_t Record::add_measurement(const MeasurementEntry& e) {
  const std::string measurement = measurement_text(e.measurement);
  return state_->change("save the measurement", [&] {
    const std::int64_t id =
        inserted(state_->database,
                 "INSERT INTO measurement (photo_id, measurement, options, moved_edges, "
                 "engine_version, "
                 "made_at, camera_profile, card_id) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                 e.photo_id, measurement, options_to_text(e.options, e.read_with),
                 moved_edges_to_text(e.moved_edges),
                 e.engine_version.empty() ? kVersion : e.engine_version.c_str(), or_now(e.made_at),
                 e.camera_profile.empty() ? std::nullopt : std::optional(e.camera_profile),
                 card_row(state_->database, e));
    for (const Dimension& d : e.measurement.dimensions)
      inserted(state_->database,
               "INSERT INTO dimension (measurement_id, name, value_mm, standard_uncertainty_mm, "
               "confidence) VALUES (?, ?, ?, ?, ?)",
               id, d.name, d.quantity.value_mm, d.quantity.standard_uncertainty_mm, d.confidence);
    return id;
  });
}

std::optional<MeasurementEntry> Record::newest_measurement(std::int64_t photo_id) const {
  return state_->read([&] {
    return row(state_->shelf.lend(state_->database,
                                  query(kMeasurementColumns,
                                        "WHERE photo_id = ? ORDER BY measurement.id DESC LIMIT 1"),
                                  photo_id),
               measurement_of);
  });
}

std::vector<MeasurementEntry> Record::measurements(std::int64_t photo_id) const {
  return state_->read([&] {
    return rows(
        state_->shelf.lend(state_->database,
                           query(kMeasurementColumns, "WHERE photo_id = ? ORDER BY measurement.id"),
                           photo_id),
        measurement_of);
  });
}

void Record::set_confirmations(std::int64_t photo_id,
                               const std::vector<EdgeConfirmation>& confirmations) {
  state_->change("save the confirmation", [&] {
    prepared(state_->database,
             "UPDATE confirmation SET removed_at = ? WHERE photo_id = ? AND removed_at IS NULL",
             time_of_change(), photo_id)
        .exec();
    for (const EdgeConfirmation& c : confirmations)
      inserted(state_->database,
               "INSERT INTO confirmation (photo_id, edge, confirmed_by, confirmed_at) "
               "VALUES (?, ?, ?, ?)",
               photo_id, c.edge, c.confirmed_by, or_now(c.confirmed_at));
  });
}

std::vector<EdgeConfirmation> Record::confirmations(std::int64_t photo_id) const {
  return state_->read([&] {
    return rows(state_->shelf.lend(state_->database,
                                   "SELECT photo_id, edge, confirmed_by, confirmed_at FROM "
                                   "confirmation "
                                   "WHERE photo_id = ? AND removed_at IS NULL ORDER BY id",
                                   photo_id),
                confirmation_of);
  });
}

}  // namespace scantling
