#pragma once

#include <ceres/problem.h>

#include <vector>

#include "planes/bundle.h"

namespace scantling {

/// The adjustment as Ceres takes it. Refers to the bundle's and the state's memory.
struct PlaneBundleProblem {
  ceres::Problem problem;
  std::vector<double*> blocks;  ///< photos, cameras, scales, pieces, surface; fixed ones left out
  std::vector<ceres::ResidualBlockId> residuals;
  std::vector<RowGroup> group;  ///< of each residual block
  std::vector<int> rows;        ///< of each residual block
  bool surface = false;
};

PlaneBundleProblem make_problem(const PlaneBundle& bundle, PlaneBundleState& state,
                                const PlaneBundleWish& wish);

}  // namespace scantling
