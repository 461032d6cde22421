#include "camera/camera_prior.h"

#include <cmath>

namespace scantling {

CameraPrior camera_prior(const CameraTags& tags, int width_px, int height_px) {
  constexpr double kFilmDiagonal_mm = 43.266615;
  const double diagonal_px = std::hypot(width_px, height_px);
  double f35_mm = tags.focal_length_35mm.value_or(0);
  CameraPrior prior;
  if (f35_mm >= 10 && f35_mm <= 200) {
    prior.focal_relative_u = 0.04;
    prior.source = "the photo's EXIF focal length";
  } else {
    f35_mm = 26;
    prior.focal_relative_u = 0.15;
    prior.source = "an assumed phone camera: the photo does not name its focal length";
  }
  prior.model.focal_px = f35_mm / kFilmDiagonal_mm * diagonal_px;
  prior.model.centre_x_px = (width_px - 1) / 2.0;
  prior.model.centre_y_px = (height_px - 1) / 2.0;
  // Stabilised lenses wander by up to about 50 px on 12 megapixels.
  prior.centre_u_px = 0.006 * diagonal_px;
  return prior;
}

}  // namespace scantling
