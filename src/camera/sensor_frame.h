#pragma once

#include <Eigen/Core>

#include "geometry/points.h"

namespace scantling {

/// A picture's size in pixels.
struct PictureSize {
  int width_px = 0;
  int height_px = 0;

  bool operator==(const PictureSize&) const = default;
};

/// Lens and sensor keep their frame however the phone is held: width and height as the sensor has
/// them, places before the photo is turned upright by its orientation tag (1..8, Exif 2.3).
/// How an upright place lies in the sensor's frame: sensor = turn * upright + shift.
struct SensorFromUpright {
  Eigen::Matrix2d turn = Eigen::Matrix2d::Identity();
  Eigen::Vector2d shift = Eigen::Vector2d::Zero();
  PictureSize sensor;

  Point_px to_sensor(Point_px upright) const {
    const Eigen::Vector2d p = turn * Eigen::Vector2d(upright.x, upright.y) + shift;
    return {p.x(), p.y()};
  }
  Point_px to_upright(Point_px place) const {
    const Eigen::Vector2d p = turn.transpose() * (Eigen::Vector2d(place.x, place.y) - shift);
    return {p.x(), p.y()};
  }
};

/// For an upright photo of this size that was stored with `orientation`.
SensorFromUpright sensor_from_upright(PictureSize upright, int orientation);

/// Whether the tag asks for a mirroring; no camera of ours writes such photos.
bool orientation_mirrors(int orientation);

}  // namespace scantling
