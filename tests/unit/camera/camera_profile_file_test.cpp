#include "camera/camera_profile_file.h"

#include <gmock/gmock.h>

#include <limits>
#include <nlohmann/json.hpp>

#include "support/temporary_folder.h"
#include "unit/camera/sample_profile.h"

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;
using ::testing::HasSubstr;

std::string reason(const std::string& text) {
  const CameraProfileLoad load = profile_from_text(text, "phone.json");
  EXPECT_FALSE(load.profile) << text.substr(0, 200);
  if (load.checks.size() != 1) return "not one check";
  EXPECT_EQ(load.checks[0].id, "camera_profile_unreadable");
  EXPECT_EQ(load.checks[0].severity, Severity::stop);
  EXPECT_THAT(load.checks[0].message, HasSubstr("phone.json can't be used as a camera profile: "));
  EXPECT_THAT(load.checks[0].message, HasSubstr("Make it again with 'scantling camera'."));
  return load.checks[0].message;
}

Json sample() {
  return Json::parse(profile_to_text(sample_profile()));
}

std::string with(const char* pointer, const Json& value) {
  Json json = sample();
  json[Json::json_pointer(pointer)] = value;
  return json.dump();
}

TEST(CameraProfileFile, KeepsEveryNumberToTheLastDigit) {
  CameraProfile profile = sample_profile();
  profile.model.k1 = -0.1 / 3;
  for (const bool named : {true, false}) {
    if (!named) profile.camera = {"", "", {}, {}, {640, 480}};
    if (!named) profile.model = {532.8, 342.5, 233.9, -0.281, 0.05};
    const CameraProfileLoad load = profile_from_text(profile_to_text(profile), "p");
    ASSERT_TRUE(load.profile) << load.checks.at(0).message;
    const CameraProfile& back = *load.profile;
    EXPECT_EQ(back.camera.make, profile.camera.make);
    EXPECT_EQ(back.camera.model, profile.camera.model);
    EXPECT_EQ(back.camera.focal_length_mm, profile.camera.focal_length_mm);
    EXPECT_EQ(back.camera.focal_length_35mm, profile.camera.focal_length_35mm);
    EXPECT_EQ(back.camera.sensor, profile.camera.sensor);
    EXPECT_EQ(back.parameters(), profile.parameters());
    EXPECT_LT((back.covariance - profile.covariance).cwiseAbs().maxCoeff(), 1e-15);
    EXPECT_EQ(back.residual_px, profile.residual_px);
    EXPECT_EQ(back.photos, profile.photos);
    EXPECT_EQ(back.corners, profile.corners);
    EXPECT_EQ(back.distance_mm, profile.distance_mm);
    EXPECT_EQ(back.coverage.picture_share, profile.coverage.picture_share);
    EXPECT_EQ(back.coverage.tilt_near_deg, profile.coverage.tilt_near_deg);
    EXPECT_EQ(back.made_on, profile.made_on);
    EXPECT_EQ(profile_to_text(back), profile_to_text(profile));
  }
}

TEST(CameraProfileFile, RefusesNumbersOutsideACamerasRange) {
  const double huge = std::numeric_limits<double>::max();
  for (const char* place :
       {"/lens/focal_px/value", "/lens/centre_x_px/value", "/lens/centre_y_px/value",
        "/lens/k1/value", "/lens/k2/value", "/lens/focal_px/standard_deviation", "/residual_px",
        "/photos", "/corners", "/distance_mm", "/camera/width_px", "/camera/height_px",
        "/camera/focal_length_mm", "/coverage/picture_share", "/coverage/tilt_far_deg"})
    for (const Json& value : {Json(-huge), Json(huge), Json(-1e9), Json("3000"), Json(true),
                              Json(std::vector{1, 2}), Json(nullptr)}) {
      if (value.is_null() && std::string(place) == "/camera/focal_length_mm") continue;
      EXPECT_NE(reason(with(place, value)), "") << place;
    }
  EXPECT_THAT(reason(with("/lens/focal_px/value", 1e6)),
              HasSubstr("\"value\" is 1000000, outside"));
  EXPECT_THAT(reason(with("/photos", 8.5)), HasSubstr("a whole number"));
  EXPECT_THAT(reason(with("/lens/k1/standard_deviation", 0)), HasSubstr("standard_deviation"));
}

