#include "report/governing_size.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "report/wording.h"
#include "verdict/verdict.h"

namespace scantling {

namespace {

const char* judged_dimension(PartKind kind) {
  return kind == PartKind::pad ? "friction_thickness" : "worn_thickness";
}

bool significant(const Dimension& taper) {
  return std::abs(taper.quantity.value_mm) > taper.quantity.expanded_95_mm();
}

/// A place on the part with the size there; without a station it is the middle of the edge.
struct Place {
  std::optional<double> at_mm;
  Quantity quantity;
};

Quantity at_station(const Dimension& whole, const Station& station, double from_middle_mm,
                    double slope_u, double slope_dof) {
  std::vector<BudgetLine> lines = whole.quantity.budget;
  if (lines.empty())
    lines.push_back({"the size in the middle", whole.quantity.standard_uncertainty_mm,
                     whole.quantity.degrees_of_freedom, ""});
  lines.push_back({fmt::format("slope along the pad, {:.0f} mm from the middle", from_middle_mm),
                   slope_u * from_middle_mm, slope_dof, "A sharper, closer photo."});
  Quantity size = combine_independent(station.value_mm, std::move(lines));
  size.standard_uncertainty_mm =
      std::hypot(whole.quantity.standard_uncertainty_mm, slope_u * from_middle_mm);
  size.degrees_of_freedom = std::min(whole.quantity.degrees_of_freedom, slope_dof);
  return size;
}

/// The middle first. A record of an earlier version holds all that the stations need.
std::vector<Place> places_of(const Dimension& size, const Dimension* taper) {
  std::vector<Place> places{{std::nullopt, size.quantity}};
  if (!taper || size.stations.size() < 2) return places;
  const auto [first, last] = std::minmax_element(
      size.stations.begin(), size.stations.end(),
      [](const auto& a, const auto& b) { return a.position_mm < b.position_mm; });
  const double span_mm = last->position_mm - first->position_mm;
  const double middle_mm = first->position_mm + span_mm / 2;
  if (!(span_mm > 0)) return places;
  for (const Station& station : size.stations)
    places.push_back(
        {station.position_mm, at_station(size, station, std::abs(station.position_mm - middle_mm),
                                         taper->quantity.standard_uncertainty_mm / span_mm,
                                         taper->quantity.degrees_of_freedom)});
  return places;
}

/// Chance of being below the minimum; what is no number counts as certain.
double doubt(const Quantity& size, double minimum_mm) {
  const double p = probability_below(size, minimum_mm);
  return std::isnan(p) ? 1 : p;
}

const Place& place_that_counts(const std::vector<Place>& places, const Dimension* taper,
                               std::optional<double> minimum_mm) {
  if (minimum_mm) {
    const auto worst =
        std::max_element(places.begin(), places.end(), [&](const Place& a, const Place& b) {
          return doubt(a.quantity, *minimum_mm) < doubt(b.quantity, *minimum_mm);
        });
    if (!(doubt(worst->quantity, *minimum_mm) <= kKeepAtMost)) return *worst;
  }
  if (!taper || !significant(*taper)) return places.front();
  return *std::min_element(places.begin(), places.end(), [](const Place& a, const Place& b) {
    return a.quantity.value_mm < b.quantity.value_mm;
  });
}

std::string why(const Place& place, const Dimension& taper) {
  const std::string where =
      fmt::format("{}, {:.0f} mm {} of the notch's middle", size_with_95(place.quantity),
                  std::abs(*place.at_mm), *place.at_mm < 0 ? "left" : "right");
  if (significant(taper))
    return fmt::format("The pad is worn to a taper of {}, so its thinnest place counts: {}.",
                       size_with_95({std::abs(taper.quantity.value_mm),
                                     taper.quantity.standard_uncertainty_mm,
                                     taper.quantity.degrees_of_freedom,
                                     {}}),
                       where);
  return fmt::format(
      "The pad may be tapered, so the place counts that is most likely too thin: {}.", where);
}

}  // namespace

std::optional<GoverningSize> governing_size(PartKind kind, const Measurement& measurement,
                                            std::optional<double> minimum_mm,
                                            const Agreement* agreement) {
  if (!measurement.usable()) return std::nullopt;
  const Dimension* size = measurement.dimension(judged_dimension(kind));
  if (!size) return std::nullopt;
  const Dimension* taper =
      kind == PartKind::pad ? measurement.dimension("friction_taper") : nullptr;
  std::vector<Place> places = places_of(*size, taper);
  if (agreement)
    for (Place& place : places) place.quantity = corrected_by(place.quantity, *agreement);
  const Place& place = place_that_counts(places, taper, minimum_mm);
  GoverningSize governing{size->name, place.quantity, place.at_mm, {}};
  if (place.at_mm) governing.because = why(place, *taper);
  if (agreement)
    if (const std::string corrected = correction_sentence(*agreement); !corrected.empty())
      governing.because += (governing.because.empty() ? "" : " ") + corrected;
  return governing;
}

}  // namespace scantling
