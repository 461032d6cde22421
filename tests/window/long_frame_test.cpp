// A frame that takes long: what mouse and keyboard did meanwhile counts where and when it was done.
#include <gtest/gtest.h>

#include "support/temporary_folder.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

using nlohmann::json;

struct LongFrame : testing::Test {
  LongFrame() { window.wait_until_measured(); }

  json shows_part(const char* side, const char* place) {
    return window.wait_for("the part", [&](const json& state) {
      return state.at("part").at("kind") == "pad" && state.at("part").at("side") == side &&
             state.at("part").at("place") == place;
    });
  }

  TemporaryFolder folder;
  VirtualDisplay display;
  WindowDriver window{display, folder.path(), {demo_photo().string()}};
};

TEST_F(LongFrame, AClickCountsWhereThePointerWas) {
  window.click("pad:left_outer");
  shows_part("left", "outer");
  window.in_one_frame([&] {
    window.click("pad:right_outer");
    window.hover("disc:right");
  });
  shows_part("right", "outer");
}

TEST_F(LongFrame, TwoClicksAreTwo) {
  window.in_one_frame([&] {
    window.click("pad:right_outer");
    window.click("pad:right_inner");
    window.click("menu:edit");
  });
  window.wait_for_rect("menu:settings");
  shows_part("right", "inner");
}

TEST_F(LongFrame, AKeyAfterAClickGoesWhereTheClickLed) {
  window.key("F1");
  window.hover("button:help_close");  // once it stands still
  window.hover("disc:right");
  window.in_one_frame([&] {
    window.click("button:help_close");
    window.key("w");
  });
  window.wait_for("the work", [](const json& state) { return state.at("screen") == "work"; });
  EXPECT_EQ(window.state()["dialog"], false);
}

TEST_F(LongFrame, AClickAfterAKeyGoesWhereTheKeyLed) {
  window.key("F1");
  window.wait_for_rect("button:help_close");
  window.in_one_frame([&] {
    window.key("Escape");
    window.click("pad:right_outer");
  });
  shows_part("right", "outer");
  EXPECT_EQ(window.state()["dialog"], false);
}

TEST_F(LongFrame, ADraggedEdgeStaysWhereItWasLetGo) {
  const json before = window.state();
  ASSERT_EQ(before["edges"]["friction_outer"]["origin"], "found");
  window.drag("edge:friction_outer", 0, -14);
  const json slowly = window.wait_for("the moved edge", [](const json& state) {
    return state.at("edges").at("friction_outer").at("origin") == "moved";
  })["edges"]["friction_outer"];
  window.key("ctrl+z");
  window.wait_for("the edge as it was", [&](const json& state) {
    return state.at("edges").at("friction_outer") == before.at("edges").at("friction_outer");
  });
  window.in_one_frame([&] {
    window.drag("edge:friction_outer", 0, -14);
    window.hover("disc:right");
  });
  const json at_once = window.wait_for("the moved edge", [](const json& state) {
    return state.at("edges").at("friction_outer").at("origin") == "moved";
  })["edges"]["friction_outer"];
  for (const char* end : {"a", "b"})
    for (std::size_t axis = 0; axis < 2; ++axis)
      EXPECT_NEAR(at_once[end][axis].get<double>(), slowly[end][axis].get<double>(), 0.5) << end;
}

}  // namespace
}  // namespace scantling
