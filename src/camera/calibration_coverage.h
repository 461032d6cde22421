#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "camera/camera_profile.h"

namespace scantling {

/// How much of the lens the photos have reached, in the frame in which most of them are looked at.
struct CalibrationCoverage {
  PictureSize picture;          ///< as the user sees the photos: upright
  int columns = 0, rows = 0;    ///< cells of the picture's area
  std::vector<int> corners_in;  ///< by row, then column
  double picture_share = 0;     ///< of the cells reached, 0..1
  /// How far from the sheet's square-on view photos were taken, to each side as seen in the
  /// picture; 0 where none was.
  double left_deg = 0, right_deg = 0, far_deg = 0, near_deg = 0;

  bool reached(int column, int row) const;
  double across_deg() const { return left_deg + right_deg; }
  double along_deg() const { return far_deg + near_deg; }
};

/// A cell counts as reached from this many corners on.
inline constexpr int kCornersInCell = 2;
/// What a profile asks for: a share of the picture, and slants to both sides that add up.
inline constexpr double kWantedShare = 0.8;
inline constexpr double kWantedSlant_deg = 15;  ///< to one side, where the other gives no more
inline constexpr double kLeastSlant_deg = 8;    ///< to either side in any case
inline constexpr double kWantedSpread_deg = 30;
inline constexpr int kWantedPhotos = 8;

/// Gathers places and slants in the sensor's frame.
class CoverageGatherer {
 public:
  /// `orientation`: how most of the photos are turned upright, so that left is the user's left.
  CoverageGatherer(PictureSize sensor, int orientation);

  void add_corner(Point_px sensor_place);
  /// `normal`: of the sheet's printed face, towards the camera, in the camera's frame (x right, y
  /// down, z forward, as the sensor lies).
  void add_slant(const Eigen::Vector3d& normal);
  CalibrationCoverage coverage() const;

 private:
  SensorFromUpright frame_;
  CalibrationCoverage gathered_;
};

/// What is missing in words, each with what to do; empty when the photos reach all.
std::vector<std::string> missing_coverage(const CalibrationCoverage& coverage);

}  // namespace scantling
