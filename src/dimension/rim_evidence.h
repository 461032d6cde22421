#pragma once

#include <vector>

#include "dimension/place_edge.h"
#include "dimension/plane_scene.h"
#include "dimension/rim_view.h"

namespace scantling {

/// What speaks for a line being an edge of the rim beside its looks in the notch.
struct RimEvidence {
  /// The notch's lines, each: how far it bends away from an edge of a cylinder of this diameter, in
  /// its standard uncertainties. The bell's foot, a shadow's border or the table bend.
  std::vector<double> bent;
  /// Where the rim comes out from behind the card at either end, as far as the photo shows it: the
  /// lines there, in the notch's own frame, along and across, at the strip's middle.
  struct Strip {
    std::vector<LineCandidate> lines;
    double middle_mm = 0;
  };
  std::vector<Strip> beyond_card;
};

/// Gathers it for the lines of one way that the rim may lie. `fits`: of the same lines, each fitted
/// at most once. Lines that could not be fitted count as straight; a strip that lies outside the
/// photo, or shows nothing, is left out.
RimEvidence rim_evidence(const PlaneScene& scene, const RimView& view,
                         const MeasureOptions& options, LineFits& fits);

}  // namespace scantling
