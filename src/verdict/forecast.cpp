#include "verdict/forecast.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "uncertainty/coverage.h"
#include "uncertainty/quantity.h"
#include "verdict/instrument.h"
#include "verdict/size_text.h"

namespace scantling {

namespace {

// Half a step of 0.01 mm as a rectangle: what scatter cannot get below in readings to 0.01 mm.
constexpr double kLeastUncertainty_mm = 0.01 / 3.4641016151377544;

double uncertainty_of(const WearPoint& point, double unstated) {
  return point.standard_uncertainty_mm.value_or(unstated);
}

void stop(std::vector<Check>& checks, const char* id, std::string message) {
  checks.push_back({id, Severity::stop, std::move(message)});
}

bool is_size(double value) {
  return std::isfinite(value) && value >= 0;
}

void check_numbers(std::span<const WearPoint> points, double minimum_mm,
                   const ForecastOptions& options, std::vector<Check>& checks) {
  if (!is_size(minimum_mm) || minimum_mm == 0)
    stop(checks, "minimum_unusable",
         "The minimum must be a size above 0 mm: enter the figure that the maker gives.");
  for (const WearPoint& point : points)
    if (!is_size(point.odometer_km) || !is_size(point.size_mm) ||
        !is_size(uncertainty_of(point, 0))) {
      stop(checks, "size_unusable",
           "An odometer reading, size or uncertainty is negative or no number: correct it or leave "
           "that point out.");
      break;
    }
  if (!is_size(options.now_km.value_or(0)) || !is_size(options.next_check_km.value_or(0)) ||
      !is_size(options.common_standard_uncertainty_mm))
    stop(checks, "size_unusable",
         "The odometer now, at the next check, or the common uncertainty is no usable number.");
  if (points.size() < 2)
    stop(checks, "too_few_sizes",
         "Wear needs the same part's size at two odometer readings or more: add an earlier size, "
         "or the thickness when new.");
}

void check_order(std::span<const WearPoint> points, const ForecastOptions& options,
                 std::vector<Check>& checks) {
  for (std::size_t i = 1; i < points.size(); ++i) {
    const WearPoint& before = points[i - 1];
    const WearPoint& after = points[i];
    if (after.odometer_km < before.odometer_km) {
      stop(checks, "odometer_backwards",
           fmt::format("The odometer runs backwards from {:.0f} to {:.0f} km: put the sizes in the "
                       "order they were measured, or correct the reading.",
                       before.odometer_km, after.odometer_km));
      return;
    }
    // Sizes without an uncertainty are taken for a calliper's.
    const double joint_95 = coverage_factor(0.95, kUnlimitedDegreesOfFreedom) *
                            std::hypot(uncertainty_of(before, kUnnamedInstrumentUncertainty_mm),
                                       uncertainty_of(after, kUnnamedInstrumentUncertainty_mm));
    if (after.size_mm - before.size_mm > joint_95)
      stop(checks, "part_grew",
           fmt::format(
               "The part grew from {} to {} between {:.0f} and {:.0f} km, more than its "
               "uncertainty: one size is wrong, or the part was changed. Forecast each part "
               "from its own sizes.",
               size_text(before.size_mm, after.size_mm), size_text(after.size_mm, before.size_mm),
               before.odometer_km, after.odometer_km));
  }
  if (points.front().odometer_km == points.back().odometer_km)
    stop(checks, "no_distance",
         "All sizes are from the same odometer reading: measure again after some distance.");
  if (options.now_km && *options.now_km < points.back().odometer_km)
    stop(
        checks, "odometer_backwards",
        fmt::format("The odometer now, {:.0f} km, is behind the last size's {:.0f} km: correct one "
                    "of them.",
                    *options.now_km, points.back().odometer_km));
}

/// Size against odometer with the half-width of its 95 % interval.
struct WearLine {
  double intercept = 0;
  double slope = 0;  ///< mm per km, negative where the part gets thinner
  double slope_uncertainty = 0;
  double degrees_of_freedom = kUnlimitedDegreesOfFreedom;
  std::function<double(double)> half_95;

