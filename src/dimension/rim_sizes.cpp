#include "dimension/rim_sizes.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "dimension/better_input.h"
#include "dimension/rim_view.h"
#include "dimension/size_budget.h"

namespace scantling {

std::vector<Dimension> rim_sizes(const PlaneScene& scene, const PartReading& reading,
                                 const MeasureOptions& options) {
  const PlacedEdge& a = reading.edges[PartReading::face_a];
  const PlacedEdge& b = reading.edges[PartReading::face_b];
  const double first = std::max(a.along_first_mm, b.along_first_mm);
  const double last = std::max(first + 2, std::min(a.along_last_mm, b.along_last_mm));
  const double middle = (first + last) / 2, half = (last - first) / 2;
  // Held on the photo where a parabola has its mean, so that an unknown curve counts as it does
  // for the whole line.
  const SizeBudget budget(scene, reading, options, std::max(2.0, half / std::sqrt(3.0)));
  // Which face is which does not matter: a hand may have put each on the other's line.
  const auto thickness = [](const SizeModel& m, double along) {
    return std::abs(m.thickness(PartReading::face_a, PartReading::face_b, along));
  };
  const auto size = [=](const SizeModel& m) { return thickness(m, middle); };
  std::vector<BudgetLine> more;
  const double radius_u = options.disc_diameter_mm ? kKnownRadius_u_mm : kUsualRimRadius_u_mm;
  const double radius =
      budget.sensitivity(size, 5, [](SizeModel& m, double d) { m.frame.rim_radius_mm += d; });
  more.push_back(
      {options.disc_diameter_mm ? "curve of the rim" : "curve of the rim, diameter unknown",
       std::abs(radius) * radius_u, kUnlimitedDegreesOfFreedom,
       options.disc_diameter_mm ? "" : "Enter the disc's diameter."});
  if (!options.disc_diameter_mm)
    more.back().remedy = {kKnownDiameter, std::abs(radius) * kKnownRadius_u_mm};
  // Where along the rim the card touches it is known to a few millimetres only.
  const double touch = budget.sensitivity(size, 2, [](SizeModel& m, double d) {
    m.frame.origin.x += d * m.frame.along_x;
    m.frame.origin.y += d * m.frame.along_y;
  });
  more.push_back({"where the card touches the rim", std::abs(touch) * 5, kUnlimitedDegreesOfFreedom,
                  "Centre the notch on the rim."});

  Dimension d;
  d.name = "rim_thickness";
  const std::array used{std::size_t{PartReading::face_a}, std::size_t{PartReading::face_b}};
  const auto placing = [middle](const PlacedEdge& e) {
    return std::hypot(e.placing_u_mm, e.slope_u * (middle - e.middle_mm));
  };
  d.chain = budget.chain(size, used, placing, more);
  d.quantity = budget.quantity(size, used, placing, std::move(more));
  d.confidence = std::min(a.confidence, b.confidence);
  for (int i = 0; i <= 4; ++i) {
    const double place = middle + half * 0.9 * (i - 2) / 2.0;
    d.stations.push_back({place, thickness(budget.nominal(), place)});
  }
  return {d};
}

}  // namespace scantling
