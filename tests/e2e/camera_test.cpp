// A camera profile from drawn photos of the ground sheet, through the executable.

#include <gmock/gmock.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "support/calibration_photos.h"
#include "support/run_program.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

using test::kCalibratedFocal_px;
using test::kCalibratedK1;
using test::sheet_view;
using test::write_sheet_photo;

class Camera : public ::testing::Test {
 protected:
  static void SetUpTestSuite() {
    folder = new TemporaryFolder;
    photos = test::write_calibration_photos(*folder);
  }
  static void TearDownTestSuite() {
    delete folder;
    photos.clear();
  }
  static ProgramResult run(const std::string& command, const std::vector<std::string>& arguments) {
    std::vector<std::string> all{SCANTLING_EXECUTABLE, command};
    all.insert(all.end(), arguments.begin(), arguments.end());
    return run_program(all, {"XDG_DATA_HOME=" + (*folder / "data").string()});
  }
  static ProgramResult calibrate(const std::string& out, std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), {"--out", (*folder / out).string()});
    return run("camera", arguments);
  }
  static std::vector<std::string> with_json(std::vector<std::string> list) {
    list.insert(list.begin(), "--json");
    return list;
  }
  static inline TemporaryFolder* folder = nullptr;
  static inline std::vector<std::string> photos;
};

TEST_F(Camera, MakesAProfileThatMeasuringTakes) {
  const ProgramResult made = calibrate("phone.json", with_json(photos));
  ASSERT_EQ(made.exit_status, 0) << made.errors;
  const json result = json::parse(made.output);
  EXPECT_EQ(result["accepted"], true);
  EXPECT_EQ(result["photos_used"], 11);
  EXPECT_THAT(result["missing"], IsEmpty());
  const json& camera = result["camera"];
  const auto off = [&](double value, double truth, double u) {
    EXPECT_NEAR(value, truth, 3.5 * u);
    return (value - truth) / u;
  };
  std::printf(
      "errors over standard deviations: focal length %.2f, centre %.2f %.2f, k1 %.2f; residual "
      "%.3f px\n",
      off(camera["focal_px"], kCalibratedFocal_px, camera["focal_px_standard_deviation"]),
      off(camera["centre_px"][0], 799.5, camera["centre_px_standard_deviation"][0]),
      off(camera["centre_px"][1], 599.5, camera["centre_px_standard_deviation"][1]),
      off(camera["k1"], kCalibratedK1, camera["k1_standard_deviation"]),
      camera["residual_px"].get<double>());
  EXPECT_LT(camera["focal_px_standard_deviation"].get<double>(), 0.005 * kCalibratedFocal_px);
  EXPECT_LT(camera["residual_px"].get<double>(), 0.2);

  // A photo by the same camera is measured by it; one by another says why not and does without.
  const std::string profile = (*folder / "phone.json").string();
  const auto checks = [&](const std::string& photo) {
    const ProgramResult run_ =
        run("measure", {"--view", "pad", "--camera", profile, "--json", photo});
    return json::parse(run_.output).at("checks").dump();
  };
  EXPECT_THAT(checks(SCANTLING_SOURCE_DIR "/assets/demo/pad_left_outer.jpg"),
              HasSubstr("camera_profile_unfit"));
}

TEST_F(Camera, SaysWhatIsMissingAndWritesNothing) {
  const ProgramResult few = calibrate("few.json", with_json({photos[4], photos[6], photos[0]}));
  EXPECT_EQ(few.exit_status, 3);
  const json result = json::parse(few.output);
  EXPECT_EQ(result["accepted"], false);
  EXPECT_FALSE(result["camera"].is_null());
  EXPECT_THAT(few.errors, HasSubstr("5 more photos are wanted."));
  EXPECT_THAT(few.errors, HasSubstr("from further to the right"));
  EXPECT_THAT(few.errors, HasSubstr("No profile was written"));
  EXPECT_FALSE(std::filesystem::exists(*folder / "few.json"));
}

TEST_F(Camera, NamesThePhotosThatDoNotBelong) {
  std::vector<std::string> list = photos;
  list.push_back(write_sheet_photo(*folder, "other.jpg", sheet_view(3, 3, 0, 0, 250), "L8"));
  list.push_back(photos[0]);
  list.push_back((*folder / "none.jpg").string());
  list.push_back(SCANTLING_SOURCE_DIR "/README.md");
  const ProgramResult made = calibrate("named.json", with_json(list));
  EXPECT_EQ(made.exit_status, 0) << made.errors;
  const json result = json::parse(made.output);
  EXPECT_EQ(result["photos_used"], 11);
  for (std::size_t i = 11; i < 15; ++i) EXPECT_EQ(result["photos"][i]["used"], false) << i;
  EXPECT_THAT(made.errors, HasSubstr("taken by Lumenworks L8"));
  EXPECT_THAT(made.errors, HasSubstr("It is the same photo as"));
  EXPECT_THAT(made.errors, HasSubstr("none.jpg"));
  EXPECT_THAT(made.errors, HasSubstr("README.md"));
}

TEST_F(Camera, WritesTheSameProfileAgainAndKeepsTheOldOneWhenItCannotWrite) {
  EXPECT_EQ(calibrate("no/such/folder.json", photos).exit_status, 2);
  const ProgramResult plain = calibrate("again.json", photos);
  EXPECT_EQ(plain.exit_status, 0);
  EXPECT_THAT(plain.output, HasSubstr("focal length"));
  EXPECT_THAT(plain.errors, HasSubstr("lumenworks-l7-26mm-1600x1200.json"));
  EXPECT_EQ(calibrate("again.json", {photos[0]}).exit_status, 3);
  std::stringstream kept;
  kept << std::ifstream(*folder / "again.json").rdbuf();
  EXPECT_EQ(json::parse(kept.str())["photos"], 11);
}

TEST(CameraUse, WantsPhotosAndAPlaceToWrite) {
  const auto camera = [](std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), {SCANTLING_EXECUTABLE, "camera"});
    return run_program(arguments);
  };
  EXPECT_EQ(camera({}).exit_status, 2);
  EXPECT_EQ(camera({"--out", "x.json"}).exit_status, 2);
  EXPECT_EQ(camera({"sheet.jpg"}).exit_status, 2);
  EXPECT_EQ(camera({"--out", "-", "sheet.jpg"}).exit_status, 2);
  const ProgramResult help = camera({"--help"});
  EXPECT_EQ(help.exit_status, 0);
  EXPECT_THAT(help.output, HasSubstr("Example: scantling camera"));
}

}  // namespace
}  // namespace scantling
