#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "base/check.h"
#include "camera/calibration_coverage.h"
#include "camera/calibration_photo.h"
#include "camera/camera_profile.h"

namespace scantling {

/// What became of one photo.
struct CalibrationPhotoState {
  std::string name;
  bool used = false;
  std::string why;  ///< why it was left out, one sentence; empty where it is used
  int corners = 0;
  double residual_px = 0;  ///< 0 before there is a solution
  double slant_deg = 0;    ///< between the camera's axis and the sheet's normal
  double distance_mm = 0;
};

/// Where the calibration stands after the photos so far.
struct CalibrationProgress {
  std::vector<CalibrationPhotoState> photos;  ///< in the order they were added
  int used = 0;
  CalibrationCoverage coverage;
  /// What is still missing, in words with what to do; empty when the profile is accepted.
  std::vector<std::string> missing;
  std::vector<Check> checks;  ///< "lens_pattern" (warn), "sheet_not_flat" (warn)
  /// The solution, from three photos on; only an accepted one may be kept for measuring.
  std::optional<CameraProfile> profile;
  bool accepted = false;
};

/// A photo with the pose of its sheet as it alone tells it: where the common solution starts.
struct PlacedPhoto {
  CalibrationPhoto photo;
  std::vector<SightedCorner> corners;  ///< in the sensor's frame
  Eigen::Matrix<double, 6, 1> pose;    ///< rotation (angle-axis) and translation (mm)
  double focal_px = 0;                 ///< with which the pose was found
};

/// Collects photos of the printed sheet one by one and solves for the camera.
/// Most photos say which camera, picture size and sheet it is about; those that differ are left
/// out by name, and so are blurred ones, doubles, and those that disagree with the others.
/// Not for use from several threads at once.
class CameraCalibration {
 public:
  /// `today` is written into the profile: "2026-11-25".
  explicit CameraCalibration(std::string today) : today_(std::move(today)) {}

  void add(CalibrationPhoto photo);
  void remove(std::size_t index);
  void clear();
  std::size_t size() const { return photos_.size(); }

  /// Solved afresh when photos have changed: some 10 ms a photo.
  const CalibrationProgress& progress();

 private:
  std::string today_;
  std::vector<PlacedPhoto> photos_;
  std::optional<CalibrationProgress> progress_;
};

/// Today's date, UTC.
std::string calendar_date();

}  // namespace scantling
