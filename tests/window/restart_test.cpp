#include <gtest/gtest.h>

#include "support/temporary_folder.h"
#include "window/shots.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

using nlohmann::json;

// Moves the friction face by hand and enters a minimum; the state the program then tells of.
json work_on_a_photo(WindowDriver& window) {
  window.wait_until_measured();
  window.drag("edge:friction_outer", 0, -16);
  window.wait_for("the moved edge", [](const json& state) {
    return state.at("edges").at("friction_outer").at("origin") == "moved";
  });
  window.fill("field:minimum", "3");
  return window.wait_for(
      "the minimum", [](const json& state) { return state.at("part").at("minimum_mm") == 3.0; });
}

void expect_the_same(const json& before, const json& after) {
  EXPECT_EQ(before["job"], after["job"]);
  EXPECT_EQ(before["part"], after["part"]);
  EXPECT_EQ(before["photo"]["friction_mm"], after["photo"]["friction_mm"]);
  EXPECT_EQ(before["photo"]["expanded_95_mm"], after["photo"]["expanded_95_mm"]);
  EXPECT_EQ(before["edges"], after["edges"]);
  EXPECT_EQ(after["edges"]["friction_outer"]["origin"], "moved");
  EXPECT_NE(after["edges"]["friction_outer"]["confirmed_by"], "");
}

TEST(Restart, FindsTheWorkAgain) {
  const TemporaryFolder folder;
  const VirtualDisplay display;
  json before;
  {
    WindowDriver window(display, folder.path(), {demo_photo().string()});
    before = work_on_a_photo(window);
    window.screenshot(shot("before-restart"));
    EXPECT_EQ(window.quit(), 0);
  }
  WindowDriver window(display, folder.path());
  window.wait_until_measured();
  expect_the_same(before, window.state());
  window.screenshot(shot("after-restart"));
  // And the work goes on: the edge can be dragged further.
  window.drag("edge:friction_outer", 0, 12);
  window.wait_for("a further move", [&](const json& state) {
    return state.at("photo").at("friction_mm") != before["photo"]["friction_mm"];
  });
}

TEST(Restart, ASuddenEndLosesNothing) {
  const TemporaryFolder folder;
  const VirtualDisplay display;
  json before;
  {
    WindowDriver window(display, folder.path(), {demo_photo().string()});
    before = work_on_a_photo(window);
    window.kill_now();
  }
  WindowDriver window(display, folder.path(), {});
  // The job left open was noted when it was made; a sudden end does not lose that either.
  window.wait_until_measured();
  expect_the_same(before, window.state());
}

TEST(HighResolution, EverythingGrowsWithTheContentScale) {
  const TemporaryFolder small_home, large_home;
  const VirtualDisplay plain;
  const VirtualDisplay fine(192);
  WindowDriver small(plain, small_home.path());
  WindowDriver large(fine, large_home.path());
  large.screenshot(shot("first-screen-2x"));
  small.wait_for_rect("button:open_photos");
  large.wait_for_rect("button:open_photos");
  const double plain_height = small.rect("button:open_photos")[3];
  const double fine_height = large.rect("button:open_photos")[3];
  EXPECT_NEAR(fine_height, 2 * plain_height, 2);
}

}  // namespace
}  // namespace scantling
