#pragma once

#include <iosfwd>
#include <vector>

#include "accuracy/corpus_trial.h"

namespace scantling::accuracy {

/// One table for each view: how many were found, errors in mm and px, coverage, interval, time; as
/// found, those that need no look, and with every edge placed by a careful user. Then the worst.
void print_corpus_report(std::ostream& out, const std::vector<CorpusTrial>& trials, int worst);

}  // namespace scantling::accuracy
