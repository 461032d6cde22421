// Analytic rims through the camera, the pose and the budget, without pictures: elevation, distance,
// tilt, thickness, curve, chamfer, corner noise and edge error drawn by lot. The stated 95 %
// intervals must hold as often as they say.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <random>

#include "camera/camera_prior.h"
#include "camera/card_pose.h"
#include "dimension/rim_sizes.h"
#include "dimension/rim_view.h"
#include "property/looking_pose.h"

namespace scantling {
namespace {

constexpr double kMiddleX_mm = 64, kBottom_mm = 78;
constexpr double kPlacing_px = 0.12, kDefinition_u_mm = 0.10, kChamfer_mm = 0.5;

struct Truth {
  double thickness_mm, low_mm, radius_mm, scale, offset_mm, touch_mm, lean;
  double chamfer_mm[2];
};

CardPose camera_of(double elevation_deg, double azimuth_deg, double distance_mm,
                   const CameraPrior& prior, std::mt19937& rng) {
  std::normal_distribution<double> normal;
  const double e = elevation_deg * M_PI / 180, a = azimuth_deg * M_PI / 180;
  const Eigen::Vector3d target(kMiddleX_mm + 3 * normal(rng), 45, 0);
  const Eigen::Vector3d eye =
      target + distance_mm * Eigen::Vector3d(std::sin(a) * std::cos(e), -std::sin(e),
                                             -std::cos(a) * std::cos(e));
  const Eigen::Vector3d look = (target - eye).normalized();
  return looking_pose(eye, look, Eigen::Vector3d(0, 1, 0).cross(look), 0.03 * normal(rng), prior,
                      0.02, 12, rng);
}

std::optional<Quantity> measure(const Truth& truth, const CardPose& camera,
                                const CameraPrior& prior, double noise_px, bool knows_diameter,
                                std::mt19937& rng) {
  std::normal_distribution<double> normal;
  PlaneScene scene;
  scene.photo.luma = cv::Mat(3000, 4000, CV_8UC1);
  scene.sighting.card = &notch_card();
  for (const CardCorner& corner : notch_card().corners) {
    if (corner.state != CutState::present) continue;
    Point_px p = camera.project({corner.at.x * truth.scale, corner.at.y * truth.scale, 0});
    p.x += noise_px * normal(rng);
    p.y += noise_px * normal(rng);
    scene.sighting.corners.push_back({corner.id, corner.at, p});
  }
  MeasureOptions options;
  options.view = View::rim;
  options.sheet_scale = {1, 1, 0.003, true};
  options.part_offset = {0, 0.3};
  if (knows_diameter) options.disc_diameter_mm = 2 * (truth.radius_mm + 1.5 * normal(rng));
  const PoseSolution solution = solve_card_pose(scene.sighting, prior, {1, 1, 0.003});
  if (!solution.pose) return std::nullopt;
  scene.pose = *solution.pose;
  scene.sighting.px_per_mm = scene.pose.px_per_mm_y({kMiddleX_mm, 60, 0});

  PartReading reading;
  reading.view = View::rim;
  PartFrame& frame = reading.frame;
  frame.origin = {kMiddleX_mm, kBottom_mm};
  frame.rim_radius_mm = knows_diameter ? *options.disc_diameter_mm / 2 : kUsualRimRadius_mm;
  const double half = knows_diameter ? 26 : 17;
  for (int i = 0; i < 2; ++i) {
    PlacedEdge edge;
    edge.name = i == 0 ? "face_a" : "face_b";
    edge.along_first_mm = -half;
    edge.along_last_mm = half;
    edge.placing_u_mm = kPlacing_px / scene.sighting.px_per_mm;
    edge.placing_dof = 30;
    edge.definition_u_mm = kDefinition_u_mm;
    edge.depth_mm = kChamfer_mm;
    edge.depth_u_mm = 0.3 * kChamfer_mm + 0.05;
    edge.confidence = 1;
    const double shift = kDefinition_u_mm * normal(rng) + edge.placing_u_mm * normal(rng);
    const double height = truth.low_mm + (i == 0 ? 0 : truth.thickness_mm) * std::cos(truth.lean);
    const double leaning = (i == 0 ? 0 : truth.thickness_mm) * std::sin(truth.lean);
    // Three places of the true edge, as the camera sees them, give the line and its bend.
    double x[3], y[3];
    for (int k = -1; k <= 1; ++k) {
      const double along = k * half - truth.touch_mm;
      const double radius = truth.radius_mm - truth.chamfer_mm[i];
      const double behind = truth.radius_mm - std::sqrt(radius * radius - along * along);
      const Point3_mm place = {kMiddleX_mm + truth.touch_mm + along, kBottom_mm - height,
                               truth.offset_mm + behind + leaning};
      const Point_mm seen = frame.seen(scene.pose, camera.project(place), edge.depth_mm);
      x[k + 1] = seen.x;
      y[k + 1] = seen.y;
    }
    // In the frame's plane without the chamfer's depth, as a reading has it.
    const Point_mm middle = frame.seen(scene.pose, scene.pose.project(frame.place(x[1], y[1])));
    edge.middle_mm = middle.x;
    const auto at_depth = [&](double along, double across) {
      const Point3_mm p = frame.place(along, across);
      const Point_px photo = scene.pose.project({p.x, p.y, p.z + edge.depth_mm});
      return frame.seen(scene.pose, photo).y;
    };
    const double a = at_depth(x[0], y[0]), b = at_depth(x[1], y[1]), c = at_depth(x[2], y[2]);
    edge.across_mm = b + shift;
    edge.slope = (c - a) / (x[2] - x[0]);
    edge.bend_per_mm = (a + c - 2 * b) / (2 * half * half);
    // A line is fitted: the bend's mean goes into its place.
    edge.across_mm += edge.bend_per_mm * half * half / 3;
    edge.bend_per_mm = 0;
    reading.edges.push_back(edge);
  }
  const std::vector<Dimension> sizes = rim_sizes(scene, reading, options);
  return sizes.at(0).quantity;
}

TEST(RimSweep, IntervalsHoldWhatTheySay) {
  std::mt19937 rng(20261126);
  std::uniform_real_distribution<double> unit(0, 1);
  std::normal_distribution<double> normal;
  CameraTags tags;
  tags.focal_length_35mm = 26;
  const CameraPrior prior = camera_prior(tags, 4000, 3000);
  for (const bool knows_diameter : {false, true}) {
    std::vector<double> errors;
    int inside = 0;
    double width = 0;
    for (int trial = 0; trial < 400; ++trial) {
      Truth truth;
      truth.thickness_mm = 9 + 21 * unit(rng);
      truth.low_mm = 4 + 10 * unit(rng);
      truth.radius_mm = 115 + 55 * unit(rng);
      truth.scale = 1 + 0.003 * normal(rng);
      truth.offset_mm = 0.3 * normal(rng);
      truth.touch_mm = 5 * normal(rng);
      truth.lean = 0.5 * M_PI / 180 * normal(rng);
      for (double& chamfer : truth.chamfer_mm)
        chamfer = std::max(0.05, kChamfer_mm + (0.3 * kChamfer_mm + 0.05) * normal(rng));
      const CardPose camera =
          camera_of(-8 + 20 * unit(rng), -6 + 12 * unit(rng), 230 + 110 * unit(rng), prior, rng);
      const auto q = measure(truth, camera, prior, 0.05 + 0.1 * unit(rng), knows_diameter, rng);
      ASSERT_TRUE(q);
      errors.push_back(std::abs(q->value_mm - truth.thickness_mm));
      inside += errors.back() <= q->expanded_95_mm();
      width += q->expanded_95_mm();
    }
    std::sort(errors.begin(), errors.end());
    const double n = static_cast<double>(errors.size()), coverage = inside / n;
    std::printf(
        "rim, diameter %s  n %.0f  median %.3f mm  95 %% %.3f mm  mean interval +-%.3f mm  "
        "inside %.1f %%\n",
        knows_diameter ? "known  " : "unknown", n, errors[errors.size() / 2],
        errors[static_cast<std::size_t>(0.95 * n)], width / n, 100 * coverage);
    EXPECT_GE(coverage, 0.92);
    EXPECT_LE(coverage, 0.99);
  }
}

}  // namespace
}  // namespace scantling
