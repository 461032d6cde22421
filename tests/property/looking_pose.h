#pragma once

#include <Eigen/Geometry>
#include <cmath>
#include <random>

#include "camera/camera_prior.h"
#include "camera/card_pose.h"

namespace scantling {

/// A camera at `eye` that looks along `look` (unit), its picture's x along `right_hint` turned by
/// `roll`, with a lens drawn about what the file tells: all in the card's frame.
inline CardPose looking_pose(const Eigen::Vector3d& eye, const Eigen::Vector3d& look,
                             const Eigen::Vector3d& right_hint, double roll,
                             const CameraPrior& prior, double focal_u, double centre_u_px,
                             std::mt19937& rng) {
  std::normal_distribution<double> normal;
  const Eigen::Vector3d right = right_hint.normalized();
  Eigen::Vector3d down = look.cross(right).normalized();
  const Eigen::Vector3d rolled = std::cos(roll) * right + std::sin(roll) * down;
  down = look.cross(rolled);
  Eigen::Matrix3d rotation;
  rotation.row(0) = rolled;
  rotation.row(1) = down;
  rotation.row(2) = look;
  const Eigen::AngleAxisd axis(rotation);
  CardPose::Vector p = CardPose::Vector::Zero();
  p.segment<3>(0) = axis.angle() * axis.axis();
  p.segment<3>(3) = -rotation * eye;
  p[6] = prior.model.focal_px * (1 + focal_u * normal(rng));
  p[7] = prior.model.centre_x_px + centre_u_px * normal(rng);
  p[8] = prior.model.centre_y_px + centre_u_px * normal(rng);
  p[9] = 0.03 * normal(rng);
  return CardPose(p);
}

}  // namespace scantling
