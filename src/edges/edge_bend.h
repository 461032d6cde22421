#pragma once

#include <optional>

#include "edges/edge_fit.h"

namespace scantling {

/// How far a fitted edge bends away from its line: across gains `bend_per_mm` times the square of
/// the distance along from the middle.
struct EdgeBend {
  double bend_per_mm = 0;
  double standard_uncertainty = 0;  ///< of it, from the blocks' scatter about the parabola
};

/// A parabola through the edge's blocks by least squares; blocks more than a millimetre off the
/// line are something else. Nothing where fewer than five are left.
std::optional<EdgeBend> edge_bend(const EdgeFit& edge);

}  // namespace scantling
