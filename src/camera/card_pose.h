#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "base/check.h"
#include "camera/camera_model.h"
#include "card/card_sighting.h"

namespace scantling {

/// Where the camera stands to a card, and what it is like: x_camera = R(rotation) x_card + t.
/// The vector of parameters is [rotation 0..2 (angle-axis), translation 3..5 (mm), focal_px 6,
/// centre 7..8 (px), k1 9, k2 10]; `covariance` is over these, priors included.
class CardPose {
 public:
  static constexpr int kParameters = 11;
  using Vector = Eigen::Matrix<double, kParameters, 1>;
  using Matrix = Eigen::Matrix<double, kParameters, kParameters>;

  CardPose() = default;
  explicit CardPose(const Vector& parameters);

  /// A place in the card's frame to the photo. The place must lie in front of the camera.
  Point_px project(Point3_mm place) const;
  /// Where the ray through a photo point meets the plane z = `z_mm` behind the card's face.
  Point_mm on_plane(Point_px photo, double z_mm) const;
  /// The camera's centre in the card's frame; z is negative in front of the printed face.
  Point3_mm camera_centre() const;
  double tilt_deg() const;  ///< between the optical axis and the card's normal
  double distance_mm(Point_mm place) const;
  /// Photo pixels for one millimetre along the plane's y (vertical) and x at a place.
  double px_per_mm_x(Point3_mm place) const;
  double px_per_mm_y(Point3_mm place) const;

  const Vector& parameters() const { return parameters_; }
  const CameraModel& camera() const { return camera_; }
  const Matrix& covariance() const { return covariance_; }
  double residual_px() const { return residual_px_; }  ///< rms over corners, per axis
  double noise_px() const { return noise_px_; }        ///< sqrt(RSS / (2n - p)), per axis
  int corners() const { return corners_; }
  double scale_x() const { return scale_x_; }
  double scale_y() const { return scale_y_; }

  friend struct PoseSolver;

 private:
  Vector parameters_ = Vector::Zero();
  Eigen::Matrix3d rotation_ = Eigen::Matrix3d::Identity();
  Eigen::Vector3d translation_ = Eigen::Vector3d::Zero();
  CameraModel camera_;
  Matrix covariance_ = Matrix::Zero();
  double residual_px_ = 0;
  double noise_px_ = 0;
  int corners_ = 0;
  double scale_x_ = 1;
  double scale_y_ = 1;
};

struct PoseSolution {
  std::optional<CardPose> pose;
  std::vector<std::size_t> outliers;  ///< indexes into the sighting's corners, left out of the fit
  std::vector<Check> checks;
};

/// Solves pose and camera together by least squares on the corners, with the prior's knowledge as
/// further observations (Hartley & Zisserman, Multiple View Geometry, ch. 5 and 7). `scale_x/y`:
/// printed over nominal size; the frame's millimetres are true millimetres.
PoseSolution solve_card_pose(const CardSighting& sighting, const CameraPrior& prior,
                             double scale_x = 1, double scale_y = 1);

}  // namespace scantling
