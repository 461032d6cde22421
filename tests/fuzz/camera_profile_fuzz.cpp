// Feeds the camera profile's reader with changed files (libFuzzer):
//
//   ninja -C build/fuzz camera_profile_fuzz
//   build/fuzz/tests/fuzz/camera_profile_fuzz -max_len=8000 found tests/fuzz/corpus/camera_profile

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "camera/camera_profile_file.h"
#include "fuzz/promise.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace scantling;
  using fuzz::require;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const CameraProfileLoad load = profile_from_text(text, "file");
  require(load.profile.has_value() != any_stop(load.checks), "a profile or a stop");
  if (!load.profile) {
    require(load.checks.size() == 1 && load.checks[0].message.ends_with('.'), "one sentence");
    require(load.checks[0].message.size() < 600, "a short sentence");
    return 0;
  }
  // What was taken can be written, and comes back the same.
  const std::string written = profile_to_text(*load.profile);
  const CameraProfileLoad again = profile_from_text(written, "file");
  require(again.profile.has_value(), "its own writing is taken");
  require(profile_to_text(*again.profile) == written, "nothing is lost");
  const CameraProfile& profile = *load.profile;
  for (int orientation = 1; orientation <= 8; ++orientation) {
    PictureSize upright = profile.camera.sensor;
    if (orientation >= 5) std::swap(upright.width_px, upright.height_px);
    const CameraPrior prior = camera_prior(profile, upright, orientation);
    require(prior.model.focal_px > 0 && prior.focal_relative_u > 0, "a focal length");
    require(prior.model.centre_x_px > 0 && prior.model.centre_x_px < upright.width_px,
            "a centre within the picture");
    require(std::abs(prior.k1_k2_correlation) < 1 && prior.k1_u > 0 && prior.k2_u > 0,
            "a positive covariance");
  }
  return 0;
}
