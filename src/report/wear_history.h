#pragma once

#include "report/agreement_book.h"
#include "report/part_summary.h"

namespace scantling {

/// The sizes of this part's place in earlier jobs of the same axle, this job's
/// last. A part fitted new in an earlier job begins the history afresh, with
/// its new size where it is known. `now` is the part's own summary; earlier photos are corrected by
/// `agreements` as its own were. @throws RecordError.
WearHistory wear_history(const Record& record, const Job& job, const PartSummary& now,
                         const AgreementBook& agreements);

/// Wear and distance left; nothing with fewer than two sizes or without a
/// minimum.
std::optional<Forecast> forecast_of(const WearHistory& history, const Job& job,
                                    std::optional<double> minimum_mm);

}  // namespace scantling
