#pragma once

#include <cstdint>

#include "record/record.h"

namespace scantling {

/// Starts the next job of a job's axle: same vehicle, axle and sheet, the same
/// places to measure, each with the minimum of the part that is on the car now,
/// be it the old one or one fitted when the job was closed. `next` brings date,
/// odometer reading and note; returns its id.
/// @throws RecordError where the job is not in the record, or `next` makes no
/// sense.
std::int64_t start_next_job(Record& record, std::int64_t after_job_id, Job next);

}  // namespace scantling
