#pragma once

#include <optional>

#include "planes/bundle.h"
#include "planes/bundle_start.h"

namespace scantling {

/// The adjustment with what was found out about its observations: the corners' noise, outliers, the
/// sheet's shape, and whether one pose a card holds for all photos.
struct PlanesSolution {
  PlaneBundle bundle;            ///< one pose a card; noise and outliers entered
  PlaneBundleSolution solution;  ///< of it
  PlaneBundle loose;             ///< a pose of its own for each card in each photo
  PlaneBundleSolution loose_solution;
  bool held_together = false;   ///< false: `solution` did not converge, only the loose one did
  bool curved = false;          ///< the sheet's surface is part of `solution`
  double noise_px = 0;          ///< rms of the corners' noise
  double sheet_gain = 0;        ///< F of the surface's coefficients
  double moved_chi_square = 1;  ///< what one pose a card costs, for each unknown it saves
  int moved_unknowns = 0;
  int left_out = 0;  ///< corners

  /// By how much the noise's variance must grow so that one pose a card is believable: 1 unless the
  /// misfit is significant (Birge 1932).
  double misfit() const;
  /// Whether the misfit is more than what sharp corners show of any lens and print: worth a word.
  bool strained() const { return misfit() > 3; }
};

/// Nothing where the photos cannot be brought together at all.
std::optional<PlanesSolution> solve_planes(const PlaneBundle& bundle);

}  // namespace scantling
