#include "planes/bundle.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "planes/bundle_information.h"
#include "planes/plane_sizes.h"
#include "planes/planes_solution.h"
#include "unit/planes/planes_test_tools.h"

namespace scantling {
namespace {

using namespace drawn;

PlaneBundle faces_bundle(double noise_px) {
  return make_bundle(sighted_all(faces_scene(18), faces_cameras(), noise_px),
                     checked_options(PlanesView::faces))
      .bundle;
}

TEST(PlaneBundle, FindsTheTruthWithoutNoise) {
  PlaneBundle bundle = faces_bundle(0);
  for (PlaneBundleSighting& s : bundle.sightings) s.noise_px = 0.05;
  const PlaneBundleSolution solution = solve_bundle(bundle, start_state(bundle), {});
  ASSERT_TRUE(solution.converged);
  EXPECT_LT(solution.chi_square, 1e-6);
  EXPECT_NEAR(faces_distance_mm(solution.state, 0, 1), 18.5, 1e-3);
}

TEST(PlaneBundle, StartsNearEnoughFromAWrongFocalLength) {
  for (const double factor : {0.9, 1.1}) {
    std::vector<PlaneCamera> cameras = faces_cameras();
    for (PlaneCamera& camera : cameras) camera.f35_factor = factor;
    PlaneBundle bundle =
        make_bundle(sighted_all(faces_scene(18), cameras, 0.05), checked_options(PlanesView::faces))
            .bundle;
    const PlaneBundleState start = start_state(bundle);
    // The mirrored pose of a card would be tens of degrees and millimetres away.
    EXPECT_NEAR(faces_distance_mm(start, 0, 1), 18.5, 3) << factor;
  }
}

TEST(PlaneBundle, SharesTheVarianceOutWithoutARest) {
  const auto solved = solve_planes(faces_bundle(0.1));
  ASSERT_TRUE(solved);
  const PlaneBundleInformation information(solved->bundle, solved->solution, solved->curved);
  const auto size =
      wanted_size(solved->bundle, information, solved->solution.state, PlanesView::faces);
  ASSERT_TRUE(size);
  const auto shares = information.shares(size->gradient);
  EXPECT_NEAR(
      std::accumulate(shares.begin(), shares.end(), 0.0) / information.variance(size->gradient), 1,
      1e-6);
}

// What a photo adds is known before it is taken: eliminating the photos keeps all they say.
TEST(PlaneBundle, KeepsWhatThePhotosSayWhenTheyAreEliminated) {
  const auto solved = solve_planes(faces_bundle(0.1));
  ASSERT_TRUE(solved);
  const PlaneBundleInformation information(solved->bundle, solved->solution, solved->curved);
  const Eigen::MatrixXd known = information.shared_information();
  const Eigen::Index n = known.rows();
  const Eigen::MatrixXd back = known * information.covariance().bottomRightCorner(n, n);
  for (Eigen::Index i = 0; i < n; ++i) EXPECT_NEAR(back(i, i), 1, 1e-4);
}

TEST(PlaneBundle, KnowsTheSheetsSurface) {
  PlaneBundle bundle = faces_bundle(0);
  PlaneBundleState state;
  state.surface = {1, 0, 0, 0, 0, 0, 0.5};
  EXPECT_NEAR(surface_mm(bundle, state, 120, 0), 1, 1e-12);
  EXPECT_NEAR(surface_mm(bundle, state, 0, -82.5), -0.5, 1e-12);
}

}  // namespace
}  // namespace scantling
