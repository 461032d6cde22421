// The axle's six parts at a glance, by mouse and by keys.
#include <gtest/gtest.h>

#include "support/temporary_folder.h"
#include "window/shots.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

using nlohmann::json;

WindowDriver::Condition shows_map(bool shown) {
  return [shown](const json& state) { return state.at("map") == shown; };
}

WindowDriver::Condition at(const char* kind, const char* side, const char* place) {
  return [=](const json& state) {
    const json& part = state.at("part");
    return part.at("kind") == kind && part.at("side") == side &&
           (std::string(kind) == "disc" || part.at("place") == place);
  };
}

TEST(AxleMapWindow, ShowsTheDemosPartsAndOpensTheOneClicked) {
  const TemporaryFolder folder;
  const VirtualDisplay display;
  WindowDriver window(display, folder.path());
  window.click("button:demo");
  window.wait_until_measured();
  window.click_until("button:axle_map", shows_map(true));
  window.wait_for_rect("map:right_disc");
  EXPECT_NE(window.text("map:left_inner").find("mm"), std::string::npos);
  window.hover("map:right_outer");
  window.screenshot(shot("axle-map"));
  window.click("map:right_outer");
  window.wait_for("the photo again", shows_map(false));
  window.wait_for("the pad", at("pad", "right", "outer"));
  window.wait_until_measured();
}

TEST(AxleMapWindow, IsReachedByKeys) {
  const TemporaryFolder folder;
  const VirtualDisplay display;
  WindowDriver window(display, folder.path(), {demo_photo().string()});
  window.wait_until_measured();
  window.key("m");
  window.wait_for("the map", shows_map(true));
  window.key("Right");
  window.wait_for("the disc", at("disc", "left", ""));
  window.key("Down");
  window.wait_for("the other disc", at("disc", "right", ""));
  window.key("Right");
  window.wait_for("the inner pad", at("pad", "right", "inner"));
  window.screenshot(shot("axle-map-keys"));
  window.key("Return");
  window.wait_for("the photo's place", shows_map(false));
  EXPECT_EQ(window.state()["part"]["side"], "right");
}

}  // namespace
}  // namespace scantling
