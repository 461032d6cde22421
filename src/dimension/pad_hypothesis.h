#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "edges/line_candidates.h"
#include "edges/surface_rows.h"

namespace scantling {

/// What the search for a pad's edges knows beside the candidate lines. `across` grows from the
/// plate's outer face to the friction material.
struct PadSearch {
  const LaneProfiles* lanes = nullptr;
  const SurfaceRows* rows = nullptr;
  std::vector<LineCandidate> lines;  ///< ascending at `along_middle_mm`
  double along_middle_mm = 0;
  double camera_across_mm = 0;              ///< the camera's centre, measured across the part
  double camera_distance_mm = 1;            ///< and in front of the part's plane
  double prior = 0;                         ///< log-odds of this way of lying, added to every score
  std::optional<double> plate_rests_at_mm;  ///< the table, where the plate may rest on it
  std::optional<double> friction_rests_at_mm;  ///< the table, where the friction face may

  double at(int line) const { return lines[static_cast<std::size_t>(line)].at(along_middle_mm); }
  /// Tangent of the camera's elevation over a plane at `across`: positive when the plane is seen
  /// from the friction material's side.
  double elevation(double across_mm) const {
    return (camera_across_mm - across_mm) / camera_distance_mm;
  }
  /// Where a line at depth `depth_mm` on the plane `across_mm` appears on the part's own plane.
  double seen_at(double across_mm, double depth_mm) const {
    return across_mm + (camera_across_mm - across_mm) * depth_mm / (depth_mm + camera_distance_mm);
  }
};

/// An outer edge of the pad: where its front face ends, where the outer plane begins, and the outer
/// plane's far end. Indexes into PadSearch::lines; -1 where a line is not seen.
struct OuterLines {
  int chamfer = -1;
  int edge = -1;
  int far = -1;
  double score = 0;
};

/// The interface: where the plate's front face ends, where its inner plane begins, and where the
/// friction material rises from it behind the ledge.
struct InterfaceLines {
  int chamfer = -1;
  int top = -1;
  int base = -1;
  double score = 0;

  /// The line that gives the interface: the friction material's foot stands as far back as its
  /// face, so an unknown ledge moves both alike and cancels in the thickness.
  int line() const { return base; }
};

struct PadHypothesis {
  OuterLines plate;
  InterfaceLines interface;
  OuterLines friction;
  double score = 0;
};

struct PadHypotheses {
  std::optional<PadHypothesis> best;
  std::vector<PadHypothesis> others;  ///< that differ in an edge's line, best first
};

/// Scores every reading of the candidate lines as a pad and returns the likeliest.
PadHypotheses search_pad(const PadSearch& search);

}  // namespace scantling
