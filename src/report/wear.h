#pragma once

#include <optional>
#include <string>
#include <vector>

#include "record/record.h"
#include "report/part_summary.h"
#include "verdict/forecast.h"

namespace scantling {

/// One place of an axle at an earlier job: its size then, a reading by hand before a photo.
struct EarlierSize {
  std::string date;
  WearPoint point;
};

/// The earlier jobs' sizes of the part that sits where `part` sits, oldest first, this job's own
/// left out. Only jobs with an odometer reading count. @throws RecordError.
std::vector<EarlierSize> earlier_sizes(const Record& record, const Job& job, const Part& part);

/// Where the next planned check lies on the odometer: as entered, or from its date at the rate at
/// which the car was driven since the earliest size; the farther one where both are known.
std::optional<double> next_check_km(const Job& job, const std::vector<EarlierSize>& earlier);

/// Forecasts a part's wear from its earlier sizes and today's. Sizes from before a new part was
/// fitted (it grew by more than the joint uncertainty) are left out. Nothing with fewer than two
/// sizes, without a minimum, or without an odometer reading.
std::optional<WearOutlook> wear_outlook(const Job& job, const PartSummary& summary,
                                        const std::vector<EarlierSize>& earlier);

}  // namespace scantling
