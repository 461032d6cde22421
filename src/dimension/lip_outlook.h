#pragma once

#include <optional>
#include <span>
#include <string>

#include "dimension/measurement.h"

namespace scantling {

/// By how much the next photo of a lip should be taken from higher up, or from lower down.
inline constexpr double kOtherHeight_deg = 20;

/// From which elevation one more photo would gain most: higher up or lower down than those there
/// are, by kOtherHeight_deg, as far as the card is read there.
double better_elevation_deg(std::span<const Measurement> photos);
/// "once more, from about 20 degrees lower down".
std::string another_height_words(std::span<const Measurement> photos);

/// A lip's height with one more photo from there, before it is taken: what each photo says
/// follows from its elevation, so the joint solution is known but for the reading itself. Nothing
/// where none of the photos gives a height.
std::optional<Measurement> lip_with_another_photo(std::span<const Measurement> photos);
/// The same from a given elevation of the camera.
std::optional<Measurement> lip_with_another_photo(std::span<const Measurement> photos,
                                                  double elevation_deg);

}  // namespace scantling
