// A disc of the demo: its rim and lips on real photos, and the worn thickness that follows them.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

#include "support/temporary_folder.h"
#include "window/shots.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

using nlohmann::json;

class DiscWindow : public testing::Test {
 protected:
  DiscWindow() : window_(display_, folder_.path()) {
    window_.click("button:demo");
    window_.wait_until_measured();
    window_.click("disc:left");
    window_.wait_for("the disc",
                     [](const json& now) { return now.at("part").at("kind") == "disc"; });
    window_.wait_until_measured();
  }

  void show_photo(int row, const std::string& name) {
    window_.click("row:photo:" + std::to_string(row));
    window_.wait_for("the photo",
                     [&](const json& now) { return now.at("photo").at("name") == name; });
    window_.wait_until_measured();
  }
  double worn(const char* what) const { return window_.state()["part"]["worn"][what]; }

  TemporaryFolder folder_;
  VirtualDisplay display_;
  WindowDriver window_;
};

TEST_F(DiscWindow, ShowsTheWornThicknessAsASumOfWhatItsPhotosShow) {
  show_photo(1, "rim_left.jpg");
  for (const char* edge : {"edge:face_a", "edge:face_b"})
    EXPECT_FALSE(window_.rect(edge).is_null()) << edge;
  window_.screenshot(shot("disc-rim"));
  const json disc = window_.state()["part"];
  EXPECT_GE(disc["photos"], 5);  // and those for the planes
  // The demo's phone is calibrated: its profile serves from the record, not from the user's folder.
  EXPECT_EQ(window_.state()["camera"]["at_hand"], 1);
  EXPECT_FALSE(std::filesystem::exists(folder_ / "data/scantling/cameras"));
  const double over = worn("over_the_lips_mm"), out = worn("lip_out_mm"), in = worn("lip_in_mm");
  EXPECT_NEAR(worn("worn_mm"), over - out - in, 1e-9);
  // The rim's own thickness is no size of the disc: nothing on the page may be judged by it.
  EXPECT_TRUE(window_.state()["photo"]["size_mm"].is_null());
  EXPECT_NEAR(worn("worn_mm"), 22.6, 0.75);
  EXPECT_EQ(window_.text("kind:rim"), "1 of 1");
}

TEST_F(DiscWindow, ALipDraggedChangesTheWornThicknessAndIsTakenBack) {
  show_photo(2, "lip_left_outboard_1.jpg");
  window_.wait_for_rect("edge:wall_top");
  window_.screenshot(shot("disc-lip"));
  const double before = worn("worn_mm"), lip = worn("lip_out_mm"), other = worn("lip_in_mm");
  // Up, away from the foot: the lip grows, and what is left of the disc shrinks.
  window_.drag("edge:wall_top", 0, -24, false);
  window_.wait_for("the dragged lip", [&](const json& now) {
    return now.at("dragging") == true &&
           now.at("part").at("worn").at("lip_out_mm").get<double>() > lip + 0.1;
  });
  window_.wait_for_rect("magnifier");
  window_.screenshot(shot("disc-lip-dragging"));
  window_.let_go();
  const json after = window_.wait_for("the moved lip", [](const json& now) {
    return now.at("undo") == "move top of the lip" &&
           now.at("edges").at("wall_top").at("origin") == "moved";
  });
  EXPECT_NE(after["edges"]["wall_top"]["confirmed_by"], "");
  EXPECT_LT(after["part"]["worn"]["worn_mm"].get<double>(), before - 0.05);
  EXPECT_EQ(after["part"]["worn"]["lip_in_mm"].get<double>(), other) << "the other face stays";

  window_.key("ctrl+z");
  window_.wait_for("the lip as found", [](const json& now) {
    return now.at("edges").at("wall_top").at("origin") == "found";
  });
  EXPECT_NEAR(worn("worn_mm"), before, 1e-9);

  window_.scroll_to("button:confirm_all", "verdict");
  window_.click("button:confirm_all");
  window_.wait_for("confirmed lines", [](const json& now) {
    return now.at("edges").at("wall_top").at("confirmed_by") != "" &&
           now.at("edges").at("wall_foot").at("confirmed_by") != "";
  });
  window_.screenshot(shot("disc-lip-confirmed"));
}

}  // namespace
}  // namespace scantling
