#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

#include "planes/bundle.h"

namespace scantling {

/// What the adjustment knows of its unknowns, at a solution. Residuals are in units of their noise,
/// so the covariance is (J^T J)^-1, priors included (GUM 5.2, Triggs et al. 2000).
class PlaneBundleInformation {
 public:
  PlaneBundleInformation(const PlaneBundle& bundle, const PlaneBundleSolution& solution,
                         bool surface);

  Eigen::Index size() const { return covariance_.rows(); }
  Eigen::Index camera(std::size_t i) const { return cameras_ + 5 * static_cast<Eigen::Index>(i); }
  Eigen::Index scales() const { return scales_; }
  Eigen::Index piece(std::size_t i) const { return pieces_ + 7 * static_cast<Eigen::Index>(i); }
  /// -1 where the sheet is taken as flat.
  Eigen::Index surface() const { return surface_; }

  const Eigen::MatrixXd& covariance() const { return covariance_; }
  double variance(const Eigen::VectorXd& gradient) const;
  /// The variance where the print scales were known better: `instead` their standard uncertainties,
  /// in the order of PlaneBundlePriors::scales_u, those of the adjustment being `used`.
  double variance_with_scales(const Eigen::VectorXd& gradient,
                              const std::array<double, PlaneBundleState::kScales>& used,
                              const std::array<double, PlaneBundleState::kScales>& instead) const;
  /// The same by what it comes from: exact, as the estimate is linear in its observations and
  /// priors. `amplify` multiplies the noise of a group's rows.
  std::array<double, kRowGroups> shares(const Eigen::VectorXd& gradient) const;
  /// J^T J over all but the photos' blocks, which are eliminated: what one more photo adds to.
  Eigen::MatrixXd shared_information() const;
  Eigen::Index shared_begin() const { return cameras_; }

 private:
  struct Row {
    RowGroup group;
    std::vector<std::pair<int, double>> entries;
  };
  std::vector<Row> rows_;
  Eigen::MatrixXd covariance_;
  Eigen::Index cameras_ = 0, scales_ = 0, pieces_ = 0, surface_ = -1;
};

}  // namespace scantling
