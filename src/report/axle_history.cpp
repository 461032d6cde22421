#include "report/axle_history.h"

#include <algorithm>

#include "report/summary.h"

namespace scantling {

namespace {

constexpr std::size_t kMostJobs = 40;

std::size_t place_of(PartKind kind, Side side, PadPlace place) {
  const std::size_t column = kind == PartKind::disc ? 1 : place == PadPlace::outer ? 0 : 2;
  return (side == Side::left ? 0 : 3) + column;
}

HistoryJob history_of(const Record& record, const Job& job, const AgreementBook& agreements) {
  HistoryJob found;
  found.job = job;
  for (const Part& part : record.parts(job.id)) {
    const PartSummary summary = summarise_part_alone(record, part, agreements);
    HistorySize& size = found.sizes[axle_place(part)];
    size.size = settled_size(summary);
    size.by_hand = !summary.readings.empty();
    size.state = summary.state;
  }
  if (const auto work = record.work(job.id)) {
    found.closed = true;
    for (const FittedPart& fitted : work->parts)
      found.sizes[place_of(fitted.kind, fitted.side, fitted.place)].fitted_new = true;
  }
  return found;
}

}  // namespace

std::size_t axle_place(const Part& part) {
  return place_of(part.kind, part.side, part.place);
}

Part part_at(std::size_t axle_place) {
  Part part;
  part.side = axle_place < 3 ? Side::left : Side::right;
  part.kind = axle_place % 3 == 1 ? PartKind::disc : PartKind::pad;
  part.place = axle_place % 3 == 2 ? PadPlace::inner : PadPlace::outer;
  return part;
}

std::vector<HistoryJob> axle_history(const Record& record, const Job& job,
                                     const AgreementBook& agreements) {
  std::vector<Job> jobs = record.jobs_of_axle(job.vehicle_id, job.axle);
  if (jobs.size() > kMostJobs)
    jobs.erase(jobs.begin(), jobs.end() - static_cast<std::ptrdiff_t>(kMostJobs));
  std::vector<HistoryJob> history;
  std::optional<double> farthest_km;
  for (const Job& one : jobs) {
    history.push_back(history_of(record, one, agreements));
    history.back().open = one.id == job.id;
    if (!one.odometer_km) continue;
    history.back().odometer_backwards = farthest_km && *one.odometer_km < *farthest_km;
    farthest_km = std::max(farthest_km.value_or(0), *one.odometer_km);
  }
  std::reverse(history.begin(), history.end());
  return history;
}

}  // namespace scantling
