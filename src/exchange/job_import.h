#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "exchange/exchange_error.h"
#include "record/record.h"

namespace scantling {

/// Where the file and the record say different things of one thing.
struct ImportConflict {
  std::string what;    ///< "the vehicle's owner"
  std::string mine;    ///< in the record
  std::string theirs;  ///< in the file
};

enum class ImportChoice {
  none,    ///< only without conflicts
  mine,    ///< what the record says stays; a job that is there already is not
           ///< taken in
  theirs,  ///< what the file says counts; a job that is there already is hidden
           ///< in its favour
  both     ///< everything beside what is there, the vehicle too
};

/// A job that somebody handed on, read and checked whole before anything is
/// changed.
class JobImport {
 public:
  /// @throws ExchangeError for a file that is no such zip, is damaged, hostile
  /// or of a newer program; the sentence says what is wrong with it.
  explicit JobImport(const std::filesystem::path& zip);
  ~JobImport();
  JobImport(JobImport&&) noexcept;

  /// Where it contradicts the record. @throws RecordError.
  std::vector<ImportConflict> conflicts(const Record& record) const;

  /// Takes the job in, all of it or nothing; returns its id, or that of the job
  /// that is there already and stays. @throws ExchangeError with conflicts and
  /// no choice, RecordError.
  std::int64_t into(Record& record, ImportChoice choice) const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace scantling
