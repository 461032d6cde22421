#include "report/summary.h"

#include "report/axle_notes.h"
#include "report/wear.h"

namespace scantling {

namespace {

bool same(const SheetScale& a, const SheetScale& b) {
  return a.x == b.x && a.y == b.y && a.standard_uncertainty == b.standard_uncertainty &&
         a.checked == b.checked;
}

void note_photo_troubles(const Record& record, PartSummary& summary) {
  for (const PhotoFinding& finding : summary.photos) {
    const std::string& name = finding.photo.original_name;
    if (!record.photo_intact(finding.photo))
      summary.cautions.push_back({"photo_lost", Severity::warn,
                                  "The stored photo " + name +
                                      " is missing or was altered; what was measured on it stays. "
                                      "Add the photo again to put it back."});
    const auto sheet = record.sheet_for(finding.photo);
    if (sheet && finding.newest && !same(sheet->scale, finding.newest->options.sheet_scale))
      summary.cautions.push_back({"scale_changed", Severity::warn,
                                  "The sheet's scale was changed after " + name +
                                      " was measured: measure this photo again."});
  }
}

}  // namespace

namespace {

/// Sets today's size in line with the earlier jobs' and judges again where that changes the state.
PartSummary with_outlook(const Record& record, const Job& job, PartSummary summary) {
  auto outlook = wear_outlook(job, summary, earlier_sizes(record, job, summary.part));
  if (!outlook) return summary;
  if (outlook->forecast.reaches_minimum_before_next_check) {
    std::vector<Check> troubles;
    for (const Check& check : summary.cautions)
      if (check.id == "photo_lost" || check.id == "scale_changed") troubles.push_back(check);
    summary =
        summarise_part(summary.part, std::move(summary.photos), std::move(summary.readings), true);
    summary.cautions.insert(summary.cautions.end(), troubles.begin(), troubles.end());
  }
  summary.outlook = std::move(outlook);
  return summary;
}

}  // namespace

PartSummary summarise_part(const Record& record, const Part& part) {
  std::vector<PhotoFinding> photos;
  for (const PhotoEntry& photo : record.photos(part.id))
    photos.push_back(
        {photo, record.newest_measurement(photo.id), record.confirmations(photo.id), {}, {}});
  PartSummary summary = summarise_part(part, std::move(photos), record.hand_readings(part.id));
  note_photo_troubles(record, summary);
  return summary;
}

std::optional<JobSummary> summarise_job(const Record& record, std::int64_t job_id) {
  const auto job = record.job(job_id);
  if (!job) return std::nullopt;
  JobSummary summary{*job, record.vehicle(job->vehicle_id).value_or(Vehicle{}), {}, {}, {}};
  if (job->sheet_id) summary.sheet = record.sheet(*job->sheet_id);
  for (const Part& part : record.parts(job_id))
    summary.parts.push_back(with_outlook(record, *job, summarise_part(record, part)));
  summary.axle_notes = axle_notes(summary.parts, job->axle);
  return summary;
}

}  // namespace scantling
