#pragma once

#include <optional>
#include <string>
#include <vector>

#include "accuracy/accuracy_trial.h"
#include "support/drawn_disc.h"

namespace scantling::accuracy {

/// Drawn photos of one disc against their truth. Rim view: "rim_thickness" without, and
/// "rim_thickness, diameter given" with the disc's diameter told. Lip view, two photos at different
/// elevations: "lip_height, one photo" (the lower one) and "lip_height, two photos", "wall_run".
struct DiscTrial {
  unsigned seed = 0;
  drawn::DiscView view = drawn::DiscView::rim;
  drawn::DrawnDisc disc;
  drawn::Difficulty difficulty = drawn::Difficulty::easy;
  std::vector<SizeTrial> sizes;
  std::vector<SizeTrial> confirmed;  ///< the same with all edges placed by a careful user
  std::vector<bool> flagged;         ///< for each size: the program asked for a look at an edge
  std::vector<Check> checks;
};

DiscTrial run_rim_trial(unsigned seed, double megapixels,
                        std::optional<drawn::Difficulty> difficulty = {},
                        const Drawings& drawings = {});
DiscTrial run_lip_trial(unsigned seed, double megapixels,
                        std::optional<drawn::Difficulty> difficulty = {},
                        const Drawings& drawings = {});

}  // namespace scantling::accuracy
