#pragma once

#include <optional>
#include <string>

#include "report/part_summary.h"

namespace scantling {

/// The size that a photo gives by itself: a pad's friction material, or a rim or lip, which are
/// only parts of a disc's worn thickness. Nothing while an edge of it wants a look.
struct ShownSize {
  Quantity quantity;
  std::string words;  ///< "6.20 ± 0.26 mm", "24.67 ± 0.51 mm over the lips"
};
/// `size`: the photo's governing size; null where it has none.
std::optional<ShownSize> shown_size(const GoverningSize* size, const Measurement& measurement,
                                    const std::vector<EdgeConfirmation>& confirmations);

/// How two photos' sizes differ, `other` taken from `here`: "1.25 ± 0.45 mm less than in the other
/// photo", or that they agree within their joint 95 % uncertainty.
std::string difference_words(const Quantity& here, const Quantity& other);

}  // namespace scantling
