#pragma once

#include <span>
#include <vector>

#include "edges/lane_profiles.h"
#include "edges/line_candidates.h"
#include "geometry/robust_line.h"

namespace scantling {

/// An edge fitted to sub-pixel: its place in short blocks along the part and the line through them.
struct EdgeFit {
  bool valid = false;
  RobustLine line;                ///< across_mm against along_mm
  std::vector<double> along_mm;   ///< the blocks' middles
  std::vector<double> across_mm;  ///< where each block has the edge
  double blur_px = 0;             ///< median sigma of the blur, in samples (photo pixels)
  double contrast = 0;            ///< step height over the noise of a block
  double step_light = 0;          ///< median signed step, linear light
  double residual_px = 0;
  bool alone = false;  ///< its neighbours could not be fitted along, and were kept out instead

  double at(double along) const { return line.at(along); }
};

struct EdgeFitOptions {
  double block_mm = 3.2;
  double reach_px = 9;  ///< half-width of the window about the line
  double blur_start_px = 1.0;
  double least_blur_px = 0.35;
  double most_blur_px = 4.0;
};

/// Fits the line `wanted`, together with those of `neighbours` that lie within the window: two
/// edges nearer than a few blurs pull at each other unless they are fitted as one model. Where that
/// model does not settle, the wanted line is fitted alone in a window that ends before its
/// neighbours.
EdgeFit fit_edge(const LaneProfiles& lanes, const LineCandidate& wanted,
                 std::span<const LineCandidate> neighbours, const EdgeFitOptions& options = {});

/// A broken edge (chamfer or rounding) narrower than the blur shows as one line that is wider than
/// the lens makes it: two steps of the same sign. Their places, in samples from the fitted line.
struct SplitEdge {
  bool split = false;
  double low = 0;   ///< the step at smaller across
  double high = 0;  ///< the step at greater across
};

/// Fits the line as two steps under the lens's own blur, on the mean of all lanes. Not split where
/// one step explains the light as well, or where they lie more than `widest` samples apart (a
/// chamfer's steps farther apart than about 2.4 blurs are seen as two lines by themselves; a
/// rounded edge may fade over more).
SplitEdge split_edge(const LaneProfiles& lanes, const LineCandidate& fitted,
                     std::span<const LineCandidate> neighbours, double lens_blur, double widest);

/// Where, going from the line towards `side` (+1: growing across), the light turns back after the
/// line's own rise or fall: the dark corner behind a lit edge. Samples from the line; 0 where it
/// does not turn within `reach` samples.
double turn_beyond(const LaneProfiles& lanes, const LineCandidate& fitted, int side, int reach);

/// How far beyond the line, towards greater across, the light goes on changing in the line's own
/// sense, in samples and less what a step under a blur of `lens_blur` shows; 0 for a plain step.
double slope_beyond(const LaneProfiles& lanes, const LineCandidate& fitted, double lens_blur,
                    int reach);

}  // namespace scantling
