#include "report/redo.h"

#include "card/card_definition.h"
#include "record/record_error.h"
#include "report/measure_photos.h"

namespace scantling {

namespace {

PhotoToMeasure as_measured(const Record& record, const PhotoEntry& photo,
                           const MeasurementEntry& entry) {
  if (!record.photo_intact(photo))
    throw RecordError("The stored photo " + photo.original_name +
                      " is missing or was altered: add it again, then measure it.");
  PhotoToMeasure result{photo, record.photo_path(photo), entry.options};
  result.options.cameras = cameras_as_recorded(entry);
  return result;
}

/// The photo with those of the same lip that had a say in it, in the order of the part's photos.
std::vector<PhotoToMeasure> photos_read_together(const Record& record,
                                                 const MeasurementEntry& entry,
                                                 const PhotoEntry& photo) {
  std::vector<PhotoToMeasure> together;
  std::vector<std::string> missing = entry.read_with;
  bool placed = false;
  for (const PhotoEntry& other : record.photos(photo.part_id)) {
    if (other.id == photo.id) {
      together.push_back(as_measured(record, photo, entry));
      placed = true;
    } else if (other.view == photo.view && std::erase(missing, other.sha256) > 0) {
      const auto known = record.newest_measurement(other.id);
      together.push_back(as_measured(record, other, known ? *known : entry));
      together.back().photo.face = photo.face;  // it may have been put right since
    }
  }
  // Taken off the part since: the files are still in the store.
  for (const std::string& sha256 : missing) {
    PhotoEntry gone = photo;
    gone.id = 0;
    gone.sha256 = sha256;
    gone.original_name = "that was read together with " + photo.original_name;
    together.push_back(as_measured(record, gone, entry));
  }
  if (!placed) together.push_back(as_measured(record, photo, entry));
  return together;
}

}  // namespace

Measurement measure_again(const Record& record, const MeasurementEntry& entry) {
  const auto photo = record.photo(entry.photo_id);
  if (!photo) throw RecordError("The photo is not in the record any more: restore it first.");
  if (!entry.card_definition.empty() && entry.measurement.card &&
      !same_definition(entry.card_definition, card_definition_text(entry.measurement.card->name)))
    throw RecordError(
        "The photo was taken with an older card than this "
        "program prints: what was "
        "measured stays, but it cannot be done again here.");
  for (const MeasuredPhoto& measured : measure_photos(photos_read_together(record, entry, *photo)))
    if (measured.photo_id == photo->id) return measured.analysis.with_edges(entry.moved_edges);
  throw RecordError("This photo belongs to a set that is measured from planes: measure the set.");
}

}  // namespace scantling
