#pragma once

#include <string>

#include "dimension/measurement.h"

namespace scantling {

/// A measurement as a person reads it: the sizes, where their uncertainty comes from, what would
/// make it smaller. Numbers in the C locale. The checks are left to the caller.
std::string measure_table(const std::string& photo_name, const Measurement& measurement);

}  // namespace scantling