TEST(CameraProfileFile, RefusesACovarianceThatCannotBeOne) {
  EXPECT_THAT(reason(with("/lens/covariance/0/0", 1.0)), HasSubstr("contradicts the standard"));
  EXPECT_THAT(reason(with("/lens/covariance/0/1", 3.0)), HasSubstr("not symmetric"));
  EXPECT_THAT(reason(with("/lens/covariance", Json::array())), HasSubstr("5 rows"));
  EXPECT_THAT(reason(with("/lens/covariance/2", Json::array({1, 2}))), HasSubstr("5 columns"));
  // Correlations of 0.9, 0.9 and -0.9 among three quantities contradict each other.
  Json json = sample();
  const auto set = [&](int i, int k, double rho) {
    const auto u = sample_profile().standard_deviations();
    for (const auto& [a, b] : {std::pair{i, k}, std::pair{k, i}})
      json["lens"]["covariance"][static_cast<std::size_t>(a)][static_cast<std::size_t>(b)] =
          rho * u[i] * u[k];
  };
  set(0, 1, 0.9);
  set(1, 2, 0.9);
  set(0, 2, -0.9);
  EXPECT_THAT(reason(json.dump()), HasSubstr("not positive"));
}

TEST(CameraProfileFile, RefusesOtherVersionsAndOtherFiles) {
  EXPECT_THAT(reason(with("/scantling_camera_profile", 2)), HasSubstr("has version 2"));
  EXPECT_THAT(reason(with("/scantling_camera_profile", 99999999999999)), HasSubstr("has version"));
  EXPECT_THAT(reason(with("/scantling_camera_profile", "1")), HasSubstr("a whole number"));
  EXPECT_THAT(reason(with("/owner", "me")), HasSubstr("does not know"));
  EXPECT_THAT(reason("{}"), HasSubstr("\"scantling_camera_profile\" is missing"));
  EXPECT_THAT(reason("[]"), HasSubstr("JSON object"));
  for (const char* text :
       {"", "null", "no JSON", "{", "\xff\xfe", "{\"scantling_camera_profile\": 1"})
    reason(text);
  EXPECT_THAT(reason(std::string(70'000, ' ')), HasSubstr("too long"));
  // Deep nesting must not exhaust the stack.
  reason(std::string(30'000, '['));
  const Json whole = sample();
  for (const auto& item : whole.items()) {
    Json json = sample();
    json.erase(item.key());
    EXPECT_THAT(reason(json.dump()), HasSubstr("missing")) << item.key();
  }
  for (const char* date : {"", "2026-13-01", "2026-11-00", "26-11-25", "2026/11/25", "tomorrow"})
    EXPECT_THAT(reason(with("/made_on", date)), HasSubstr("date")) << date;
  EXPECT_THAT(reason(with("/camera/make", std::string(101, 'a'))), HasSubstr("too long"));
  EXPECT_THAT(reason(with("/camera/make", "a\x1b[2J")), HasSubstr("can't be printed"));
}

TEST(CameraProfileFile, IsNotWrittenWithNumbersThatItWouldNotRead) {
  CameraProfile profile = sample_profile();
  profile.model.focal_px = NAN;
  EXPECT_THROW(profile_to_text(profile), std::invalid_argument);
  profile = sample_profile();
  profile.covariance.setZero();
  EXPECT_THROW(profile_to_text(profile), std::invalid_argument);
}

TEST(CameraProfileFile, OpensOrdinaryFilesOnly) {
  const TemporaryFolder folder;
  const auto path = folder.file("phone.json", profile_to_text(sample_profile()));
  EXPECT_TRUE(load_camera_profile(path).profile);
  EXPECT_THAT(load_camera_profile(folder / "none.json").checks.at(0).message,
              HasSubstr("There is no camera profile"));
  EXPECT_THAT(load_camera_profile("/dev/zero").checks.at(0).message, HasSubstr("it is no file"));
  EXPECT_THAT(load_camera_profile(folder / ".").checks.at(0).message, HasSubstr("it is no file"));
}

}  // namespace
}  // namespace scantling
