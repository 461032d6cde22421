// The part of Session that takes what is entered: a part's figures, and what photos are measured
// with.
#include <algorithm>

#include "app/session.h"

namespace scantling {

namespace {

std::vector<std::int64_t> photos_by_edges(const PartSummary& part) {
  std::vector<std::int64_t> ids;
  for (const PhotoFinding& finding : part.photos)
    if (!from_planes(finding.photo.view)) ids.push_back(finding.photo.id);
  return ids;
}

}  // namespace

void Session::set_minimum(const PartAddress& of, std::optional<double> minimum_mm,
                          const std::string& origin) {
  const std::int64_t id = part_id(of);
  const Part before = record_->part(id).value();
  if (before.minimum_mm == minimum_mm && before.minimum_origin == origin) return;
  Part after = before;
  after.minimum_mm = minimum_mm;
  after.minimum_origin = minimum_mm ? origin : std::string();
  perform(edit_part(minimum_mm ? "set the minimum" : "clear the minimum", focus_of(of, id), before,
                    after));
}

void Session::add_reading(const PartAddress& of, HandReadingEntry reading) {
  reading.part_id = part_id(of);
  if (reading.read_at.empty()) reading.read_at = utc_now();
  const EditFocus on = focus_of(of, reading.part_id);
  perform(edit_add_reading(on, std::move(reading)));
}

void Session::remove_reading(const HandReadingEntry& reading) {
  perform(edit_remove_reading(focus(), reading));
}

void Session::set_disc_diameter(const PartAddress& of, std::optional<double> diameter_mm) {
  const std::int64_t id = part_id(of);
  const Part before = record_->part(id).value();
  if (before.disc_diameter_mm == diameter_mm) return;
  Part after = before;
  after.disc_diameter_mm = diameter_mm;
  const EditFocus on = focus_of(of, id);
  perform(edit_with_measurements(
      edit_part(diameter_mm ? "set the disc's diameter" : "clear the disc's diameter", on, before,
                after),
      photos_by_edges(summarise_part_alone(*record_, before))));
}

void Session::set_sheet(const std::optional<Sheet>& sheet) {
  if (!job_) return;
  const std::optional<std::int64_t> before = job_->job.sheet_id;
  if (sheet ? before == sheet->id : !before) return;
  std::vector<std::int64_t> photos;
  for (const PartSummary& part : job_->parts)
    for (const std::int64_t id : photos_by_edges(part)) photos.push_back(id);
  perform(
      edit_with_measurements(edit_sheet(sheet ? "set the print scale" : "take the print scale back",
                                        focus(), job_->job, sheet),
                             std::move(photos)));
}

void Session::set_photo_options(const std::string& name, std::int64_t photo_id,
                                const MeasureOptions& options) {
  const auto before = record_->newest_measurement(photo_id);
  const auto photo = record_->photo(photo_id);
  if (!before || !photo || same_options(before->options, options)) return;
  const MeasurementEntry waiting = waiting_to_be_measured(*before, options);
  EditFocus on = focus();
  on.part_id = photo->part_id;
  on.photo_id = photo_id;
  perform(edit_with_measurements(
      {name, on, [waiting](Record& record) { record.add_measurement(waiting); }, [](Record&) {}},
      {photo_id}));
}

}  // namespace scantling
