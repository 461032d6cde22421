#include "command_line/profile_json.h"

namespace scantling {

nlohmann::ordered_json profile_json(const CameraProfile& profile) {
  const auto u = profile.standard_deviations();
  const CameraModel& m = profile.model;
  return {{"make", profile.camera.make},
          {"model", profile.camera.model},
          {"width_px", profile.camera.sensor.width_px},
          {"height_px", profile.camera.sensor.height_px},
          {"focal_px", m.focal_px},
          {"focal_px_standard_deviation", u[0]},
          {"centre_px", {m.centre_x_px, m.centre_y_px}},
          {"centre_px_standard_deviation", {u[1], u[2]}},
          {"k1", m.k1},
          {"k1_standard_deviation", u[3]},
          {"k2", m.k2},
          {"k2_standard_deviation", u[4]},
          {"residual_px", profile.residual_px},
          {"corners", profile.corners}};
}

}  // namespace scantling
