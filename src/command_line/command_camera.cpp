#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>

#include "base/save_file.h"
#include "camera/camera_calibration.h"
#include "camera/camera_profile_file.h"
#include "camera/camera_shelf.h"
#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/profile_json.h"
#include "photo/photo.h"

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;

struct CameraWish {
  std::vector<std::string> photos;
  std::string out;
  bool json = false;
};

Json progress_json(const CalibrationProgress& progress, const std::vector<Check>& checks) {
  const CalibrationCoverage& c = progress.coverage;
  Json json = {{"accepted", progress.accepted},
               {"camera", nullptr},
               {"photos_used", progress.used},
               {"coverage",
                {{"picture_share", c.picture_share},
                 {"slant_left_deg", c.left_deg},
                 {"slant_right_deg", c.right_deg},
                 {"slant_far_deg", c.far_deg},
                 {"slant_near_deg", c.near_deg}}},
               {"missing", progress.missing},
               {"photos", Json::array()},
               {"checks", Json::array()}};
  if (progress.profile) json["camera"] = profile_json(*progress.profile);
  for (const CalibrationPhotoState& photo : progress.photos)
    json["photos"].push_back({{"photo", photo.name},
                              {"used", photo.used},
                              {"why", photo.why},
                              {"corners", photo.corners},
                              {"residual_px", photo.residual_px},
                              {"slant_deg", photo.slant_deg},
                              {"distance_mm", photo.distance_mm}});
  for (const Check& check : checks)
    json["checks"].push_back({{"id", check.id},
                              {"severity", severity_word(check.severity)},
                              {"message", check.message}});
  return json;
}

void print_table(const CalibrationProgress& progress) {
  for (const CalibrationPhotoState& photo : progress.photos)
    if (photo.used)
      fmt::print("{}: {} corners, residual {:.2f} px, {:.0f} degrees from square, {:.0f} mm away\n",
                 photo.name, photo.corners, photo.residual_px, photo.slant_deg, photo.distance_mm);
  const CalibrationCoverage& c = progress.coverage;
  fmt::print(
      "Reached: {:.0f} % of the picture; slants {:.0f} degrees left, {:.0f} right, {:.0f} far, "
      "{:.0f} near.\n",
      100 * c.picture_share, c.left_deg, c.right_deg, c.far_deg, c.near_deg);
  if (!progress.profile) return;
  const CameraProfile& p = *progress.profile;
  const auto u = p.standard_deviations();
  fmt::print(
      "focal length  {:9.2f} px   standard deviation {:.2f}\n"
      "centre x      {:9.2f} px   standard deviation {:.2f}\n"
      "centre y      {:9.2f} px   standard deviation {:.2f}\n"
      "k1            {:+9.5f}      standard deviation {:.5f}\n"
      "k2            {:+9.5f}      standard deviation {:.5f}\n"
      "residual      {:9.3f} px   over {} corners of {} photos\n",
      p.model.focal_px, u[0], p.model.centre_x_px, u[1], p.model.centre_y_px, u[2], p.model.k1,
      u[3], p.model.k2, u[4], p.residual_px, p.corners, p.photos);
}

/// What the user must know, in words: photos left out, what the lens does, what is missing.
std::vector<Check> checks_of(const CalibrationProgress& progress) {
  std::vector<Check> checks;
  for (const CalibrationPhotoState& photo : progress.photos)
    if (!photo.used)
      checks.push_back({"photo_left_out", Severity::warn, photo.name + ": " + photo.why});
  checks.insert(checks.end(), progress.checks.begin(), progress.checks.end());
  for (const std::string& text : progress.missing)
    checks.push_back({"calibration_incomplete", Severity::stop, text});
  return checks;
}

int make_profile(const CameraWish& wish) {
  CameraCalibration calibration(calendar_date());
  for (const std::string& photo : wish.photos)
    calibration.add(look_at_calibration_photo(load_photo(photo), photo));
  const CalibrationProgress& progress = calibration.progress();
  const std::vector<Check> checks = checks_of(progress);
  bool written = true;
  std::string fault;
  if (progress.accepted) {
    try {
      save_file(wish.out, profile_to_text(*progress.profile));
    } catch (const UnwritableFile& error) {
      written = false;
      fault = error.what();
    }
  }
  if (wish.json)
    fmt::print("{}\n",
               progress_json(progress, checks).dump(1, ' ', false, Json::error_handler_t::replace));
  else
    print_table(progress);
  std::fflush(stdout);
  for (const Check& check : checks)
    fmt::print(stderr, "scantling: {}: {}\n", severity_word(check.severity), check.message);
  if (!written) {
    fmt::print(stderr, "scantling: {}\n", fault);
    return kWrongUsage;
  }
  if (!progress.accepted) {
    fmt::print(stderr, "scantling: No profile was written; add photos and run this again.\n");
    return kInputUnusable;
  }
  fmt::print(stderr,
             "Wrote {}. Give it to 'scantling measure --camera', or keep it as {} and it serves by "
             "itself.\n",
             wish.out, (camera_folder() / profile_file_name(progress.profile->camera)).string());
  return kDone;
}

}  // namespace

void add_camera_command(CLI::App& app, Work& work) {
  const auto wish = std::make_shared<CameraWish>();
  CLI::App* command = app.add_subcommand(
      "camera",
      "Make a camera profile from 8 or more photos of the printed ground sheet.\n"
      "Tape the sheet flat on a board or the floor. Photograph it from all sides, slantwise by 15\n"
      "to 40 degrees, some with the phone turned a quarter, at the distance and zoom you measure\n"
      "with, and let it reach every edge and corner of the picture in one photo or another.\n"
      "Example: scantling camera --out phone.json sheet*.jpg");
  command->add_option("--out", wish->out, "The profile to write")->required()->type_name("FILE");
  command->add_flag("--json", wish->json, "Print one JSON object");
  command->add_option("PHOTO", wish->photos, "Photos as the phone stored them")
      ->type_name("FILE")
      ->required();
  command->callback([wish, &work] {
    if (wish->out.empty() || wish->out == "-")
      throw CLI::ValidationError("--out", "needs the name of a file, such as phone.json");
    work = [wish] { return make_profile(*wish); };
  });
}

}  // namespace scantling
