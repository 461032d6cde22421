#include <gtest/gtest.h>

#include <cmath>

#include "camera/camera_prior.h"
#include "camera/card_pose.h"

namespace scantling {
namespace {

TEST(CameraModel, DirectionUndoesTheLens) {
  for (const double k1 : {-0.28, -0.05, 0.0, 0.04, 0.12})
    for (const double k2 : {-0.02, 0.0, 0.06}) {
      const CameraModel camera{3000, 2010.5, 1490, k1, k2};
      for (const double u : {-0.55, -0.2, 0.0, 1e-7, 0.31, 0.6})
        for (const double v : {-0.4, 0.0, 0.43}) {
          Point_px p;
          camera.project_direction(u, v, p.x, p.y);
          double back_u = 0, back_v = 0;
          camera.direction(p, back_u, back_v);
          EXPECT_NEAR(back_u, u, 1e-10) << k1 << ' ' << k2 << ' ' << u << ' ' << v;
          EXPECT_NEAR(back_v, v, 1e-10) << k1 << ' ' << k2 << ' ' << u << ' ' << v;
        }
    }
}

TEST(CardPose, OnPlaneUndoesProject) {
  CardPose::Vector p;
  p << 0.2, -0.15, 0.05, -60, -35, 310, 3000, 2000, 1500, -0.08, 0.03, 0.001, 0.2;
  const CardPose pose(p);
  for (const double z : {-1.0, 0.0, 2.5, 12.0})
    for (const double x : {-6.0, 0.0, 64.0, 134.0})
      for (const double y : {-6.0, 45.5, 78.0}) {
        const Point_mm back = pose.on_plane(pose.project({x, y, z}), z);
        EXPECT_NEAR(back.x, x, 1e-9);
        EXPECT_NEAR(back.y, y, 1e-9);
      }
}

TEST(CardPose, TellsTiltDistanceAndScale) {
  CardPose::Vector p = CardPose::Vector::Zero();
  const double tilt = 20 * M_PI / 180;
  p[0] = tilt;  // about x
  p[5] = 300;
  p[6] = 3000;
  const CardPose pose(p);
  EXPECT_NEAR(pose.tilt_deg(), 20, 1e-9);
  EXPECT_NEAR(pose.distance_mm({0, 0}), 300, 1e-9);
  EXPECT_LT(pose.camera_centre().z, 0);
  EXPECT_NEAR(pose.px_per_mm_x({0, 0, 0}), 10, 1e-3);
  EXPECT_NEAR(pose.px_per_mm_y({0, 0, 0}), 10 * std::cos(tilt), 1e-3);
}

TEST(CameraPrior, TakesTheFocalLengthFromTheFilmEquivalent) {
  CameraTags tags;
  tags.focal_length_35mm = 26;
  const CameraPrior prior = camera_prior(tags, 4000, 3000);
  EXPECT_NEAR(prior.model.focal_px, 26 / 43.27 * 5000, 0.5);  // diagonal of 24 mm x 36 mm
  EXPECT_EQ(prior.focal_relative_u, 0.04);
  EXPECT_EQ(prior.model.centre_x_px, 1999.5);
  EXPECT_EQ(prior.model.centre_y_px, 1499.5);
  EXPECT_GT(prior.centre_u_px, 5);
  EXPECT_EQ(camera_prior(tags, 3000, 4000).model.focal_px, prior.model.focal_px);
}

TEST(CameraPrior, DoesNotBelieveAbsurdTags) {
  const CameraPrior none = camera_prior({}, 4000, 3000);
  EXPECT_GE(none.focal_relative_u, 0.1);
  for (const double absurd : {0.0, 9.9, 201.0, 10000.0, -26.0}) {
    CameraTags tags;
    tags.focal_length_35mm = absurd;
    const CameraPrior prior = camera_prior(tags, 4000, 3000);
    EXPECT_EQ(prior.model.focal_px, none.model.focal_px) << absurd;
    EXPECT_EQ(prior.focal_relative_u, none.focal_relative_u) << absurd;
    EXPECT_NE(prior.source.find("assumed"), std::string::npos);
  }
  for (const double edge : {10.0, 200.0}) {
    CameraTags tags;
    tags.focal_length_35mm = edge;
    EXPECT_NEAR(camera_prior(tags, 4000, 3000).model.focal_px, edge / 43.27 * 5000, 2) << edge;
  }
}

}  // namespace
}  // namespace scantling
