#include "camera/camera_profile.h"

#include <fmt/format.h>

#include <cmath>

namespace scantling {

std::string CameraIdentity::words() const {
  if (!named()) return "a camera without a name";
  if (make.empty() || model.starts_with(make)) return model;
  return model.empty() ? make : make + " " + model;
}

namespace {

/// Makers round alike within one model; a lens or zoom step differs by far more.
bool differs(const std::optional<double>& a, const std::optional<double>& b, double tolerance) {
  return a.has_value() != b.has_value() || (a && std::abs(*a - *b) > tolerance * *a);
}

std::string size_words(PictureSize size) {
  return fmt::format("{} x {}", size.width_px, size.height_px);
}

}  // namespace

std::string difference_between(const CameraIdentity& known, const CameraIdentity& taken,
                               const std::string& others) {
  if (taken.make != known.make || taken.model != known.model)
    return taken.named() ? fmt::format("it was taken by {}, and {} by {}", taken.words(), others,
                                       known.words())
                         : std::string(
                               "it does not name its camera: use the original file, not a "
                               "forwarded copy");
  if (differs(known.focal_length_mm, taken.focal_length_mm, 0.01) ||
      differs(known.focal_length_35mm, taken.focal_length_35mm, 0.02))
    return "it was taken with another lens or zoom than " + others;
  const PictureSize turned{taken.sensor.height_px, taken.sensor.width_px};
  if (taken.sensor != known.sensor && turned != known.sensor)
    return fmt::format("it has {} pixels and {} {}: use the phone's full picture size",
                       size_words(taken.sensor), others, size_words(known.sensor));
  return {};
}

CameraIdentity identity_of(const CameraTags& tags, PictureSize upright, int orientation) {
  return {tags.make, tags.model, tags.focal_length_mm, tags.focal_length_35mm,
          sensor_from_upright(upright, orientation).sensor};
}

CameraProfile::Vector CameraProfile::parameters() const {
  Vector v;
  v << model.focal_px, model.centre_x_px, model.centre_y_px, model.k1, model.k2;
  return v;
}

CameraPrior camera_prior(const CameraProfile& profile, PictureSize upright, int orientation) {
  CameraPrior prior;
  const auto u = profile.standard_deviations();
  SensorFromUpright frame = sensor_from_upright(upright, orientation);
  const bool turned_unknown = frame.sensor != profile.camera.sensor;
  if (turned_unknown) {
    // The pixels were turned and the tag lost: a quarter turn, to the one side or to the other.
    frame = sensor_from_upright(upright, 6);
  }
  Point_px centre = frame.to_upright({profile.model.centre_x_px, profile.model.centre_y_px});
  const Point_px middle{(upright.width_px - 1) / 2.0, (upright.height_px - 1) / 2.0};
  const double diagonal_px = std::hypot(upright.width_px, upright.height_px);
  prior.centre_u_px = std::hypot(std::max(u[1], u[2]), kCentreWander * diagonal_px);
  if (turned_unknown) {
    prior.centre_u_px = std::hypot(prior.centre_u_px, distance_px(centre, middle));
    centre = middle;
  }
  prior.model = profile.model;
  prior.model.centre_x_px = centre.x;
  prior.model.centre_y_px = centre.y;
  prior.focal_relative_u = std::hypot(u[0] / profile.model.focal_px, kFocusTravel);
  prior.k1_u = std::hypot(u[3], kDistortionWander);
  prior.k2_u = std::hypot(u[4], kDistortionWander);
  prior.k1_k2_correlation = profile.covariance(3, 4) / (prior.k1_u * prior.k2_u);
  prior.source = fmt::format("the camera profile of {}, made on {} from {} photos",
                             profile.camera.words(), profile.made_on, profile.photos);
  return prior;
}

}  // namespace scantling
