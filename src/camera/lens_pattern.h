#pragma once

#include <string>
#include <vector>

#include "camera/bundle_adjustment.h"

namespace scantling {

/// What the lens model leaves unexplained: residuals that are alike over one place of the picture
/// in all photos cannot be the corners' noise.
struct LensPattern {
  double rms_px = 0;           ///< of the pattern, per axis, noise taken off
  double worst_px = 0;         ///< the largest mean shift of a cell
  std::string where;           ///< where that is: "the picture's upper left corner"
  bool significant = false;    ///< certain, and large enough to matter
  double variance_factor = 1;  ///< by which it makes the camera's variances larger
};

/// Means over the cells of a grid, compared with what noise alone would leave (a chi-square of two
/// for each cell; the fit takes a few of them).
LensPattern find_lens_pattern(const std::vector<BundleView>& views, const BundleSolution& solution,
                              PictureSize sensor);

}  // namespace scantling
