#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "record/record.h"
#include "report/agreement_book.h"
#include "report/axle_notes.h"
#include "report/part_summary.h"

namespace scantling {

/// A job with all that is known of its parts. Window, commands and report show this and work
/// nothing out themselves.
struct JobSummary {
  Job job;
  Vehicle vehicle;
  std::optional<Sheet> sheet;  ///< the job's
  std::vector<PartSummary> parts;
  AxleTogether axle;                  ///< what the parts say together
  std::optional<WorkDone> work = {};  ///< where the job was closed
};

/// Nothing where the record has no such job. @throws RecordError. `agreements`
/// may be worked out once for many jobs; without it they are worked out here.
std::optional<JobSummary> summarise_job(const Record& record, std::int64_t job_id);
std::optional<JobSummary> summarise_job(const Record& record, std::int64_t job_id,
                                        const AgreementBook& agreements);

/// One part with its photos, their newest measurements, confirmations and
/// readings, and with the wear of its place through the earlier jobs.
PartSummary summarise_part(const Record& record, const Part& part);
PartSummary summarise_part(const Record& record, const Part& part, const AgreementBook& agreements);

/// The same without the wear through other jobs; without `agreements` also uncorrected.
PartSummary summarise_part_alone(const Record& record, const Part& part,
                                 const AgreementBook& agreements = {});

/// The part of a size from photos that the sheet's print scale makes: one error for all photos
/// taken with it, whether of a pad's edges, a disc's rim and lips or the cards' planes. None where
/// a reading by hand stands for the part, or where the size's own card of bank-card size served.
struct SharedError {
  double standard_uncertainty_mm = 0;
  double degrees_of_freedom = kUnlimitedDegreesOfFreedom;
  std::string with;  ///< names the sheet; empty: nothing shared
};
SharedError shared_error(const PartSummary& summary);

/// Puts each part's verdict on record where it differs from the newest there.
void keep_verdicts(Record& record, const JobSummary& summary);

}  // namespace scantling
