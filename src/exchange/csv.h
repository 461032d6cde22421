#pragma once

#include <string>

#include "record/record.h"

namespace scantling {

/// All sizes in the record as CSV (RFC 4180, UTF-8, a point as decimal mark):
/// one line a dimension of each photo's newest measurement, and one a reading
/// by hand. @throws RecordError.
std::string dimensions_csv(const Record& record);

/// A field, quoted where it must be; one that a spreadsheet would run as a
/// formula gets an apostrophe in front.
std::string csv_field(const std::string& text);

}  // namespace scantling
