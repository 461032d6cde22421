#pragma once

#include <array>

#include "dimension/part_reading.h"

namespace scantling {

/// A lip's wall as one photo shows it: the foot on the track's plane, the top at a height to be
/// found. Everything the height depends on, as one set of numbers that can be varied one at a time.
/// Single-view height over a plane (Criminisi, Reid & Zisserman, "Single view metrology", IJCV
/// 40(2), 2000), with the camera's pose known from the card, so that it is exact point by point.
class LipModel {
 public:
  static constexpr std::size_t kStations = 7;

  LipModel(const CardPose& pose, const PartReading& reading);

  /// Height of the wall's top over the track, mean over the stations, for a wall that runs
  /// `run_mm` outwards from foot to top.
  double height_mm(double run_mm) const;
  double height_mm(double run_mm, std::size_t station) const;
  double along_mm(std::size_t station) const { return along_mm_[station]; }

  /// Radial distance on the track's plane from the foot to where the top appears.
  double seen_gap_mm() const;
  /// Elevation of the camera over the track, seen from the foot.
  double elevation_deg() const;
  /// Photo pixels for one millimetre of the wall's height.
  double px_per_mm_height() const;
  double camera_distance_mm() const;

  CardPose pose;
  PartFrame frame;           ///< on the track's plane, `across` outwards
  double foot_shift_mm = 0;  ///< added to the foot's place
  double top_shift_mm = 0;   ///< added to where the top appears

 private:
  /// Radial place of the foot at `along`, on the track's plane: a parabola through the stations.
  struct Foot {
    double c0 = 0, c1 = 0, c2 = 0;
    double at(double along) const { return c0 + along * (c1 + along * c2); }
  };
  Foot foot() const;
  double height_mm(double run_mm, std::size_t station, const Foot& foot) const;

  std::array<double, kStations> along_mm_{};
  std::array<Point_px, kStations> foot_px_{};
  std::array<Point_px, kStations> top_px_{};
};

}  // namespace scantling
