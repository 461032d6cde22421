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

/// A made photo's true camera as the sensor has it; truth.json tells it as the upright photo does.
struct TrueCamera {
  double focal_px = 0, centre_x = 0, centre_y = 0, k1 = 0, k2 = 0;
};

TrueCamera true_camera(const json& camera) {
  const double across = camera["width_px"].get<double>() - 1, cx = camera["cx"],
               down = camera["height_px"].get<double>() - 1, cy = camera["cy"];
  TrueCamera truth{camera["f_px"], cx, cy, camera["k1"], camera["k2"]};
  switch (camera["orientation"].get<int>()) {
    case 3:
      truth.centre_x = across - cx;
      truth.centre_y = down - cy;
      break;
    case 6:
      truth.centre_x = cy;
      truth.centre_y = across - cx;
      break;
    case 8:
      truth.centre_x = down - cy;
      truth.centre_y = cx;
      break;
    default:
      break;
  }
  return truth;
}

// Rendered pictures of a known camera, held in all four ways, with grease on the sheet, noise, blur
// out of focus and JPEG: what the command makes of them must hold the truth in its own uncertainty.
TEST_F(Camera, TheDemosPhotosGiveTheirTrueCamera) {
  const std::string demo = SCANTLING_SOURCE_DIR "/assets/demo/";
  std::ifstream job_file(demo + "job.json"), truth_file(demo + "truth.json");
  const json job = json::parse(job_file), truths = json::parse(truth_file);
  std::vector<std::string> sheets;
  TrueCamera mean;  // focus and stabiliser move a little between the photos
  const auto share = 1.0 / static_cast<double>(job["camera_photos"].size());
  for (const std::string name : job["camera_photos"]) {
    sheets.push_back(demo + name);
    const TrueCamera one = true_camera(truths.at(name).at("camera"));
    mean.focal_px += share * one.focal_px;
    mean.centre_x += share * one.centre_x;
    mean.centre_y += share * one.centre_y;
    mean.k1 += share * one.k1;
    mean.k2 += share * one.k2;
  }
  const ProgramResult made = calibrate("demo.json", with_json(sheets));
  ASSERT_EQ(made.exit_status, 0) << made.errors;
  const json result = json::parse(made.output);
  EXPECT_EQ(result["accepted"], true);
  EXPECT_EQ(result["photos_used"], sheets.size());
  const json& camera = result["camera"];
  const auto expect = [](const char* what, double value, double truth, double u, double most_u) {
    EXPECT_NEAR(value, truth, 3.5 * u) << what;
    // That the truth lies within is worth something only where the uncertainty is small.
    EXPECT_LT(u, most_u) << what;
    std::printf("%s: error over standard deviation %.2f\n", what, (value - truth) / u);
  };
  const json& centre_u = camera["centre_px_standard_deviation"];
  expect("focal length", camera["focal_px"], mean.focal_px, camera["focal_px_standard_deviation"],
         0.002 * mean.focal_px);
  expect("centre x", camera["centre_px"][0], mean.centre_x, centre_u[0], 0.5);
  expect("centre y", camera["centre_px"][1], mean.centre_y, centre_u[1], 0.5);
  expect("k1", camera["k1"], mean.k1, camera["k1_standard_deviation"], 0.0005);
  expect("k2", camera["k2"], mean.k2, camera["k2_standard_deviation"], 0.0005);
  EXPECT_LT(camera["residual_px"].get<double>(), 0.2);

  // The demo's other photos are by the same phone: the profile serves them without being named.
  const ProgramResult measured =
      run("measure", {"--view", "pad", "--camera", (*folder / "demo.json").string(), "--json",
                      demo + "pad_left_outer.jpg"});
  EXPECT_EQ(measured.output.find("camera_profile_unfit"), std::string::npos);
  EXPECT_THAT(measured.output, HasSubstr("camera profile"));
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
