#include "report/wear_plot.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/page_flow.h"
#include "report/state_look.h"
#include "report/wording.h"
#include "uncertainty/coverage.h"

namespace scantling {

namespace {

constexpr double kLeft_mm = 12, kBottom_mm = 9, kTop_mm = 3, kRight_mm = 3;

/// The plot's own coordinates on a page.
struct Axes {
  PageBox area;
  const WearPlot& plot;
  FigureStyle style;

  double x(double km) const {
    return area.x + area.width * (km - plot.first_km) / (plot.last_km - plot.first_km);
  }
  double y(double mm) const {
    return area.bottom() - area.height * (mm - plot.low_mm) / (plot.high_mm - plot.low_mm);
  }
};

void draw_axes(Page& page, const Axes& axes) {
  const WearPlot& plot = axes.plot;
  const Stroke thin{0.1, grey(0.75), {}};
  for (const auto& [mm, label] : plot.size_marks(axes.style)) {
    page.line({axes.area.x, axes.y(mm)}, {axes.area.right(), axes.y(mm)}, thin);
    page.text({axes.area.x - 1.2, axes.y(mm) - 1.3}, label, aligned(kLabelText, Align::right));
  }
  for (const auto& [km, label] : plot.distance_marks(axes.style)) {
    page.line({axes.x(km), axes.area.y}, {axes.x(km), axes.area.bottom()}, thin);
    page.text({axes.x(km), axes.area.bottom() + 0.8}, label, aligned(kLabelText, Align::centre));
  }
  page.box(axes.area, {0.2, grey(0.4), {}});
  page.text({axes.area.x - kLeft_mm, axes.area.y - 2.8}, unit_word(axes.style.length), kLabelText);
  page.text({axes.area.right(), axes.area.bottom() + 4},
            fmt::format("1 000 {} on the odometer", distance_word(axes.style.distance)),
            aligned(kLabelText, Align::right));
}

void draw_upright(Page& page, const Axes& axes, double km, const char* word, const Stroke& stroke) {
  page.line({axes.x(km), axes.area.y}, {axes.x(km), axes.area.bottom()}, stroke);
  page.text({axes.x(km) - 0.6, axes.area.y + 0.5}, word, aligned(kLabelText, Align::right));
}

}  // namespace

std::vector<double> WearPlot::marks(double low, double high, int count) {
  std::vector<double> places;
  if (!(high > low)) return places;
  const double rough = (high - low) / count;
  const double power = std::pow(10, std::floor(std::log10(rough)));
  double step = 10 * power;
  for (const double factor : {1.0, 2.0, 5.0})
    if (factor * power >= rough) {
      step = factor * power;
      break;
    }
  for (double i = std::ceil(low / step); i * step <= high; ++i) places.push_back(i * step);
  return places;
}

std::vector<std::pair<double, std::string>> WearPlot::size_marks(const FigureStyle& style) const {
  const double mm = style.length == LengthUnit::inch ? 25.4 : 1;
  std::vector<std::pair<double, std::string>> list;
  for (const double place : marks(low_mm / mm, high_mm / mm, 5))
    list.emplace_back(place * mm, in_style(fmt::format("{:.6g}", place), style));
  return list;
}

std::vector<std::pair<double, std::string>> WearPlot::distance_marks(
    const FigureStyle& style) const {
  const double per_km = distance_in(1, style.distance);
  std::vector<std::pair<double, std::string>> list;
  for (const double place : marks(first_km * per_km, last_km * per_km, 6))
    list.emplace_back(place / per_km, in_style(fmt::format("{:.6g}", place / 1000), style));
  return list;
}

namespace {

/// The measured points, and what the axes must hold of them and of the minimum.
WearPlot points_of(const PartSummary& part) {
  WearPlot plot;
  const double k = coverage_factor(0.95, kUnlimitedDegreesOfFreedom);
  plot.minimum_mm = part.part.minimum_mm;
  plot.low_mm = plot.high_mm = plot.minimum_mm.value_or(part.wear.points.front().size_mm);
  plot.first_km = plot.last_km = part.wear.points.front().odometer_km;
  for (std::size_t i = 0; i < part.wear.points.size(); ++i) {
    const WearPoint& p = part.wear.points[i];
    const double u = p.standard_uncertainty_mm.value_or(0);
    plot.points.push_back(
        {p.odometer_km, p.size_mm, k * u, part.wear.labels[i], part.wear.job_ids[i]});
    plot.low_mm = std::min(plot.low_mm, p.size_mm - k * u);
    plot.high_mm = std::max(plot.high_mm, p.size_mm + k * u);
    plot.first_km = std::min(plot.first_km, p.odometer_km);
    plot.last_km = std::max(plot.last_km, p.odometer_km);
  }
  plot.now_km = part.wear.points.back().odometer_km;
  plot.next_check_km = part.wear.next_check_km;
  return plot;
}

void leave_margins(WearPlot& plot) {
  const double span = std::max(0.5, plot.high_mm - plot.low_mm);
  plot.low_mm = std::max(0.0, plot.low_mm - 0.15 * span);
  plot.high_mm += 0.1 * span;
  plot.first_km = std::max(0.0, plot.first_km - 0.03 * (plot.last_km - plot.first_km));
}

}  // namespace

std::optional<WearPlot> wear_plot(const PartSummary& part) {
  if (!part.forecast || !part.forecast->fitted || !part.part.minimum_mm) return std::nullopt;
  WearPlot plot = points_of(part);
  plot.curve = part.forecast->curve;
  plot.now_km = part.forecast->now.odometer_km;
  plot.first_km = plot.curve.front().odometer_km;
  plot.last_km = plot.curve.back().odometer_km;
  leave_margins(plot);
  return plot;
}

std::optional<WearPlot> wear_points(const PartSummary& part) {
  if (part.wear.points.empty()) return std::nullopt;
  WearPlot plot = points_of(part);
  const double least = 0.1 * std::max(5000.0, plot.last_km);
  if (plot.last_km - plot.first_km < least) {
    plot.first_km = std::max(0.0, plot.first_km - least / 2);
    plot.last_km += least / 2;
  }
  plot.last_km += 0.05 * (plot.last_km - plot.first_km);
  leave_margins(plot);
  return plot;
}

std::vector<std::string> no_wear_line(const PartSummary& part) {
  if (part.forecast && part.forecast->fitted) return {};
  std::vector<std::string> sentences;
  if (part.forecast)
    for (const Check& check : part.forecast->checks) sentences.push_back(check.message);
  else if (part.wear.points.empty())
    sentences.push_back(
        "No size of this part stands with an odometer reading yet. Measure it, and enter the "
        "odometer reading with the job.");
  else if (part.wear.points.size() == 1)
    sentences.push_back(
        "One size with an odometer reading so far. The wear shows from the second job on; enter "
        "the new part's size with the work done, and it counts as the first.");
  else if (!part.part.minimum_mm)
    sentences.push_back("Enter the part's minimum: the forecast runs until there.");
  sentences.insert(sentences.end(), part.wear.left_out.begin(), part.wear.left_out.end());
  return sentences;
}

std::vector<std::string> wear_sentences(const PartSummary& part) {
  std::vector<std::string> sentences;
  if (!part.forecast || !part.forecast->fitted) return sentences;
  const Forecast& f = *part.forecast;
  sentences.push_back(
      fmt::format("From {} sizes it wears {:.3f} mm per 1 000 km ({:.3f} mm per 1 000 "
                  "miles), standard "
                  "uncertainty {:.3f} mm.",
                  part.wear.points.size(), f.wear_mm_per_1000_km,
                  f.wear_mm_per_1000_km * kKilometresInMile, f.wear_standard_uncertainty));
  if (f.distance_left_km)
    sentences.push_back(fmt::format("About {} left until {}.",
                                    distance_with_miles(std::floor(*f.distance_left_km)),
                                    minimum_number(*part.part.minimum_mm)));
  if (f.distance_left_lower_95_km)
    sentences.push_back(fmt::format("It may be as little as {}: go by this.",
                                    distance_with_miles(std::floor(*f.distance_left_lower_95_km))));
  if (f.at_next_check)
    sentences.push_back(
        fmt::format("At the next planned check, at {}: {:.2f} mm, with 95 % confidence "
                    "between {:.2f} and "
                    "{:.2f} mm.",
                    distance_title(f.at_next_check->odometer_km), f.at_next_check->size_mm,
                    f.at_next_check->interval_95.low, f.at_next_check->interval_95.high));
  return sentences;
}

void draw_wear_plot(Page& page, const PageBox& box, const WearPlot& plot,
                    const FigureStyle& style) {
  const Axes axes{{box.x + kLeft_mm, box.y + kTop_mm, box.width - kLeft_mm - kRight_mm,
                   box.height - kTop_mm - kBottom_mm},
                  plot,
                  style};
  page.clipped(axes.area, [&] {
    std::vector<PagePoint> band, line;
    for (const ForetoldSize& f : plot.curve) {
      band.push_back({axes.x(f.odometer_km), axes.y(f.interval_95.high)});
      line.push_back({axes.x(f.odometer_km), axes.y(f.size_mm)});
    }
    for (auto f = plot.curve.rbegin(); f != plot.curve.rend(); ++f)
      band.push_back({axes.x(f->odometer_km), axes.y(f->interval_95.low)});
    page.fill_polygon(band, {0.84, 0.91, 0.97});
    page.hatch(band, 1.6, {0.08, kSky, {}});
    page.polyline(line, {0.35, kBlue, {}});
    if (plot.minimum_mm)
      page.line({axes.area.x, axes.y(*plot.minimum_mm)},
                {axes.area.right(), axes.y(*plot.minimum_mm)}, {0.6, kVermillion, {2.2, 1.1}});
  });
  draw_axes(page, axes);
  if (plot.minimum_mm)
    page.text({axes.area.x + 1, axes.y(*plot.minimum_mm) + 0.4},
              in_style("minimum " + minimum_number(*plot.minimum_mm), style), kLabelText);
  draw_upright(page, axes, plot.now_km, "now", {0.25, kInk, {0.8, 0.8}});
  if (plot.next_check_km && *plot.next_check_km <= plot.last_km)
    draw_upright(page, axes, *plot.next_check_km, "next check", {0.25, kInk, {2, 0.8}});
  for (const WearPlot::Point& p : plot.points) {
    const double x = axes.x(p.km);
    page.line({x, axes.y(p.mm - p.half_95_mm)}, {x, axes.y(p.mm + p.half_95_mm)}, {0.3, kInk, {}});
    for (const double end : {p.mm - p.half_95_mm, p.mm + p.half_95_mm})
      page.line({x - 0.9, axes.y(end)}, {x + 0.9, axes.y(end)}, {0.3, kInk, {}});
    page.fill_circle({x, axes.y(p.mm)}, 0.9, kInk);
  }
}

}  // namespace scantling
