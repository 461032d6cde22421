#pragma once

#include <array>

namespace scantling {

/// How many markers the dictionary holds: ids 0 to 249.
inline constexpr int kMarkerCount = 250;

/// The inner 4 x 4 cells of a marker, row by row from the top left; true is white. A black border
/// one cell wide surrounds them, so a marker is 6 x 6 cells.
using MarkerBits = std::array<std::array<bool, 4>, 4>;

/// The pattern of `id` in ArUco's 4x4 dictionary of 250, as shipped with OpenCV.
/// @throws std::out_of_range when the dictionary has no such id.
MarkerBits marker_bits(int id);

}  // namespace scantling
