#include "report/next_job.h"

#include <algorithm>

#include "record/record_error.h"

namespace scantling {

namespace {

/// The job with the parts that are on the car now.
std::int64_t add_with_parts(Record& record, const Job& before, Job next) {
  next.id = record.add_job(next);
  const WorkDone work = record.work(before.id).value_or(WorkDone{});
  for (Part part : record.parts(before.id)) {
    const auto fitted =
        std::find_if(work.parts.begin(), work.parts.end(), [&](const FittedPart& f) {
          return f.kind == part.kind && f.side == part.side &&
                 (f.kind == PartKind::disc || f.place == part.place);
        });
    if (fitted != work.parts.end() && fitted->minimum_mm) {
      part.minimum_mm = fitted->minimum_mm;
      part.minimum_origin = "the new part's, as entered when it was fitted";
    }
    part.job_id = next.id;
    record.add_part(part);
  }
  // Places that were fitted without having been measured before.
  const std::vector<Part> there = record.parts(next.id);
  for (const FittedPart& fitted : work.parts) {
    const bool known = std::any_of(there.begin(), there.end(), [&](const Part& part) {
      return fitted.kind == part.kind && fitted.side == part.side &&
             (fitted.kind == PartKind::disc || fitted.place == part.place);
    });
    if (known) continue;
    Part part;
    part.job_id = next.id;
    part.kind = fitted.kind;
    part.side = fitted.side;
    part.place = fitted.place;
    part.minimum_mm = fitted.minimum_mm;
    if (part.minimum_mm) part.minimum_origin = "the new part's, as entered when it was fitted";
    record.add_part(part);
  }
  return next.id;
}

}  // namespace

std::int64_t start_next_job(Record& record, std::int64_t after_job_id, Job next) {
  const auto before = record.job(after_job_id);
  if (!before)
    throw RecordError(
        "The job to go on from is not in the record: choose "
        "another in the list.");
  if (next.odometer_km && before->odometer_km && *next.odometer_km < *before->odometer_km)
    throw RecordError(
        "The odometer runs backwards from the job before: "
        "correct one of the two readings.");
  next.vehicle_id = before->vehicle_id;
  next.axle = before->axle;
  if (!next.sheet_id) next.sheet_id = before->sheet_id;
  record.as_one_change([&] { next.id = add_with_parts(record, *before, next); });
  return next.id;
}

}  // namespace scantling
