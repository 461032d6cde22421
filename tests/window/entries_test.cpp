// What is typed into the panels: the printed sheet's bars, the offset, minimum and readings; and
// how the window looks in the light and on a small screen.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "support/temporary_folder.h"
#include "window/shots.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

using nlohmann::json;

class Entries : public testing::Test {
 protected:
  Entries() : window_(display_, folder_.path(), {demo_photo().string()}) {
    window_.wait_until_measured();
  }
  double friction_mm() const { return window_.state()["photo"]["friction_mm"]; }
  bool has_check(const std::string& id) const {
    const json checks = window_.state()["photo"]["checks"];
    return std::find(checks.begin(), checks.end(), id) != checks.end();
  }
  void wait_for_undo(const std::string& name) {
    window_.wait_for("undo of " + name,
                     [&](const json& state) { return state.at("undo") == name; });
  }

  TemporaryFolder folder_;
  VirtualDisplay display_;
  WindowDriver window_;
};

TEST_F(Entries, CheckBarsGiveTheSheetItsScale) {
  const double unchecked_mm = friction_mm();
  EXPECT_TRUE(has_check("sheet_scale_unchecked"));
  window_.scroll_to("fold:sheet", "entries");
  window_.click("fold:sheet");
  window_.scroll_to("field:sheet_name", "entries");
  window_.fill("field:bar_x_printed", "160");
  window_.fill("field:bar_x_measured", "163,2");
  window_.click("button:use_bars");  // too early: said in a sentence, and what is typed stays
  window_.screenshot(shot("bars-incomplete"));
  window_.fill("field:bar_y_printed", "240");
  window_.fill("field:bar_y_measured", "244.8");
  window_.fill("field:sheet_name", "Kitchen printer");
  window_.click("button:use_bars");
  wait_for_undo("set the print scale");
  window_.wait_until_measured();
  window_.screenshot(shot("bars-used"));
  // Two per cent more of everything: the picture is measured in squares of the sheet.
  EXPECT_NEAR(friction_mm() / unchecked_mm, 1.02, 0.004);
  EXPECT_FALSE(has_check("sheet_scale_unchecked"));
  window_.key("ctrl+z");
  window_.wait_for("the old scale", [&](const json& state) {
    return std::abs(state.at("photo").at("friction_mm").get<double>() - unchecked_mm) < 1e-9;
  });
}

TEST_F(Entries, AnOffsetIsTakenAndASillyOneRefused) {
  const double before_mm = friction_mm();
  window_.scroll_to("field:offset", "entries");
  window_.fill("field:offset", "2,0");
  wait_for_undo("set the offset");
  window_.wait_for("a larger size: the pad lies further away", [&](const json& state) {
    return state.at("photo").at("friction_mm").get<double>() > before_mm * 1.002;
  });
  window_.screenshot(shot("offset"));
  window_.fill("field:offset", "much");
  window_.wait_for("the refusal", [](const json& state) {
    return state.at("notice").get<std::string>().find("length in millimetres") != std::string::npos;
  });
  window_.wait_for("the offset as the record has it",
                   [&](const json&) { return window_.text("field:offset") == "2"; });
}

TEST_F(Entries, WhatIsTypedStaysWithItsPart) {
  // Pad and disc of one side, neither with a figure yet.
  window_.fill("field:reading", "5.1");
  window_.click_until("disc:left",
                      [](const json& state) { return state.at("part").at("kind") == "disc"; });
  window_.wait_for("an empty field",
                   [&](const json&) { return window_.text("field:reading").empty(); });
}

TEST_F(Entries, MonteCarloIsRunWhenAskedAndSaysWhetherItAgrees) {
  window_.scroll_to("button:confirm_all", "verdict");
  window_.click("button:confirm_all");
  window_.wait_for("a size", [](const json& state) {
    return state.at("busy") == false && !state.at("photo").at("size_mm").is_null();
  });
  window_.scroll_to("fold:why", "verdict");
  window_.click("fold:why");
  window_.scroll_to("button:monte_carlo", "verdict");
  window_.click("button:monte_carlo");
  window_.wait_for("the drawn interval", [&](const json&) {
    return window_.text("monte_carlo").find("Monte Carlo") != std::string::npos;
  });
  window_.screenshot(shot("monte-carlo"));
}

