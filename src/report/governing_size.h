#pragma once

#include <optional>
#include <string>

#include "dimension/measurement.h"
#include "record/record.h"
#include "verdict/agreement.h"

namespace scantling {

/// The one size of a photo that is set against the part's minimum.
struct GoverningSize {
  std::string dimension;  ///< its name, such as "friction_thickness"
  Quantity quantity;
  std::optional<double> at_mm;  ///< the station it was taken at; nothing: the whole edge
  std::string because;          ///< a sentence where it is not the plain dimension; else empty
};

/// The size that counts: a disc's worn thickness; a pad's friction material where the chance of
/// being below the minimum is largest, if anywhere that chance is more than "keep" allows, whether
/// the taper is significant or not. Else, and without a minimum, the thinnest station where the
/// taper is more than its own 95 % uncertainty, and the middle of the edge where not. A rim alone
/// hides the worn track, so it is no governing size of a disc. Nothing where the photo gives no
/// such size.
///
/// A station's uncertainty is the middle's with the slope's times the distance from the middle; its
/// degrees of freedom are the fewer of both, so that a larger uncertainty never makes it surer.
/// `agreement`: corrects every place before they are compared.
std::optional<GoverningSize> governing_size(PartKind kind, const Measurement& measurement,
                                            std::optional<double> minimum_mm = {},
                                            const Agreement* agreement = nullptr);

}  // namespace scantling
