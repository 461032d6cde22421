// Analytic lips through the camera, the pose and the height model, without pictures: elevation,
// distance, tilt, lip height, wall run, corner noise and edge error drawn by lot. The stated 95 %
// intervals must hold as often as they say.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <random>

#include "camera/camera_prior.h"
#include "camera/card_pose.h"
#include "dimension/lip_sizes.h"
#include "property/looking_pose.h"

namespace scantling {
namespace {

struct Truth {
  double height_mm, run_mm, foot_mm, radius_mm;  // foot: from the card's middle, outwards (-y)
  double scale;                                  // printed over nominal size
};

struct Photo {
  CardPose pose;
  CameraTags tags;
};

/// Looks at the card from the hub's side, at an elevation and a distance from the foot.
Photo photo_of(const Truth& truth, double elevation_deg, double distance_mm, std::mt19937& rng) {
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> unit(-1, 1);
  const double e = elevation_deg * M_PI / 180, a = unit(rng) * 0.35;
  const Eigen::Vector3d target(20, 12.5 - truth.foot_mm, 0);
  const Eigen::Vector3d eye =
      target + distance_mm * Eigen::Vector3d(std::sin(a) * std::cos(e), std::cos(a) * std::cos(e),
                                             -std::sin(e));
  const Eigen::Vector3d look =
      (target + Eigen::Vector3d(unit(rng) * 8, unit(rng) * 8 + 8, 0) - eye).normalized();
  Photo photo;
  photo.tags.focal_length_35mm = 26;
  const CameraPrior prior = camera_prior(photo.tags, 4000, 3000);
  photo.pose = looking_pose(eye, look, look.cross(Eigen::Vector3d(0, 0, -1)), unit(rng) * 0.1,
                            prior, 0.03, 15, rng);
  return photo;
}

/// What the engine would make of one photo: pose from noisy corners, edges with their errors.
std::optional<Measurement> measure(const Photo& photo, const Truth& truth, double noise_px,
                                   double foot_shift_mm, double top_shift_mm, std::mt19937& rng) {
  std::normal_distribution<double> normal;
  PlaneScene scene;
  scene.photo.luma = cv::Mat(3000, 4000, CV_8UC1);
  scene.sighting.card = &track_card();
  for (const CardCorner& corner : track_card().corners) {
    Point_px p = photo.pose.project({corner.at.x * truth.scale, corner.at.y * truth.scale, 0});
    p.x += noise_px * normal(rng);
    p.y += noise_px * normal(rng);
    scene.sighting.corners.push_back({corner.id, corner.at, p});
  }
  MeasureOptions options;
  options.view = View::lip;
  options.sheet_scale = {1, 1, 0.004, true};
  const PoseSolution solution =
      solve_card_pose(scene.sighting, camera_prior(photo.tags, 4000, 3000), {1, 1, 0.004});
  if (!solution.pose) return std::nullopt;
  scene.pose = *solution.pose;
  scene.sighting.px_per_mm = scene.pose.px_per_mm_x({20, 12.5, 0});

  // The ring frame as the engine finds it: on the track, `across` outwards from the foot.
  const double track_mm = track_card().thickness_mm + 0.03 * normal(rng);
  PartReading reading;
  reading.view = View::lip;
  PartFrame& frame = reading.frame;
  frame.origin = {20, 12.5 - truth.foot_mm};
  frame.across_x = 0;
  frame.across_y = -1;
  frame.along_x = 1;
  frame.along_y = 0;
  frame.depth_mm = track_card().thickness_mm;
  frame.ring_radius_mm = truth.radius_mm;
  const double mm_per_px = 1 / distance_px(scene.pose.project(frame.place(0, -0.5)),
                                           scene.pose.project(frame.place(0, 0.5)));
  constexpr double kPlacing_px = 0.12;
  constexpr double kFoot_u_mm = 0.04, kTop_u_mm = 0.07;
  const auto edge = [&](const char* name, double radius_mm, double above_mm, double shift_mm,
                        double definition_u_mm) {
    PlacedEdge placed;
    placed.name = name;
    placed.along_first_mm = -26;
    placed.along_last_mm = 26;
    placed.placing_u_mm = kPlacing_px * mm_per_px;
    placed.placing_dof = 30;
    placed.definition_u_mm = definition_u_mm;
    placed.confidence = 1;
    // Three places of the true curve, as the camera sees them, give the parabola.
    const double wobble = kPlacing_px * mm_per_px * normal(rng) + shift_mm;
    double y[3];
    for (int i = -1; i <= 1; ++i) {
      const double angle = i * 20.0 / truth.radius_mm;
      const Point3_mm centre = {20, 12.5 - truth.foot_mm + truth.radius_mm, 0};
      const Point3_mm place = {centre.x + radius_mm * std::sin(angle),
                               centre.y - radius_mm * std::cos(angle), track_mm - above_mm};
      const Point_mm seen = frame.seen(scene.pose, photo.pose.project(place));
      y[i + 1] = seen.y;
    }
    placed.across_mm = y[1] + wobble;
    placed.slope = (y[2] - y[0]) / 40;
    placed.bend_per_mm = (y[2] + y[0] - 2 * y[1]) / 800;
    return placed;
  };
  reading.edges = {
      edge("wall_foot", truth.radius_mm, 0, foot_shift_mm, kFoot_u_mm),
      edge("wall_top", truth.radius_mm + truth.run_mm, truth.height_mm, top_shift_mm, kTop_u_mm)};
  Measurement m;
  m.view = View::lip;
  m.dimensions = lip_sizes(scene, reading, options);
  m.lip = lip_facts(scene, reading, options);
  return m;
}

struct Errors {
  std::vector<double> size_mm;
  double width_mm = 0;
  int inside = 0;

