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
/// centre 7..8 (px), k1 9, k2 10, print aspect 11, bend 12 (mm)]; `covariance` is over these,
/// priors included. The print aspect a makes the sheet (1 - a/2) wider and (1 + a/2) higher than
/// declared; the bend lets the card curve about its upright middle by so much at 64 mm from it.
class CardPose {
 public:
  static constexpr int kParameters = 13;
  static constexpr int kAspect = 11, kBend = 12;
  using Vector = Eigen::Matrix<double, kParameters, 1>;
  using Matrix = Eigen::Matrix<double, kParameters, kParameters>;

  CardPose() = default;
  explicit CardPose(const Vector& parameters);

  /// A place in the card's frame to the photo. The place must lie in front of the camera.
  Point_px project(Point3_mm place) const;
  /// Where the ray through a photo point meets the plane z = `z_mm` behind the card's face; beyond
  /// the plane's horizon that place lies behind the camera, see ahead_mm.
  Point_mm on_plane(Point_px photo, double z_mm) const;
  /// How far a place lies in front of the camera, along the optical axis; negative behind it.
  double ahead_mm(Point3_mm place) const;
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
  /// Printed over nominal size as solved: the declared scale, its aspect corrected by the photo.
  double scale_x() const { return scale_x_ * (1 - parameters_[kAspect] / 2); }
  double scale_y() const { return scale_y_ * (1 + parameters_[kAspect] / 2); }

  /// The covariance had the priors been these instead of those that were used: the corners' share
  /// of the information stays. To first order, the estimate itself is left as it is.
  Matrix covariance_with(const CameraPrior& used, const CameraPrior& instead, double used_aspect_u,
                         double instead_aspect_u) const;

  friend struct PoseSolver;

 private:
  Vector parameters_ = Vector::Zero();
  Eigen::Matrix3d rotation_ = Eigen::Matrix3d::Identity();
  Eigen::Vector3d translation_ = Eigen::Vector3d::Zero();
  CameraModel camera_;
  Matrix covariance_ = Matrix::Zero();
  double widening_ = 1;  ///< by which the fit's covariance was multiplied
  double residual_px_ = 0;
  double noise_px_ = 0;
  int corners_ = 0;
  double scale_x_ = 1;
  double scale_y_ = 1;
};

/// Standard uncertainty of the print aspect where each direction's scale is uncertain by so much.
double aspect_uncertainty(double scale_u);

/// Printed over nominal size along the card's x and y. Their ratio bends the pose of a nearly
/// frontal card, so its uncertainty belongs into the solution; the frame's millimetres are true.
struct PrintScale {
  double x = 1;
  double y = 1;
  double standard_uncertainty = 0.001;  ///< of each
};

struct PoseSolution {
  std::optional<CardPose> pose;
  std::vector<std::size_t> outliers;  ///< indexes into the sighting's corners, left out of the fit
  std::vector<Check> checks;
};

/// Solves pose and camera together by least squares on the corners, with the prior's knowledge as
/// further observations (Hartley & Zisserman, Multiple View Geometry, ch. 5 and 7).
PoseSolution solve_card_pose(const CardSighting& sighting, const CameraPrior& prior,
                             const PrintScale& scale = {});

}  // namespace scantling
