#pragma once

#include <nlohmann/json_fwd.hpp>

#include "report/summary.h"

namespace scantling {

/// A job as `scantling jobs --json` prints it: sizes, minimums and states, without edges.
nlohmann::ordered_json summary_to_json(const JobSummary& summary);
nlohmann::ordered_json part_to_json(const PartSummary& summary, Axle axle);

}  // namespace scantling
