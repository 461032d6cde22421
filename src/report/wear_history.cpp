#include "report/wear_history.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/summary.h"
#include "report/wording.h"

namespace scantling {

namespace {

/// Enough for a line; keeps the reading of a long record short.
constexpr std::size_t kMostJobs = 12;

bool same_place(const Part& a, const Part& b) {
  return a.kind == b.kind && a.side == b.side && (a.kind == PartKind::disc || a.place == b.place);
}

bool fitted_here(const FittedPart& fitted, const Part& part) {
  return fitted.kind == part.kind && fitted.side == part.side &&
         (part.kind == PartKind::disc || fitted.place == part.place);
}

struct Point {
  WearPoint point;
  std::string label;
  std::int64_t job_id = 0;
};

/// Degrees of freedom of what is left of a size without its shared part: what Welch and
/// Satterthwaite put together is taken apart.
double own_degrees_of_freedom(const Quantity& size, const SharedError& shared) {
  const auto fourth = [](double u) { return u * u * u * u; };
  const double u = size.standard_uncertainty_mm, s = shared.standard_uncertainty_mm;
  const double own = std::sqrt(std::max(0.0, u * u - s * s));
  const double rest = fourth(u) / known_degrees_of_freedom(size.degrees_of_freedom) -
                      fourth(s) / known_degrees_of_freedom(shared.degrees_of_freedom);
  return rest > 0 ? std::max(1.0, fourth(own) / rest) : kUnlimitedDegreesOfFreedom;
}

std::optional<Point> point_of(const Job& job, const PartSummary& summary) {
  const std::optional<Quantity> size = settled_size(summary);
  if (!size || !job.odometer_km) return std::nullopt;
  const SharedError shared = shared_error(summary);
  WearPoint point{*job.odometer_km, size->value_mm, size->standard_uncertainty_mm};
  point.shared_mm = shared.standard_uncertainty_mm;
  point.shared_with = shared.with;
  point.shared_degrees_of_freedom = shared.degrees_of_freedom;
  point.degrees_of_freedom = own_degrees_of_freedom(*size, shared);
  return Point{std::move(point), date_title(job.date), job.id};
}

void add_fitted(const Record& record, const Job& job, const Part& part,
                std::vector<Point>& points) {
  const auto work = record.work(job.id);
  if (!work) return;
  for (const FittedPart& fitted : work->parts) {
    if (!fitted_here(fitted, part)) continue;
    points.clear();
    const std::optional<double> km = work->odometer_km ? work->odometer_km : job.odometer_km;
    if (!fitted.new_size_mm || !km) continue;
    Point& point = points.emplace_back();
    point.point.odometer_km = *km;
    point.point.size_mm = *fitted.new_size_mm;
    point.point.standard_uncertainty_mm = fitted.standard_uncertainty_mm;
    point.label = "fitted new, " + date_title(work->date);
    point.job_id = job.id;
  }
}

}  // namespace

WearHistory wear_history(const Record& record, const Job& job, const PartSummary& now,
                         const AgreementBook& agreements) {
  WearHistory history;
  history.next_check_km = job.next_check_km;
  history.next_check_date = job.next_check_date;
  std::vector<Point> points;
  std::vector<Job> earlier = record.jobs_of_axle(job.vehicle_id, job.axle);
  const auto self = std::find_if(earlier.begin(), earlier.end(),
                                 [&](const Job& other) { return other.id == job.id; });
  earlier.erase(self, earlier.end());
  if (earlier.size() > kMostJobs)
    earlier.erase(earlier.begin(), earlier.end() - static_cast<std::ptrdiff_t>(kMostJobs));
  for (const Job& other : earlier) {
    for (const Part& part : record.parts(other.id)) {
      if (!same_place(part, now.part)) continue;
      const PartSummary then = summarise_part_alone(record, part, agreements);
      if (const auto point = point_of(other, then))
        points.push_back(*point);
      else if (settled_size(then))
        history.left_out.push_back(
            fmt::format("The size of {} has no odometer reading, so the "
                        "forecast leaves it out.",
                        date_title(other.date)));
    }
    add_fitted(record, other, now.part, points);
    // A check planned in an earlier job stands until a later one plans anew.
    if (!job.next_check_km && other.next_check_km) history.next_check_km = other.next_check_km;
    if (job.next_check_date.empty() && !other.next_check_date.empty())
      history.next_check_date = other.next_check_date;
  }
  // A check that this job is, or that has passed, is none to come.
  if (!job.next_check_km && history.next_check_km && job.odometer_km &&
      *history.next_check_km <= *job.odometer_km)
    history.next_check_km.reset();
  if (const auto point = point_of(job, now)) points.push_back(*point);
  for (const Point& p : points) {
    history.points.push_back(p.point);
    history.labels.push_back(p.label);
    history.job_ids.push_back(p.job_id);
  }
  return history;
}

std::optional<Forecast> forecast_of(const WearHistory& history, const Job& job,
                                    std::optional<double> minimum_mm) {
  if (!minimum_mm || history.points.size() < 2) return std::nullopt;
  ForecastOptions options;
  if (job.odometer_km) options.now_km = job.odometer_km;
  options.next_check_km = history.next_check_km;
  return forecast_wear(history.points, *minimum_mm, options);
}

}  // namespace scantling
