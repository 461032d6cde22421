#pragma once

#include <opencv2/core/mat.hpp>
#include <optional>
#include <string>

#include "camera/camera_profile.h"
#include "card/card_sighting.h"
#include "photo/photo.h"

namespace scantling {

/// A photo of the printed sheet, looked at once for a calibration.
struct CalibrationPhoto {
  std::string name;  ///< as the user knows it
  CameraIdentity camera;
  CameraTags tags;
  PictureSize upright;
  int orientation = 1;                   ///< Exif, as stored
  std::optional<CardSighting> sighting;  ///< on the upright photo
  double blur_px = 0;                    ///< of the printed edges; 0 where it was not gauged
  std::string unusable;                  ///< one sentence why it can't serve, empty where it can
};

/// Looks for the ground sheet, then for the other cards, whichever is found first. Slow (decoded
/// photos take 0.1 to 0.5 s): meant for a worker thread. Bad input ends in `unusable`.
CalibrationPhoto look_at_calibration_photo(PhotoLoad load, const std::string& name);

/// The blur on the sheet's printed edges: the standard deviation of their mean spread, in px;
/// 0 where no edge can be read.
double gauge_blur_px(const cv::Mat& luma, const CardSighting& sighting);

}  // namespace scantling