TEST_F(Entries, AMinimumsOwnSourceStays) {
  window_.fill("field:minimum", "2.5");
  window_.click("combo:origin");
  window_.click_until("row:origin:4", [](const json& state) {
    return state.at("part").at("minimum_origin") == "another source";
  });
  window_.fill("field:origin", "dealer's leaflet");
  wait_for_undo("set the minimum");
  window_.wait_for("the source", [](const json& state) {
    return state.at("part").at("minimum_origin") == "dealer's leaflet";
  });
  window_.fill("field:minimum", "2.6");
  window_.wait_for("the other minimum", [](const json& state) {
    return state.at("part").at("minimum_mm") == 2.6 &&
           state.at("part").at("minimum_origin") == "dealer's leaflet";
  });
  window_.screenshot(shot("minimum-source"));
}

TEST_F(Entries, AReadingCanBeRemovedAndBroughtBack) {
  window_.fill("field:minimum", "2");
  window_.fill("field:reading", "2");
  window_.click("button:add_reading");
  window_.wait_for("the reading",
                   [](const json& state) { return state.at("part").at("readings") == 1; });
  window_.screenshot(shot("reading"));
  window_.click("button:remove_reading:1");
  window_.wait_for("no reading",
                   [](const json& state) { return state.at("part").at("readings") == 0; });
  window_.key("ctrl+z");
  window_.wait_for("the reading again",
                   [](const json& state) { return state.at("part").at("readings") == 1; });
}

TEST_F(Entries, AZeroErrorIsTakenOffAReadingOrRefusedWithASentence) {
  window_.click("fold:readings");
  window_.scroll_to("field:permissible_error", "entries");
  window_.fill("field:zero", "two");
  window_.fill("field:reading", "2.32");
  window_.click("button:add_reading");
  window_.screenshot(shot("reading-refused"));
  window_.fill("field:zero", "0.02");
  window_.click("button:add_reading");
  window_.wait_for("the corrected reading", [](const json& state) {
    const json& part = state.at("part");
    return part.at("readings") == 1 &&
           std::abs(part.at("smallest_reading_mm").get<double>() - 2.30) < 1e-9;
  });
  window_.screenshot(shot("reading-zero"));
}

TEST_F(Entries, TheLightWindowStaysLight) {
  window_.click("menu:view");
  window_.click("menu:theme");
  window_.wait_for("the light window", [](const json& state) { return state.at("light") == true; });
  window_.key("Return");
  window_.fill("field:minimum", "2");
  window_.hover("canvas");
  window_.screenshot(shot("light"));
  EXPECT_EQ(window_.quit(), 0);
  WindowDriver again(display_, folder_.path());
  again.wait_until_measured();
  EXPECT_EQ(again.state()["light"], true);
  again.key("F1");
  again.wait_for_rect("button:help_close");
  again.screenshot(shot("light-keys"));
}

TEST(SmallScreen, AtTwiceTheScaleThePhotoKeepsHalfTheWindow) {
  const TemporaryFolder folder;
  const VirtualDisplay fine(192);
  WindowDriver window(fine, folder.path(), {demo_photo().string()});
  window.wait_until_measured();
  EXPECT_GE(window.rect("canvas")[2].get<double>(), 0.5 * 1280);
  window.screenshot(shot("small-screen-job"));
  window.key("F6");  // to what is entered, then to the result
  window.wait_for("keys at the controls",
                  [](const json& state) { return state.at("keys_at") == "controls"; });
  window.key("F6");
  window.wait_for_rect("figure");
  EXPECT_TRUE(window.rect("field:minimum").is_null());
  window.screenshot(shot("small-screen-result"));
  window.click("button:side_job");
  window.wait_for_rect("field:minimum");
}

}  // namespace
}  // namespace scantling
