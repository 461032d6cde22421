#include <gtest/gtest.h>

#include "support/run_program.h"
#include "support/temporary_folder.h"
#include "window/shots.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

using nlohmann::json;

TEST(FirstScreen, ShowsTheFourStepsAndOffersWhatToDo) {
  const TemporaryFolder folder;
  const VirtualDisplay display;
  WindowDriver window(display, folder.path());
  EXPECT_EQ(window.state()["screen"], "start");
  for (const char* button : {"open_photos", "new_job", "sheet_a4", "sheet_letter"})
    window.wait_for_rect("button:" + std::string(button));
  window.screenshot(shot("first-screen"));
  EXPECT_EQ(window.quit(), 0);
}

TEST(FirstScreen, StartsAJobByHand) {
  const TemporaryFolder folder;
  const VirtualDisplay display;
  WindowDriver window(display, folder.path());
  window.key("ctrl+n");
  window.fill("field:vehicle_name", "Blue estate");
  window.fill("field:odometer", "81 250");
  window.click("radio:rear");
  window.screenshot(shot("new-job"));
  window.click("button:job_done");
  const json now =
      window.wait_for("the job", [](const json& state) { return state.at("screen") == "job"; });
  EXPECT_EQ(now["job"]["vehicle"], "Blue estate");
  EXPECT_EQ(now["job"]["axle"], "rear");
  EXPECT_EQ(now["job"]["odometer_km"], 81250.0);
  window.click("pad:right_inner");
  window.wait_for("the other pad", [](const json& state) {
    return state.at("part").at("side") == "right" && state.at("part").at("place") == "inner";
  });
  window.fill("field:minimum", "2,5");
  window.wait_for("the minimum",
                  [](const json& state) { return state.at("part").at("minimum_mm") == 2.5; });
  window.fill("field:reading", "7/8 in");
  window.click("button:add_reading");
  window.wait_for("the reading", [](const json& state) {
    return state.at("part").at("readings") == 1 && state.at("part").at("standing") == "keep";
  });
  window.screenshot(shot("hand-reading"));
  EXPECT_EQ(window.quit(), 0);
}

TEST(FirstScreen, ShowsHowToTakeThePhotosBeforeThereIsAJob) {
  const TemporaryFolder folder;
  const VirtualDisplay display;
  WindowDriver window(display, folder.path());
  const auto shows = [](const std::string& view) {
    return [view](const json& state) {
      return state.at("screen") == "start" && state.at("guide") == true &&
             state.at("guide_view") == view;
    };
  };
  window.wait_for_rect("button:guide");
  window.key("g");
  window.wait_for("the guide", shows("pad"));
  window.screenshot(shot("guide-without-job"));
  window.key("Tab");
  window.wait_for("the next view", shows("pile"));
  window.key("Right");
  window.wait_for("the one after it", shows("rim"));
  window.screenshot(shot("guide-rim-without-job"));
  window.key("Escape");
  window.wait_for("the first screen", [](const json& state) { return state.at("guide") == false; });
  window.click("button:guide");
  window.wait_for("the guide", shows("pad"));
  window.click("button:guide_new_job");
  window.fill("field:vehicle_name", "Blue estate");
  window.click("button:job_done");
  window.wait_for("the job", [](const json& state) {
    return state.at("screen") == "job" && state.at("guide") == false;
  });
  // In the place of the missing photo the keys go through the part's own views.
  window.key("Tab");
  window.wait_for("the pad's other view", [](const json& state) {
    return state.at("guide") == true && state.at("guide_view") == "pile";
  });
}

TEST(FirstScreen, AnOdometerThatIsNoneIsAskedForAgain) {
  const TemporaryFolder folder;
  const VirtualDisplay display;
  WindowDriver window(display, folder.path());
  window.key("ctrl+n");
  window.fill("field:vehicle_name", "Blue estate");
  window.fill("field:odometer", "many");
  window.click("button:job_done");
  window.screenshot(shot("new-job-refused"));
  EXPECT_EQ(window.state()["screen"], "start");
  window.fill("field:odometer", "");
  window.click("button:job_done");
  window.wait_for("the job", [](const json& state) { return state.at("screen") == "job"; });
}

TEST(NoDisplay, IsSaidInOneSentence) {
  const TemporaryFolder folder;
  const ProgramResult result =
      run_program({SCANTLING_EXECUTABLE, "--record", (folder / "record.sqlite").string()},
                  {"DISPLAY=", "WAYLAND_DISPLAY=", "XDG_STATE_HOME=" + folder.path().string()});
  EXPECT_EQ(result.exit_status, 1);
  EXPECT_NE(result.errors.find("no window can be opened here"), std::string::npos);
  EXPECT_EQ(result.output, "");
}

}  // namespace
}  // namespace scantling