  double at(double km) const { return intercept + slope * km; }
  ForetoldSize foretold(double km) const {
    const double half = half_95(km);
    return {km, at(km), {at(km) - half, at(km) + half}};
  }
};

/// Least-squares weights: the size at `km` is sum_i w_i(km) size_i.
std::function<double(double)> propagated(std::span<const WearPoint> points, double unstated_mm) {
  double mean_km = 0;
  for (const WearPoint& point : points)
    mean_km += point.odometer_km / static_cast<double>(points.size());
  double sxx = 0;
  for (const WearPoint& point : points)
    sxx += (point.odometer_km - mean_km) * (point.odometer_km - mean_km);
  return [copy = std::vector<WearPoint>(points.begin(), points.end()), mean_km, sxx,
          unstated_mm](double km) {
    double variance = 0;
    for (const WearPoint& point : copy) {
      const double weight = 1 / static_cast<double>(copy.size()) +
                            (km - mean_km) * (point.odometer_km - mean_km) / sxx;
      variance += std::pow(weight * uncertainty_of(point, unstated_mm), 2);
    }
    return std::sqrt(variance);
  };
}

WearLine line_through_two(std::span<const WearPoint> points, double common_mm) {
  const WearPoint& a = points[0];
  const WearPoint& b = points[1];
  const double distance = b.odometer_km - a.odometer_km;
  WearLine line;
  line.slope = (b.size_mm - a.size_mm) / distance;
  line.intercept = a.size_mm - line.slope * a.odometer_km;
  line.slope_uncertainty = std::hypot(uncertainty_of(a, kUnnamedInstrumentUncertainty_mm),
                                      uncertainty_of(b, kUnnamedInstrumentUncertainty_mm)) /
                           distance;
  const double k = coverage_factor(0.95, kUnlimitedDegreesOfFreedom);
  line.half_95 = [k, common_mm, u = propagated(points, kUnnamedInstrumentUncertainty_mm)](
                     double km) { return k * std::hypot(u(km), common_mm); };
  return line;
}

WearLine line_by_regression(std::span<const WearPoint> points, double common_mm) {
  std::vector<double> km;
  std::vector<double> mm;
  for (const WearPoint& point : points) {
    km.push_back(point.odometer_km);
    mm.push_back(point.size_mm);
  }
  const LineFit fit = fit_line(km, mm);
  WearLine line;
  line.intercept = fit.intercept;
  line.slope = fit.slope;
  line.degrees_of_freedom = fit.degrees_of_freedom;
  const auto stated = propagated(points, kLeastUncertainty_mm);
  // The slope's own propagated part, by the same weights: (w(km + 1) - w(km)) is constant in km.
  double from_stated = 0;
  for (const WearPoint& point : points)
    from_stated += std::pow(
        (point.odometer_km - fit.mean_x) / fit.sxx * uncertainty_of(point, kLeastUncertainty_mm),
        2);
  line.slope_uncertainty = std::max(fit.slope_uncertainty, std::sqrt(from_stated));
  const double t = coverage_factor(0.95, fit.degrees_of_freedom);
  const double k = coverage_factor(0.95, kUnlimitedDegreesOfFreedom);
  line.half_95 = [=](double at_km) {
    const double scatter = t * fit.observation_uncertainty_at(at_km);
    return std::hypot(std::max(scatter, k * stated(at_km)), k * common_mm);
  };
  return line;
}

/// Distance from `now_km` to where the lower end of the interval meets the minimum. The lower end
/// is concave in the distance, so once it lies above the minimum there is one crossing ahead.
std::optional<double> lower_bound(const WearLine& line, double now_km, double minimum_mm) {
  const auto above = [&](double left) {
    return line.foretold(now_km + left).interval_95.low > minimum_mm;
  };
  if (!above(0)) return 0;
  if (above(Forecast::kFarthest_km)) return std::nullopt;
  double safe = 0;
  double reached = Forecast::kFarthest_km;
  while (reached - safe > 0.01) {
    const double middle = (safe + reached) / 2;
    (above(middle) ? safe : reached) = middle;
  }
  return safe;
}

/// How far the drawing reaches: past now and the next check, and to the minimum
/// where that lies within three times the distance seen so far.
double drawn_until(const Forecast& forecast, std::span<const WearPoint> points, double now_km,
                   std::optional<double> next_check_km) {
  const double first_km = points.front().odometer_km;
  double until = std::max(now_km, next_check_km.value_or(0));
  const double seen = std::max(1.0, until - first_km);
  if (forecast.distance_left_km && *forecast.distance_left_km < 3 * seen)
    until = std::max(until, now_km + *forecast.distance_left_km);
  return until + 0.05 * (until - first_km);
}

}  // namespace

Forecast forecast_wear(std::span<const WearPoint> points, double minimum_mm,
                       const ForecastOptions& options) {
  Forecast forecast;
  check_numbers(points, minimum_mm, options, forecast.checks);
  if (any_stop(forecast.checks)) return forecast;
  check_order(points, options, forecast.checks);
  if (any_stop(forecast.checks)) return forecast;

  const WearLine line = points.size() == 2
                            ? line_through_two(points, options.common_standard_uncertainty_mm)
                            : line_by_regression(points, options.common_standard_uncertainty_mm);
  const double now_km = options.now_km.value_or(points.back().odometer_km);
  forecast.degrees_of_freedom = line.degrees_of_freedom;
  forecast.wear_mm_per_1000_km = -1000 * line.slope;
  forecast.wear_standard_uncertainty = 1000 * line.slope_uncertainty;
  const double k = coverage_factor(0.95, line.degrees_of_freedom);
  if (line.slope > k * line.slope_uncertainty) {
    stop(forecast.checks, "part_grew",
         "Over all its sizes the part grows by more than their scatter: one of them is wrong, or "
         "the part was changed.");
    return forecast;
  }
  forecast.fitted = true;
  forecast.now = line.foretold(now_km);
  if (line.slope < 0)
    forecast.distance_left_km = std::max(0.0, (forecast.now.size_mm - minimum_mm) / -line.slope);
  forecast.distance_left_lower_95_km = lower_bound(line, now_km, minimum_mm);

  constexpr int kPieces = 48;
  const double first_km = points.front().odometer_km;
  const double until_km = drawn_until(forecast, points, now_km, options.next_check_km);
  for (int i = 0; i <= kPieces; ++i)
    forecast.curve.push_back(line.foretold(first_km + (until_km - first_km) * i / kPieces));

  if (-line.slope <= k * line.slope_uncertainty)
    forecast.checks.push_back({"wear_not_clear", Severity::info,
                               "The wear does not stand out from the uncertainty of the sizes yet: "
                               "measure again after more distance."});
  const bool some_unstated = std::any_of(points.begin(), points.end(), [](const WearPoint& point) {
    return !point.standard_uncertainty_mm;
  });
  if (points.size() == 2 && some_unstated)
    forecast.checks.push_back(
        {"uncertainty_assumed", Severity::info,
         fmt::format("Sizes without an uncertainty are taken for a calliper's, {}.",
                     size_text(kUnnamedInstrumentUncertainty_mm))});
  if (options.next_check_km) {
    if (*options.next_check_km <= now_km) {
      forecast.checks.push_back(
          {"next_check_passed", Severity::warn,
           "The next planned check lies behind the odometer: plan a new one."});
      forecast.reaches_minimum_before_next_check = forecast.now.interval_95.low <= minimum_mm;
    } else {
      forecast.at_next_check = line.foretold(*options.next_check_km);
      forecast.reaches_minimum_before_next_check =
          forecast.distance_left_lower_95_km &&
          now_km + *forecast.distance_left_lower_95_km < *options.next_check_km;
    }
  }
  return forecast;
}

}  // namespace scantling
