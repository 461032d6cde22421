#pragma once

#include <optional>
#include <vector>

#include "dimension/rim_evidence.h"
#include "dimension/rim_view.h"

namespace scantling {

/// One face's edge on the rim. Indexes into RimView::lines; -1 where a line is not seen.
struct FaceLines {
  int inner = -1;  ///< where the rim's cylinder ends and its chamfer or rounding begins
  int edge = -1;   ///< where the face's plane begins
  int lip = -1;    ///< where the lip ends towards the worn track; seen only from that face's side
  double score = 0;
};

struct RimHypothesis {
  FaceLines low;  ///< at smaller across
  FaceLines high;
  double score = 0;
  /// How surely a strong line crosses the rim between its faces, 0 to 1: the rim may end there, and
  /// what lies beyond be its shadow or the bell.
  double crossed = 0;
};

struct RimHypotheses {
  std::optional<RimHypothesis> best;
  std::vector<RimHypothesis> others;  ///< that differ in a face's line, best first
};

/// Scores every reading of the candidate lines as a rim and returns the likeliest. What lies
/// between the faces (vent mouths, ribs, rust bands, a casting seam) may be anything but a lone
/// line as strong as theirs; what lies beyond them may not run with the rim; and the rim goes on
/// behind the card and comes out at its ends.
RimHypotheses search_rim(const RimView& view, const RimEvidence& evidence);

}  // namespace scantling
