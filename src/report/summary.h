#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "record/record.h"
#include "report/part_summary.h"

namespace scantling {

/// A job with all that is known of its parts. Window, commands and report show this and work
/// nothing out themselves.
struct JobSummary {
  Job job;
  Vehicle vehicle;
  std::optional<Sheet> sheet;  ///< the job's
  std::vector<PartSummary> parts;
  std::vector<std::string> axle_notes;  ///< what the parts say together, see `axle_notes`
};

/// Nothing where the record has no such job. @throws RecordError.
std::optional<JobSummary> summarise_job(const Record& record, std::int64_t job_id);

/// One part with its photos, their newest measurements, confirmations and readings.
PartSummary summarise_part(const Record& record, const Part& part);

}  // namespace scantling
