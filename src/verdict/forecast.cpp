#include "verdict/forecast.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
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

double shared_of(const WearPoint& point) {
  return point.shared_with.empty() ? 0 : point.shared_mm;
}

/// What is left of a size's uncertainty without the part that it shares.
double own_of(const WearPoint& point, double unstated) {
  const double u = uncertainty_of(point, unstated), shared = shared_of(point);
  return std::sqrt(std::max(0.0, u * u - shared * shared));
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
        !is_size(uncertainty_of(point, 0)) || !is_size(point.shared_mm)) {
      stop(checks, "size_unusable",
           "An odometer reading, size or uncertainty is negative or no number: correct it or leave "
           "that point out.");
      break;
    }
  if (!is_size(options.now_km.value_or(0)) || !is_size(options.next_check_km.value_or(0)))
    stop(checks, "size_unusable", "The odometer now or at the next check is no usable number.");
  if (points.size() < 2)
    stop(checks, "too_few_sizes",
         "Wear needs the same part's size at two odometer readings or more: add an earlier size, "
         "or the thickness when new.");
}

/// A weighted sum of the points' sizes, by what moves it: their own errors, independent of each
/// other, and one error for each group of points that share theirs.
struct Spread {
  std::vector<BudgetLine> own;
  std::vector<BudgetLine> shared;

  static double of(const std::vector<BudgetLine>& lines) {
    return combine_independent(0, lines).standard_uncertainty_mm;
  }
  Quantity together() const {
    std::vector<BudgetLine> all = own;
    all.insert(all.end(), shared.begin(), shared.end());
    return combine_independent(0, std::move(all));
  }
};

/// Within a group what the points share adds up with its sign, between groups and points in squares
/// (JCGM 100 5.2.2 with r = 1 within a group and 0 beyond it).
Spread spread_of(std::span<const WearPoint> points, std::span<const double> weights,
                 double unstated_mm) {
  Spread spread;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const WearPoint& point = points[i];
    spread.own.push_back(
        {"", std::abs(weights[i]) * own_of(point, unstated_mm), point.degrees_of_freedom, ""});
    if (shared_of(point) == 0) continue;
    auto group = std::find_if(spread.shared.begin(), spread.shared.end(),
                              [&](const BudgetLine& g) { return g.source == point.shared_with; });
    if (group == spread.shared.end())
      group = spread.shared.insert(group, {point.shared_with, 0, kUnlimitedDegreesOfFreedom, ""});
    group->standard_uncertainty_mm += weights[i] * shared_of(point);
    group->degrees_of_freedom = std::min(group->degrees_of_freedom,
                                         known_degrees_of_freedom(point.shared_degrees_of_freedom));
  }
  for (BudgetLine& group : spread.shared)
    group.standard_uncertainty_mm = std::abs(group.standard_uncertainty_mm);
  return spread;
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
    const double joint_95 =
        spread_of(points.subspan(i - 1, 2), std::array{-1.0, 1.0}, kUnnamedInstrumentUncertainty_mm)
            .together()
            .expanded_95_mm();
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

/// The straight line by least squares as sums over the points' sizes.
class Weights {
 public:
  explicit Weights(std::span<const WearPoint> points) : points_(points) {
    for (const WearPoint& point : points)
      mean_km_ += point.odometer_km / static_cast<double>(points.size());
    for (const WearPoint& point : points)
      sxx_ += (point.odometer_km - mean_km_) * (point.odometer_km - mean_km_);
  }
  /// The size at `km` is sum_i w_i size_i.
  std::vector<double> of_size_at(double km) const {
    std::vector<double> weights;
    for (const double slope : of_slope())
      weights.push_back(1 / static_cast<double>(points_.size()) + (km - mean_km_) * slope);
    return weights;
  }
  std::vector<double> of_slope() const {
    std::vector<double> weights;
    for (const WearPoint& point : points_) weights.push_back((point.odometer_km - mean_km_) / sxx_);
    return weights;
  }

 private:
  std::span<const WearPoint> points_;
  double mean_km_ = 0;
  double sxx_ = 0;
};

/// The uncertainties that the sizes state, carried to any place of the line.
class StatedSpread {
 public:
  StatedSpread(std::span<const WearPoint> points, double unstated_mm)
      : points_(points.begin(), points.end()), unstated_mm_(unstated_mm) {}

  Spread of_size_at(double km) const {
    return spread_of(points_, Weights(points_).of_size_at(km), unstated_mm_);
  }
  Quantity of_slope() const {
    return spread_of(points_, Weights(points_).of_slope(), unstated_mm_).together();
  }
  /// The fewest at the points themselves and far along the line. One factor for the whole line
  /// keeps its lower end concave.
  double fewest_degrees_of_freedom() const {
    double fewest = of_slope().degrees_of_freedom;
    for (const WearPoint& point : points_)
      fewest = std::min(fewest, of_size_at(point.odometer_km).together().degrees_of_freedom);
    return fewest;
  }

 private:
  std::vector<WearPoint> points_;
  double unstated_mm_;
};

WearLine line_through_two(std::span<const WearPoint> points) {
  const WearPoint& a = points[0];
  const WearPoint& b = points[1];
  const StatedSpread stated(points, kUnnamedInstrumentUncertainty_mm);
  WearLine line;
  line.slope = (b.size_mm - a.size_mm) / (b.odometer_km - a.odometer_km);
  line.intercept = a.size_mm - line.slope * a.odometer_km;
  line.slope_uncertainty = stated.of_slope().standard_uncertainty_mm;
  line.degrees_of_freedom = stated.fewest_degrees_of_freedom();
  const double k = coverage_factor(0.95, line.degrees_of_freedom);
  line.half_95 = [=](double km) {
    return k * stated.of_size_at(km).together().standard_uncertainty_mm;
  };
  return line;
}

WearLine line_by_regression(std::span<const WearPoint> points) {
  std::vector<double> km;
  std::vector<double> mm;
  for (const WearPoint& point : points) {
    km.push_back(point.odometer_km);
    mm.push_back(point.size_mm);
  }
  const LineFit fit = fit_line(km, mm);
  const StatedSpread stated(points, kLeastUncertainty_mm);
  WearLine line;
  line.intercept = fit.intercept;
  line.slope = fit.slope;
  line.degrees_of_freedom = fit.degrees_of_freedom;
  line.slope_uncertainty =
      std::max(fit.slope_uncertainty, stated.of_slope().standard_uncertainty_mm);
  const double t = coverage_factor(0.95, fit.degrees_of_freedom);
  const double k = coverage_factor(0.95, stated.fewest_degrees_of_freedom());
  // The scatter about the line shows the sizes' own errors, not what moves them together.
  line.half_95 = [=](double at_km) {
    const Spread spread = stated.of_size_at(at_km);
    const double own =
        std::max(t * fit.observation_uncertainty_at(at_km), k * Spread::of(spread.own));
    return std::hypot(own, k * Spread::of(spread.shared));
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

  const WearLine line = points.size() == 2 ? line_through_two(points) : line_by_regression(points);
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