  void add(const Quantity& q, double truth_mm) {
    const double error = std::abs(q.value_mm - truth_mm);
    size_mm.push_back(error);
    inside += error <= q.expanded_95_mm();
    width_mm += q.expanded_95_mm();
  }
  double share(double part) {
    std::sort(size_mm.begin(), size_mm.end());
    return size_mm[static_cast<std::size_t>(part * static_cast<double>(size_mm.size() - 1))];
  }
  double coverage() const { return double{1.0} * inside / static_cast<double>(size_mm.size()); }
  void print(const char* what) {
    std::printf(
        "%-12s n %zu  median %.3f mm  95 %% %.3f mm  mean interval +-%.3f mm  inside %.1f %%\n",
        what, size_mm.size(), share(0.5), share(0.95),
        width_mm / static_cast<double>(size_mm.size()), 100 * coverage());
  }
};

TEST(LipSweep, IntervalsHoldWhatTheySay) {
  std::mt19937 rng(20261125);
  std::uniform_real_distribution<double> unit(0, 1);
  std::normal_distribution<double> normal;
  Errors one, two, run;
  for (int trial = 0; trial < 600; ++trial) {
    Truth truth;
    truth.height_mm = 0.2 + 1.8 * unit(rng);
    truth.run_mm = 0.4 * unit(rng);
    truth.foot_mm = 16.5 + 10 * unit(rng);
    truth.radius_mm = 105 + 60 * unit(rng);
    truth.scale = 1 + 0.004 * normal(rng);
    const double noise_px = 0.05 + 0.1 * unit(rng);
    // Half of what counts as the edge is the part's own and comes back in every photo.
    const double foot = 0.04 * std::sqrt(0.5) * normal(rng),
                 top = 0.07 * std::sqrt(0.5) * normal(rng);
    std::vector<Measurement> photos;
    const double low = 20 + 12 * unit(rng);
    for (const double elevation : {low, low + 12 + 6 * unit(rng)}) {
      const Photo photo = photo_of(truth, elevation, 140 + 120 * unit(rng), rng);
      const auto m = measure(photo, truth, noise_px, foot + 0.04 * std::sqrt(0.5) * normal(rng),
                             top + 0.07 * std::sqrt(0.5) * normal(rng), rng);
      ASSERT_TRUE(m);
      photos.push_back(*m);
    }
    one.add(photos[0].dimension("lip_height")->quantity, truth.height_mm);
    const Measurement joint = solve_lip_together(photos);
    two.add(joint.dimension("lip_height")->quantity, truth.height_mm);
    run.add(joint.dimension("wall_run")->quantity, truth.run_mm);
  }
  one.print("one photo");
  two.print("two photos");
  run.print("wall run");
  for (const Errors* errors : {&one, &two, &run}) {
    EXPECT_GE(errors->coverage(), 0.92);
    EXPECT_LE(errors->coverage(), 0.99);
  }
}

/// With edges placed exactly, the height is exact: the model against an independent projection.
TEST(LipSweep, AnExactPhotoGivesTheExactHeight) {
  std::mt19937 rng(7);
  const Truth truth{1.3, 0.25, 20, 130, 1};
  for (const double elevation : {18.0, 27.0, 40.0}) {
    const Photo photo = photo_of(truth, elevation, 180, rng);
    Measurement m;
    for (int tries = 0; tries < 1; ++tries) {
      const auto measured = measure(photo, truth, 1e-6, 0, 0, rng);
      ASSERT_TRUE(measured);
      m = *measured;
    }
    const LipFacts& lip = *m.lip;
    EXPECT_NEAR(lip.elevation_deg, elevation, 0.5);
    // The placing errors that measure() adds stay: 0.12 px.
    EXPECT_NEAR(lip.height_without_run_mm - truth.run_mm * lip.run_share, truth.height_mm, 0.06);
  }
}

}  // namespace
}  // namespace scantling
