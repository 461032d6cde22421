#pragma once

#include <optional>

#include "record/record.h"
#include "report/part_summary.h"
#include "uncertainty/size_chain.h"

namespace scantling {

/// The part's governing size drawn by Monte Carlo (JCGM 101) beside its first-order interval. A
/// pad's photo, or a disc's rim and lips, are measured again from the record, which keeps sizes and
/// budgets but no models. A size that is corrected, from planes, or of a tapered pad's thinnest
/// place is drawn as the sum of its budget's lines. Takes seconds. Nothing without a size.
/// @throws RecordError where a photo is missing or was altered.
std::optional<ChainCheck> draw_size(const Record& record, const PartSummary& summary);

}  // namespace scantling
