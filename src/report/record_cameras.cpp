#include "report/record_cameras.h"

#include "camera/camera_profile_file.h"

namespace scantling {

CameraShelfLoad recorded_cameras(const Record& record) {
  CameraShelfLoad load;
  for (const Camera& camera : record.cameras()) {
    if (camera.profile.empty()) continue;
    CameraProfileLoad one =
        profile_from_text(camera.profile, "the record's profile of " + camera.model);
    if (one.profile) load.shelf.profiles.push_back(std::move(*one.profile));
    for (Check& check : one.checks) {
      check.severity = Severity::warn;
      load.checks.push_back(std::move(check));
    }
  }
  return load;
}

void keep_in_record(Record& record, const CameraProfile& profile) {
  record.keep_camera({0, profile.camera.make, profile.camera.model, profile_to_text(profile)});
}

}  // namespace scantling
