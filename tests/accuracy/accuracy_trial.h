#pragma once

#include <string>
#include <vector>

#include "accuracy/drawings.h"
#include "dimension/analysis.h"
#include "support/drawn_scene.h"

namespace scantling::accuracy {

/// One size of one drawn photo against its truth.
struct SizeTrial {
  std::string name;
  double truth_mm = 0;
  bool found = false;
  double value_mm = 0;
  double standard_uncertainty_mm = 0;
  double expanded_95_mm = 0;
  double confidence = 0;
  std::string largest_cause;  ///< the first line of the budget

  double error_mm() const { return value_mm - truth_mm; }
};

/// One edge of one drawn photo: how far the found line lies from the true one at its middle, along
/// the part's thickness, in mm; positive away from the plate's outer face.
struct EdgeTrial {
  std::string name;
  double from_outer_mm = 0;  ///< from where the flat face begins
  double from_inner_mm = 0;  ///< from where the side face ends
  double confidence = 0;
};

struct Trial {
  drawn::DrawnScene scene;
  std::vector<SizeTrial> sizes;
  std::vector<SizeTrial> confirmed;  ///< the same with all edges placed by a careful user
  std::vector<EdgeTrial> edges;
  std::vector<Check> checks;
  double draw_ms = 0;
  double engine_ms = 0;

  bool has_check(const std::string& id) const;
  bool stopped() const { return any_stop(checks); }
  /// The program itself said that an edge is to be looked at.
  bool flagged() const { return has_check("edge_uncertain"); }
};

/// What the user of this scene would have entered.
MeasureOptions options_for(const drawn::DrawnScene& scene);

/// Draws the photo in memory and measures it.
Trial run_trial(const drawn::DrawnScene& scene, const Drawings& drawings = {});

}  // namespace scantling::accuracy
