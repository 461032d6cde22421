#pragma once

#include <filesystem>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>

#include "exchange/exchange_error.h"
#include "record/record.h"

namespace scantling {

/// The JSON Schema of job.json, assets/exchange/job.schema.json, as it is built
/// in.
std::string_view job_schema_text();

/// A job with all that belongs to it, as job.json holds it. @throws
/// RecordError.
nlohmann::ordered_json job_to_json(const Record& record, std::int64_t job_id);

/// Writes a job as one zip file: job.json, job.schema.json, photos/SHA256,
/// report.pdf and report.html. @throws RecordError, ExchangeError; what was
/// there under that name stays then.
void export_job(const Record& record, std::int64_t job_id, const std::filesystem::path& zip);

}  // namespace scantling
