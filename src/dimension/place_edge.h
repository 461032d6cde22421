#pragma once

#include <algorithm>
#include <cmath>
#include <map>
#include <span>

#include "dimension/part_reading.h"
#include "edges/edge_fit.h"
#include "edges/lane_profiles.h"
#include "edges/line_candidates.h"

namespace scantling {

/// Starts the fit at the card's own blur.
EdgeFitOptions edge_fit_options(double card_blur_px);

/// The lines of one view fitted to sub-pixel, each once: its edges and the part's blur come from
/// the same fits. Refers to lanes and lines, which must outlive it.
class LineFits {
 public:
  LineFits(const LaneProfiles& lanes, std::span<const LineCandidate> lines, double card_blur_px);

  const EdgeFit& of(int index);
  const LaneProfiles& lanes() const { return *lanes_; }
  std::span<const LineCandidate> lines() const { return lines_; }
  const LineCandidate& line(int index) const { return lines_[static_cast<std::size_t>(index)]; }
  const EdgeFitOptions& options() const { return options_; }
  /// The blur of the part, which may be a little out of the card's focus: the sharpest of `own`.
  double part_blur_px(std::span<const int> own);

 private:
  const LaneProfiles* lanes_;
  std::span<const LineCandidate> lines_;
  double card_blur_px_;
  EdgeFitOptions options_;
  std::map<int, EdgeFit> fits_;
};

/// How a candidate line becomes a placed edge.
struct PlacingOptions {
  double part_blur_px = 1;  ///< of the part's sharpest edges
  /// The side on which the nominal plane lies: a rounded edge fades towards it, and of a broken
  /// edge's two lines the outer one bounds it. 0 where neither holds.
  int outward = 0;
  double widest_split_px = 2.4;
};

/// Line `index` to sub-pixel, with its uncertainty and a first confidence.
PlacedEdge place_edge(const char* name, LineFits& fits, int index, const PlacingOptions& options);

/// Where the light changes over more than an edge (a shadow's border runs into it) or the blocks
/// scatter, the fit may have followed something else: the line found over all lanes at the lens's
/// own width is the better guess.
void prefer_sharp_line(const LaneProfiles& lanes, const LineCandidate& line, double blur_px,
                       PlacedEdge& edge);

/// A candidate line as a rival of an edge.
PlacedRival rival_of(const PlacedEdge& edge, const LineCandidate& line, std::string reading);

/// Keeps the strongest few.
void keep_strongest_rivals(std::vector<PlacedRival>& rivals);

/// Widens what counts as the edge.
inline void widen_definition(PlacedEdge& edge, double u_mm) {
  edge.definition_u_mm = std::hypot(edge.definition_u_mm, u_mm);
}

/// Allows for the line being another one, until somebody looks: as often as the edge's confidence
/// says, and then `mistake_mm` off (root mean square). The variance of that mixture.
inline void allow_for_mistakes(PlacedEdge& edge, double mistake_mm) {
  edge.mistaken_u_mm =
      std::hypot(edge.mistaken_u_mm, mistake_mm * std::sqrt(std::max(0.0, 1 - edge.confidence)));
}

}  // namespace scantling
