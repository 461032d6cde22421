#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "camera/camera_profile.h"
#include "card/card_sighting.h"

namespace scantling {

/// A flat sheet as one photo shows it, in the sensor's frame.
struct BundleView {
  std::vector<SightedCorner> corners;
  Eigen::Matrix<double, 6, 1> start;  ///< rotation (angle-axis) and translation (mm)
};

/// What is believed before, as standard uncertainties; it also keeps a poor set of photos solvable.
struct BundleBeliefs {
  CameraModel start;
  double focal_relative_u = 0.3;
  double centre_relative_u = 0.1;  ///< of the picture's diagonal
  double diagonal_px = 0;
  double k1_u = 0.5, k2_u = 1;
  /// Autofocus: each photo's focal length about their common one. 250 to 500 mm away, a phone's
  /// lens moves by 1 % (f / (Z - f)); most of it goes with the distance and is alike in one set.
  double focus_u = 0.003;
  double aspect_u = 0.014;  ///< unequal printing in x and y
  double sheet_u_mm = 0.3;  ///< how far the sheet's ends and corners may lie off a flat board
};

struct BundleViewResult {
  Eigen::Matrix<double, 6, 1> pose;
  double focus = 0;                   ///< this photo's focal length over the common one, less 1
  double residual_px = 0;             ///< rms per axis over the corners used
  std::vector<std::size_t> outliers;  ///< corners left out
  std::vector<Eigen::Vector2d> residuals_px;  ///< of every corner: solved less seen
};

struct BundleSolution {
  CameraModel model;
  CameraProfile::Matrix covariance;
  double aspect = 0;               ///< the print is (1 + aspect) times higher for its width
  double sheet_mm[3] = {0, 0, 0};  ///< its shape x^2, xy, y^2 at the ends
  double noise_px = 0;             ///< sqrt(RSS / degrees of freedom), per axis
  double residual_px = 0;          ///< rms per axis
  int corners = 0;
  std::vector<BundleViewResult> views;
};

/// One least-squares solution over the camera, every photo's pose and focus, and the sheet's aspect
/// and shape (Triggs et al., "Bundle adjustment: a modern synthesis", 2000). Corners that do not
/// belong are found with Huber's loss and left out of the last, plain fit, whose covariance,
/// sigma^2 (J^T J)^-1 with the priors as observations, is returned. Nothing where it fails.
std::optional<BundleSolution> adjust_bundle(const std::vector<BundleView>& views,
                                            const CardDefinition& card,
                                            const BundleBeliefs& beliefs);

}  // namespace scantling
