#include "dimension/pad_sizes.h"

#include <algorithm>
#include <cmath>

#include "dimension/size_budget.h"

namespace scantling {
namespace {

std::vector<double> station_places(const PartReading& reading) {
  double first = -1e9, last = 1e9;
  for (const PlacedEdge& edge : reading.edges) {
    first = std::max(first, edge.along_first_mm);
    last = std::min(last, edge.along_last_mm);
  }
  std::vector<double> places;
  if (last - first < 12) {
    const double middle = (first + last) / 2, half = std::max(1.0, (last - first) * 0.4);
    return {middle - half, middle, middle + half};
  }
  first = std::max(first + 1, -20.0);
  last = std::min(last - 1, 20.0);
  for (int i = 0; i <= 4; ++i) places.push_back(first + (last - first) * i / 4.0);
  return places;
}

}  // namespace

std::vector<Dimension> pad_sizes(const PlaneScene& scene, const PartReading& reading,
                                 const MeasureOptions& options) {
  const SizeBudget budget(scene, reading, options, 20);
  const std::vector<double> places = station_places(reading);
  const double middle = places[places.size() / 2];

  // A pad that was read upside down may have been put right by hand, edge by edge.
  const double sense =
      budget.nominal().thickness(PartReading::plate_outer, PartReading::friction_outer, middle) < 0
          ? -1
          : 1;
  const auto thickness = [sense](const SizeModel& m, std::size_t from, std::size_t to,
                                 double along) { return sense * m.thickness(from, to, along); };

  std::vector<Dimension> dimensions;
  const auto add = [&](const char* name, std::size_t from, std::size_t to) {
    Dimension d;
    d.name = name;
    const auto size = [=](const SizeModel& m) { return thickness(m, from, to, middle); };
    const auto placing = [middle](const PlacedEdge& e) {
      return std::hypot(e.placing_u_mm, e.slope_u * (middle - e.middle_mm));
    };
    d.quantity = budget.quantity(size, std::array{from, to}, placing);
    d.chain = budget.chain(size, std::array{from, to}, placing);
    d.confidence = std::min(reading.edges[from].confidence, reading.edges[to].confidence);
    for (const double place : places)
      d.stations.push_back({place, thickness(budget.nominal(), from, to, place)});
    dimensions.push_back(std::move(d));
  };
  add("overall_thickness", PartReading::plate_outer, PartReading::friction_outer);
  add("plate_thickness", PartReading::plate_outer, PartReading::plate_friction);
  add("friction_thickness", PartReading::plate_friction, PartReading::friction_outer);

  Dimension taper;
  taper.name = "friction_taper";
  const double first = places.front(), last = places.back();
  const auto size = [=](const SizeModel& m) {
    return thickness(m, PartReading::plate_friction, PartReading::friction_outer, last) -
           thickness(m, PartReading::plate_friction, PartReading::friction_outer, first);
  };
  const std::array<std::size_t, 2> used{PartReading::plate_friction, PartReading::friction_outer};
  const auto placing = [=](const PlacedEdge& e) { return e.slope_u * (last - first); };
  taper.quantity = budget.quantity(size, used, placing);
  // What counts as the edge is alike at both ends: most of it cancels in the difference.
  constexpr double kLeftInDifference = 0.5;
  std::vector<BudgetLine> lines = taper.quantity.budget;
  for (BudgetLine& line : lines)
    if (line.source.starts_with("what counts")) line = scaled_line(line, kLeftInDifference);
  taper.quantity = combine_independent(taper.quantity.value_mm, std::move(lines));
  taper.chain = budget.chain(size, used, placing, {}, kLeftInDifference);
  taper.confidence = dimensions.back().confidence;
  taper.stations = {{first, dimensions.back().stations.front().value_mm},
                    {last, dimensions.back().stations.back().value_mm}};
  dimensions.push_back(std::move(taper));
  return dimensions;
}

}  // namespace scantling
