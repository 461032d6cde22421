#include "report/due_photos.h"

#include <algorithm>

namespace scantling {

namespace {

bool due(const std::optional<MeasurementEntry>& newest, const MeasureOptions& wanted) {
  return !newest || waits_to_be_measured(newest->measurement) ||
         !same_options(newest->options, wanted);
}

bool by_disc_diameter(View view) {
  return view == View::rim || view == View::lip;
}

enum class Keeping { add, leave, changed_meanwhile };

Keeping keeping_of(const Record& record, const NewMeasurement& measured) {
  const MeasurementEntry& entry = measured.entry;
  const auto photo = record.photo(entry.photo_id);
  const auto part = photo ? record.part(photo->part_id) : std::nullopt;
  if (!part) return Keeping::changed_meanwhile;
  const auto newest = record.newest_measurement(entry.photo_id);
  const MeasureOptions wanted = wanted_options(*photo, *part, record.sheet_for(*photo), newest);
  if ((newest ? newest->id : 0) != measured.after_id || !same_options(entry.options, wanted))
    return Keeping::changed_meanwhile;
  if (due(newest, wanted)) return Keeping::add;
  return newest->moved_edges.empty() && newest->read_with != entry.read_with ? Keeping::add
                                                                             : Keeping::leave;
}

}  // namespace

bool waits_to_be_measured(const Measurement& measurement) {
  return std::any_of(measurement.checks.begin(), measurement.checks.end(),
                     [](const Check& check) { return check.id == kNotMeasuredYet; });
}

MeasurementEntry waiting_to_be_measured(const MeasurementEntry& before,
                                        const MeasureOptions& options) {
  MeasurementEntry entry;
  entry.photo_id = before.photo_id;
  entry.options = options;
  entry.options.cameras.reset();
  entry.moved_edges = before.moved_edges;
  entry.read_with = before.read_with;
  entry.measurement.view = options.view;
  entry.measurement.checks = {
      {kNotMeasuredYet, Severity::info, "This photo waits to be measured with what was entered."}};
  return entry;
}

bool same_options(const MeasureOptions& a, const MeasureOptions& b) {
  return a.view == b.view && a.sheet_scale == b.sheet_scale && a.part_offset == b.part_offset &&
         a.disc_diameter_mm == b.disc_diameter_mm;
}

MeasureOptions wanted_options(const PhotoEntry& photo, const Part& part,
                              const std::optional<Sheet>& sheet,
                              const std::optional<MeasurementEntry>& newest) {
  MeasureOptions options;
  if (newest) options = newest->options;
  options.view = photo.view;
  options.cameras.reset();
  // Nothing printed is on a photo with an ID-1 card.
  if (!options.sheet_scale.id_card) options.sheet_scale = sheet ? sheet->scale : SheetScale{};
  if (by_disc_diameter(photo.view)) options.disc_diameter_mm = part.disc_diameter_mm;
  return options;
}

MeasureOptions wanted_options(const PhotoFinding& finding, const Part& part) {
  return wanted_options(finding.photo, part, finding.sheet, finding.newest);
}

bool is_due(const PhotoFinding& finding, const Part& part) {
  if (from_planes(finding.photo.view) || (finding.lost && finding.newest)) return false;
  return due(finding.newest, wanted_options(finding, part));
}

std::vector<DuePhoto> due_together(const Record& record, const PartSummary& part,
                                   std::int64_t photo_id,
                                   const std::shared_ptr<const CameraShelf>& cameras) {
  const auto first =
      std::find_if(part.photos.begin(), part.photos.end(),
                   [&](const PhotoFinding& finding) { return finding.photo.id == photo_id; });
  std::vector<DuePhoto> together;
  if (first == part.photos.end() || from_planes(first->photo.view)) return together;
  for (const PhotoFinding& finding : part.photos) {
    const PhotoEntry& photo = finding.photo;
    const bool same_lip = photo.view == View::lip && first->photo.view == View::lip &&
                          photo.face == first->photo.face;
    if (photo.id != photo_id && (!same_lip || finding.lost)) continue;
    MeasureOptions options = wanted_options(finding, part.part);
    const bool due = is_due(finding, part.part);
    // A lost photo that was measured is not due, but what it was measured with need not be wanted.
    if (!due) options = finding.newest->options;
    options.cameras = due ? cameras : cameras_as_recorded(*finding.newest);
    DuePhoto one{{photo, record.photo_path(photo), std::move(options)}, 0, {}, due};
    if (finding.newest) {
      one.after_id = finding.newest->id;
      one.moved_edges = finding.newest->moved_edges;
    }
    together.push_back(std::move(one));
  }
  return together;
}

std::vector<PhotoToMeasure> to_measure(const std::vector<DuePhoto>& photos) {
  std::vector<PhotoToMeasure> list;
  for (const DuePhoto& photo : photos) list.push_back(photo.what);
  return list;
}

std::vector<NewMeasurement> new_measurements(const std::vector<MeasuredPhoto>& measured,
                                             const std::vector<DuePhoto>& photos) {
  std::vector<NewMeasurement> list;
  for (const MeasuredPhoto& one : measured) {
    const auto photo = std::find_if(photos.begin(), photos.end(), [&](const DuePhoto& due) {
      return due.what.photo.id == one.photo_id;
    });
    if (photo != photos.end()) list.push_back({entry_of(one, photo->moved_edges), photo->after_id});
  }
  return list;
}

std::vector<std::int64_t> keep_measurements(Record& record,
                                            const std::vector<NewMeasurement>& measured) {
  std::vector<std::int64_t> changed;
  record.as_one_change([&] {
    for (const NewMeasurement& one : measured) {
      const Keeping keeping = keeping_of(record, one);
      if (keeping == Keeping::add) record.add_measurement(one.entry);
      if (keeping == Keeping::changed_meanwhile) changed.push_back(one.entry.photo_id);
    }
  });
  return changed;
}

}  // namespace scantling
