#include "app/shown_size.h"

#include <fmt/format.h>

#include <cmath>

#include "report/wording.h"

namespace scantling {

std::optional<ShownSize> shown_size(const GoverningSize* size, const Measurement& measurement,
                                    const std::vector<EdgeConfirmation>& confirmations) {
  if (size) return ShownSize{size->quantity, size_with_95(size->quantity)};
  if (!unconfirmed_edges(measurement, confirmations).empty()) return std::nullopt;
  if (const Dimension* rim = measurement.dimension("rim_thickness"))
    return ShownSize{rim->quantity, size_with_95(rim->quantity) + " over the lips"};
  if (const Dimension* lip = measurement.dimension("lip_height"))
    return ShownSize{lip->quantity, "lip " + size_with_95(lip->quantity)};
  return std::nullopt;
}

std::string difference_words(const Quantity& here, const Quantity& other) {
  const double difference_mm = here.value_mm - other.value_mm;
  const double expanded_mm = std::hypot(here.expanded_95_mm(), other.expanded_95_mm());
  if (std::abs(difference_mm) <= expanded_mm)
    return fmt::format(
        "The two sizes agree: they differ by {:.2f} mm, their joint uncertainty "
        "(95 %) is {:.2f} mm.",
        std::abs(difference_mm), expanded_mm);
  return fmt::format("{:.2f} ± {:.2f} mm {} than in the other photo.", std::abs(difference_mm),
                     expanded_mm, difference_mm < 0 ? "less" : "more");
}

}  // namespace scantling
