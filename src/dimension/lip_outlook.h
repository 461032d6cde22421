#pragma once

#include <optional>
#include <span>

#include "dimension/measurement.h"

namespace scantling {

/// By how much the next photo of a lip should be taken from higher up, or from lower down.
inline constexpr double kOtherHeight_deg = 20;

/// A lip's height with one more photo from another height, before it is taken: what each photo says
/// follows from its elevation, so the joint solution is known but for the reading itself. Nothing
/// where none of the photos gives a height.
std::optional<Measurement> lip_with_another_photo(std::span<const Measurement> photos);

}  // namespace scantling
