#pragma once

#include <Eigen/Geometry>
#include <cmath>
#include <random>
#include <string>

#include "camera/calibration_photo.h"
#include "camera/card_pose.h"

namespace scantling {

/// A made camera that photographs the ground sheet; sightings carry normal noise.
struct MadeSheetCamera {
  CameraIdentity identity{"Lumenworks", "L7", 5.4, 26, {4000, 3000}};
  CameraModel model{3020, 2011, 1487, -0.07, 0.035};
  double noise_px = 0.1;
  double focus_u = 0.003;  ///< each photo's own focal length
  double aspect = 0;       ///< of the print
  double curl_mm = 0;      ///< the sheet's ends, along its length
  /// More than the lens model knows: px at the picture's corners, growing with the sixth power.
  double sixth_power_px = 0;
  double decentred_px = 0;  ///< tangential distortion at the picture's corners

  Point_px lens(double u, double v) const {
    Point_px p;
    model.project_direction(u, v, p.x, p.y);
    const double r = std::hypot(u, v), edge = std::hypot(2000, 1500) / model.focal_px;
    if (r > 0) {
      const double s = sixth_power_px * std::pow(r / edge, 6);
      p.x += s * u / r;
      p.y += s * v / r;
      p.x += decentred_px * (3 * u * u + v * v) / (edge * edge) / 2;
    }
    return p;
  }
};

/// Where the camera stands to the sheet's middle, seen as the sensor lies; degrees and mm.
struct MadeView {
  double left_deg = 0;  ///< taken from the left
  double far_deg = 0;   ///< taken from the top side
  double roll_deg = 0;
  double distance_mm = 400;
  double aim_x_mm = 0, aim_y_mm = 0;  ///< where the camera looks, from the sheet's middle
};

inline CalibrationPhoto made_photo(const MadeSheetCamera& camera, const MadeView& view,
                                   std::mt19937& random, const std::string& name,
                                   int orientation = 1) {
  using Eigen::AngleAxisd;
  using Eigen::Vector3d;
  const double deg = M_PI / 180;
  const Eigen::Matrix3d r = (AngleAxisd(view.roll_deg * deg, Vector3d::UnitZ()) *
                             AngleAxisd(-view.left_deg * deg, Vector3d::UnitY()) *
                             AngleAxisd(view.far_deg * deg, Vector3d::UnitX()))
                                .toRotationMatrix();
  std::normal_distribution<double> normal;
  const CardDefinition& sheet = ground_sheet();
  const Vector3d aim(sheet.columns * sheet.square_mm / 2 + view.aim_x_mm,
                     sheet.rows * sheet.square_mm / 2 + view.aim_y_mm, 0);
  const double focus = 1 + camera.focus_u * normal(random);
  MadeSheetCamera own = camera;
  own.model.focal_px *= focus;

  CalibrationPhoto photo;
  photo.name = name;
  photo.camera = camera.identity;
  photo.tags.make = camera.identity.make;
  photo.tags.model = camera.identity.model;
  photo.tags.focal_length_35mm = camera.identity.focal_length_35mm;
  photo.orientation = orientation;
  photo.upright = camera.identity.sensor;
  if (orientation >= 5) std::swap(photo.upright.width_px, photo.upright.height_px);
  photo.blur_px = 0.8;
  const SensorFromUpright frame = sensor_from_upright(photo.upright, orientation);
  CardSighting sighting;
  sighting.card = &sheet;
  for (const CardCorner& corner : sheet.corners) {
    const double along = corner.at.x / (sheet.columns * sheet.square_mm / 2) - 1;
    const Vector3d place(corner.at.x * (1 - camera.aspect / 2),
                         corner.at.y * (1 + camera.aspect / 2), camera.curl_mm * along * along);
    const Vector3d c = r * (place - aim) + Vector3d(0, 0, view.distance_mm);
    Point_px p = own.lens(c.x() / c.z(), c.y() / c.z());
    p.x += camera.noise_px * normal(random);
    p.y += camera.noise_px * normal(random);
    if (p.x < 12 || p.y < 12 || p.x > camera.identity.sensor.width_px - 13 ||
        p.y > camera.identity.sensor.height_px - 13)
      continue;
    sighting.corners.push_back({corner.id, corner.at, frame.to_upright(p)});
  }
  photo.sighting = std::move(sighting);
  return photo;
}

/// Twelve views that reach all a profile asks for.
inline std::vector<MadeView> good_views() {
  // The sheet over each corner of the picture, then from all sides, then with the phone turned.
  return {{6, 8, 0, 225, 38, 36},   {-7, 6, 0, 225, -38, 36},
          {5, -9, 0, 225, 38, -36}, {-6, -7, 0, 225, -38, -36},
          {28, 5, 3, 260},          {-27, -4, -4, 260},
          {3, 28, 2, 260},          {-4, -27, -3, 260},
          {19, 18, 88, 280, 0, 25}, {-18, -19, 92, 280, 0, -25},
          {17, -18, -87, 280},      {-18, 19, 5, 270}};
}

}  // namespace scantling
