#include "report/wear.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>

#include "report/wording.h"

namespace scantling {

namespace {

/// The size that counts for wear: the smallest reading by hand, else the governing size.
std::optional<WearPoint> point_of(double odometer_km, const PartSummary& part) {
  const auto smallest =
      std::min_element(part.readings.begin(), part.readings.end(),
                       [](const auto& a, const auto& b) { return a.value_mm < b.value_mm; });
  if (smallest != part.readings.end())
    return WearPoint{odometer_km, smallest->value_mm, smallest->standard_uncertainty_mm};
  if (part.size)
    return WearPoint{odometer_km, part.size->quantity.value_mm,
                     part.size->quantity.standard_uncertainty_mm};
  return std::nullopt;
}

bool same_place(const Part& a, const Part& b) {
  return a.kind == b.kind && a.side == b.side && (a.kind == PartKind::disc || a.place == b.place);
}

/// Without looking at the photo files: what was measured then is all that is asked.
PartSummary as_measured(const Record& record, const Part& part) {
  std::vector<PhotoFinding> photos;
  for (const PhotoEntry& photo : record.photos(part.id))
    photos.push_back(
        {photo, record.newest_measurement(photo.id), record.confirmations(photo.id), {}, {}});
  return summarise_part(part, std::move(photos), record.hand_readings(part.id));
}

std::optional<std::chrono::sys_days> day_of(const std::string& iso_date) {
  int year = 0;
  unsigned month = 0, day = 0;
  if (std::sscanf(iso_date.c_str(), "%d-%u-%u", &year, &month, &day) != 3) return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year(year), std::chrono::month(month),
                                         std::chrono::day(day)};
  if (!date.ok()) return std::nullopt;
  return std::chrono::sys_days(date);
}

double uncertainty(const WearPoint& point) {
  return point.standard_uncertainty_mm.value_or(0);
}

std::string sentence_of(const WearOutlook& outlook) {
  const Forecast& f = outlook.forecast;
  if (!f.distance_left_km)
    return "No wear shows between the sizes so far, so there is no forecast yet.";
  std::string text =
      fmt::format("Worn {:.2f}\u00A0mm in 1\u00A0000\u00A0km so far: the minimum is about {} away",
                  f.wear_mm_per_1000_km,
                  distance_title(std::max(0.0, std::floor(*f.distance_left_km / 100) * 100)));
  if (f.distance_left_lower_95_km)
    text += fmt::format(
        ", with 95 % confidence at least {}",
        distance_title(std::max(0.0, std::floor(*f.distance_left_lower_95_km / 100) * 100)));
  text += ".";
  if (outlook.next_check_km && f.reaches_minimum_before_next_check)
    text += fmt::format(" The next check is planned at {}: check it before that.",
                        distance_title(*outlook.next_check_km));
  return text;
}

}  // namespace

std::vector<EarlierSize> earlier_sizes(const Record& record, const Job& job, const Part& part) {
  std::vector<EarlierSize> earlier;
  if (!job.odometer_km) return earlier;
  for (const Job& other : record.jobs()) {
    if (other.id == job.id || other.vehicle_id != job.vehicle_id || other.axle != job.axle ||
        !other.odometer_km || !(*other.odometer_km < *job.odometer_km))
      continue;
    for (const Part& then : record.parts(other.id))
      if (same_place(then, part))
        if (const auto point = point_of(*other.odometer_km, as_measured(record, then)))
          earlier.push_back({other.date, *point});
  }
  std::sort(earlier.begin(), earlier.end(), [](const EarlierSize& a, const EarlierSize& b) {
    return a.point.odometer_km < b.point.odometer_km;
  });
  return earlier;
}

std::optional<double> next_check_km(const Job& job, const std::vector<EarlierSize>& earlier) {
  std::optional<double> at_km = job.next_check_km;
  const auto next = day_of(job.next_check_date), today = day_of(job.date);
  if (next && today && *next > *today && job.odometer_km && !earlier.empty()) {
    const auto first = day_of(earlier.front().date);
    if (first && *first < *today) {
      const double km_per_day = (*job.odometer_km - earlier.front().point.odometer_km) /
                                static_cast<double>((*today - *first).count());
      const double by_date =
          *job.odometer_km + km_per_day * static_cast<double>((*next - *today).count());
      at_km = std::max(at_km.value_or(0), by_date);
    }
  }
  return at_km;
}

std::optional<WearOutlook> wear_outlook(const Job& job, const PartSummary& summary,
                                        const std::vector<EarlierSize>& earlier) {
  if (!job.odometer_km || !summary.part.minimum_mm || earlier.empty()) return std::nullopt;
  const auto now = point_of(*job.odometer_km, summary);
  if (!now) return std::nullopt;
  std::vector<WearPoint> points{*now};
  for (auto it = earlier.rbegin(); it != earlier.rend(); ++it) {
    const double grown_mm = points.front().size_mm - it->point.size_mm;
    if (grown_mm > 2 * std::hypot(uncertainty(points.front()), uncertainty(it->point))) break;
    points.insert(points.begin(), it->point);
  }
  if (points.size() < 2) return std::nullopt;
  WearOutlook outlook;
  outlook.sizes = points.size();
  outlook.next_check_km = next_check_km(job, earlier);
  ForecastOptions options;
  options.now_km = job.odometer_km;
  options.next_check_km = outlook.next_check_km;
  if (options.next_check_km && *options.next_check_km < *job.odometer_km)
    options.next_check_km.reset();
  outlook.forecast = forecast_wear(points, *summary.part.minimum_mm, options);
  if (!outlook.forecast.fitted) return std::nullopt;
  outlook.sentence = sentence_of(outlook);
  return outlook;
}

}  // namespace scantling
