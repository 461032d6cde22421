// The camera page in the real window: photos in, coverage seen, profile kept.

#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>

#include "support/calibration_photos.h"
#include "window/shots.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

using nlohmann::json;

/// Stands in for the desktop's file dialog: it "chooses" the files that a list names.
std::string with_dialog(const TemporaryFolder& folder) {
  std::filesystem::create_directories(folder / "bin");
  const std::filesystem::path program = folder / "bin" / "zenity";
  std::ofstream(program) << "#!/bin/sh\ncat \"" << (folder / "chosen").string() << "\"\n";
  std::filesystem::permissions(program, std::filesystem::perms::owner_all);
  return "PATH=" + (folder / "bin").string() + ":" + std::getenv("PATH");
}

void choose(const TemporaryFolder& folder, const std::vector<std::string>& files) {
  std::ofstream list(folder / "chosen");
  for (const std::string& file : files) list << file << "\n";
}

TEST(CameraWindow, BringsPhotosToAKeptProfile) {
  const TemporaryFolder folder;
  const std::vector<std::string> photos = test::write_calibration_photos(folder);
  const VirtualDisplay display;
  WindowDriver window(display, folder.path(), {},
                      {with_dialog(folder), "XDG_DATA_HOME=" + (folder / "data").string()});
  window.wait_for_rect("menu:job");
  window.click("menu:job");
  window.wait_for_rect("menu:camera");
  window.click("menu:camera");
  window.wait_for("the camera page", [](const json& s) { return s.at("screen") == "camera"; });

  choose(folder, {photos[0], photos[4], photos[7]});
  window.click("button:camera_add");
  const json few = window.wait_for("three photos", [](const json& s) {
    return s.at("camera").at("photos") == 3 && s.at("busy") == false;
  });
  EXPECT_EQ(few["camera"]["used"], 3);
  EXPECT_EQ(few["camera"]["accepted"], false);
  EXPECT_THAT(few["camera"]["missing"].dump(), testing::HasSubstr("5 more photos are wanted"));
  window.screenshot(shot("camera-few"));

  choose(folder, {photos[1], photos[2], photos[3], photos[5], photos[6], photos[8], photos[9],
                  photos[10], photos[0]});
  window.click("button:camera_add");
  const json all = window.wait_for("all photos", [](const json& s) {
    return s.at("camera").at("photos") == 12 && s.at("busy") == false;
  });
  EXPECT_EQ(all["camera"]["used"], 11);  // one came twice
  EXPECT_GT(all["camera"]["picture_share"], few["camera"]["picture_share"]);
  EXPECT_EQ(all["camera"]["accepted"], true) << all["camera"]["missing"];
  window.wait_for_rect("button:camera_save");
  window.screenshot(shot("camera-enough"));
  window.click("button:camera_save");
  window.wait_for("the kept profile",
                  [](const json& s) { return s.at("camera").at("saved_as") != ""; });
  EXPECT_TRUE(std::filesystem::exists(folder / "data/scantling/cameras" /
                                      "lumenworks-l7-26mm-1600x1200.json"));

  window.click("button:camera_remove12");
  window.wait_for("eleven photos", [](const json& s) { return s.at("camera").at("photos") == 11; });
  window.click("button:camera_back");
  window.wait_for("the first screen", [](const json& s) { return s.at("screen") == "start"; });
  EXPECT_EQ(window.quit(), 0);
}

}  // namespace
}  // namespace scantling
