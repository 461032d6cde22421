#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>

#include "camera/camera_model.h"
#include "camera/sensor_frame.h"
#include "photo/photo.h"

namespace scantling {

/// Which camera, at which zoom, and how large its pictures are: what a photo must share with a
/// profile.
struct CameraIdentity {
  std::string make;
  std::string model;
  std::optional<double> focal_length_mm;    ///< Exif
  std::optional<double> focal_length_35mm;  ///< Exif; also tells a digital zoom
  PictureSize sensor;                       ///< whole picture, in the sensor's frame

  bool named() const { return !make.empty() || !model.empty(); }
  /// "Make Model", or "a camera without a name".
  std::string words() const;
};

/// What tells a photo's camera from the known one, in words ("it was taken by ..."); empty where
/// they are the same, at the same zoom and with pictures of the same size, whichever way round.
/// `others` names what it is compared with: "the profile's photos".
std::string difference_between(const CameraIdentity& known, const CameraIdentity& taken,
                               const std::string& others);

/// As the photo tells it.
CameraIdentity identity_of(const CameraTags& tags, PictureSize upright, int orientation);

/// How much of the lens's field the calibration has seen.
struct ProfileCoverage {
  double picture_share = 0;  ///< of the picture's area reached by corners, 0..1
  double tilt_left_deg = 0;  ///< how far photos were taken from each side of the sheet
  double tilt_right_deg = 0;
  double tilt_far_deg = 0;
  double tilt_near_deg = 0;
};

/// A camera as calibrated from photos of the printed sheet, in the sensor's frame.
/// The lens model is that of CameraModel. Standard deviations are those of the calibration alone:
/// `camera_prior` adds what focus and stabiliser move between photos.
struct CameraProfile {
  /// Order of the covariance: focal_px, centre_x_px, centre_y_px, k1, k2.
  using Matrix = Eigen::Matrix<double, 5, 5>;
  using Vector = Eigen::Matrix<double, 5, 1>;

  CameraIdentity camera;
  CameraModel model;
  Matrix covariance = Matrix::Zero();
  double residual_px = 0;  ///< rms over the corners, per axis
  int photos = 0;
  int corners = 0;
  double distance_mm = 0;  ///< from which the photos were taken, on the mean
  ProfileCoverage coverage;
  std::string made_on;  ///< "2026-11-25"

  Vector parameters() const;
  Vector standard_deviations() const { return covariance.diagonal().cwiseSqrt(); }
};

/// Autofocus moves the lens: the focal length in the picture changes by about 1 % between 250 mm
/// and 1 m (f / (Z - f) for a 6 mm lens: 2.5 % and 0.6 %).
inline constexpr double kFocusTravel = 0.01;
/// A stabiliser and the sensor's mount let the centre wander a little from photo to photo, as a
/// part of the picture's diagonal (5 px on 12 megapixels).
inline constexpr double kCentreWander = 0.001;
/// The distortion changes a little with focus: of k1 and of k2, 1 to 2 px in the picture's corners.
inline constexpr double kDistortionWander = 0.001;

/// What is believed of a photo's camera, by the profile: centre and distortion tight, the focal
/// length free by kFocusTravel. A photo whose orientation tag was lost may lie either way up: its
/// centre is the less sure for it. `upright` must be the profile's size, either way round.
CameraPrior camera_prior(const CameraProfile& profile, PictureSize upright, int orientation);

}  // namespace scantling
