#pragma once

#include "camera/camera_profile.h"

namespace scantling {

/// An invented phone's profile.
inline CameraProfile sample_profile() {
  CameraProfile profile;
  profile.camera = {"Lumenworks", "L7", 5.4, 26, {4000, 3000}};
  profile.model = {3012.5, 2004.25, 1488.75, -0.081, 0.043};
  CameraProfile::Vector u;
  u << 4.0, 2.5, 3.0, 0.002, 0.006;
  CameraProfile::Matrix correlation = CameraProfile::Matrix::Identity();
  correlation(0, 3) = correlation(3, 0) = -0.2;
  correlation(3, 4) = correlation(4, 3) = -0.93;
  profile.covariance = u.asDiagonal() * correlation * u.asDiagonal();
  profile.residual_px = 0.081;
  profile.photos = 14;
  profile.corners = 1893;
  profile.distance_mm = 342;
  profile.coverage = {0.93, 31, 28, 35, 24};
  profile.made_on = "2026-11-25";
  return profile;
}

}  // namespace scantling
