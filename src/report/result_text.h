#pragma once

#include <string>

#include "report/summary.h"

namespace scantling {

/// One part's result as plain text, to be pasted elsewhere: car, job, part, size with its interval,
/// minimum, verdict and why, readings, wear; in mm and km. The triage sentence stands last.
std::string result_text(const JobSummary& job, const PartSummary& part);

}  // namespace scantling
