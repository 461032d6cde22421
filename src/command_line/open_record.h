#pragma once

#include <CLI/App.hpp>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "record/record.h"
#include "report/summary.h"

namespace scantling {

/// Where a command finds the record: `--record FILE` after or before the command's name, else the
/// user's own.
struct RecordChoice {
  std::string file;           ///< as given after the command's name
  const CLI::App* program{};  ///< knows the one given before it

  bool given() const;
  std::filesystem::path path() const;
};

/// Adds `--record FILE` to a command.
std::shared_ptr<RecordChoice> add_record_option(CLI::App& program, CLI::App& command);

/// Opens an existing record and works on it. Where there is none, or it cannot be used, a sentence
/// goes to standard error (with `json` also `{"checks": [...]}` to standard output) and the status
/// says that the input is unusable. A missing record is never made by reading it.
int with_existing_record(const RecordChoice& choice, bool json,
                         const std::function<int(Record&)>& work);

/// The job's summary. Where there is none, a sentence goes to standard error.
std::optional<JobSummary> summary_or_complaint(const Record& record, std::int64_t job);

/// Prints a failure as one check, the way all commands do.
int report_unusable(const std::string& id, const std::string& message, bool json);

}  // namespace scantling
