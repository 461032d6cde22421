#include <gtest/gtest.h>

#include <cmath>

#include "report/summary.h"
#include "support/temporary_folder.h"
#include "window/shots.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

using nlohmann::json;

class PhotoWindow : public testing::Test {
 protected:
  PhotoWindow() : window_(display_, folder_.path(), {demo_photo().string()}) {
    window_.wait_until_measured();
  }

  double friction_mm() const { return window_.state()["photo"]["friction_mm"]; }
  double edge_y(const std::string& edge) const { return window_.state()["edges"][edge]["a"][1]; }
  void wait_for_undo(const std::string& name) {
    window_.wait_for("undo of " + name,
                     [&](const json& state) { return state.at("undo") == name; });
  }

  TemporaryFolder folder_;
  VirtualDisplay display_;
  WindowDriver window_;
};

TEST_F(PhotoWindow, OpensThePhotoInADraftJobAndShowsItsEdges) {
  const json now = window_.state();
  EXPECT_EQ(now["job"]["vehicle"], "Unsorted photos");
  EXPECT_EQ(now["photo"]["name"], demo_photo().filename().string());
  for (const char* edge : {"plate_outer", "plate_friction", "friction_outer"}) {
    EXPECT_TRUE(now["edges"].contains(edge)) << edge;
    EXPECT_FALSE(window_.rect("edge:" + std::string(edge)).is_null()) << edge;
  }
  EXPECT_GT(friction_mm(), 0.5);
  window_.screenshot(shot("photo-opened"));
}

TEST_F(PhotoWindow, DraggingAnEdgeShowsSizeAndMagnifierAtOnce) {
  const double before = friction_mm();
  window_.drag("edge:friction_outer", 0, -16, false);
  double last = before;
  int still = 0;  // the pointer has arrived when the size stays
  const json during = window_.wait_for("the dragged size", [&](const json& state) {
    const double size = state.at("photo").at("friction_mm").get<double>();
    still = size == last ? still + 1 : 0;
    last = size;
    return state.at("dragging") == true && std::abs(size - before) > 0.05 && still > 6;
  });
  EXPECT_EQ(during["undo"], "add photo");  // nothing is recorded before the edge is let go
  window_.wait_for_rect("magnifier");
  window_.screenshot(shot("dragging"));
  window_.let_go();
  wait_for_undo("move friction face");
  const json after = window_.state();
  EXPECT_EQ(after["edges"]["friction_outer"]["origin"], "moved");
  EXPECT_EQ(after["edges"]["plate_outer"]["origin"], "found");
  EXPECT_NE(after["edges"]["friction_outer"]["confirmed_by"], "");
  EXPECT_DOUBLE_EQ(after["photo"]["friction_mm"].get<double>(),
                   during["photo"]["friction_mm"].get<double>());
}

TEST_F(PhotoWindow, EscapeLetsGoOfADragAndChangesNothing) {
  const double before = friction_mm();
  window_.drag("edge:friction_outer", 0, -16, false);
  window_.wait_for("the drag", [](const json& state) { return state.at("dragging") == true; });
  window_.key("Escape");
  window_.wait_for("the end of the drag",
                   [](const json& state) { return state.at("dragging") == false; });
  window_.let_go();
  EXPECT_DOUBLE_EQ(friction_mm(), before);
  EXPECT_EQ(window_.state()["undo"], "add photo");
}

TEST_F(PhotoWindow, TenFastKeysAreTenSteps) {
  window_.key("Tab");
  const std::string edge = window_.wait_for("a selected edge", [](const json& state) {
    return state.at("selected_edge") != "";
  })["selected_edge"];
  const double start = edge_y(edge);
  for (int i = 0; i < 10; ++i) window_.key("Down");
  window_.wait_for("ten steps down",
                   [&](const json&) { return std::abs(edge_y(edge) - start - 10) < 1.0; });
  const double down = edge_y(edge);
  for (int i = 0; i < 10; ++i) window_.key("ctrl+z");
  window_.wait_for("ten steps back",
                   [&](const json&) { return std::abs(edge_y(edge) - start) < 1e-6; });
  EXPECT_EQ(window_.state()["edges"][edge]["origin"], "found");
  for (int i = 0; i < 5; ++i) window_.key("ctrl+shift+z");
  for (int i = 0; i < 5; ++i) window_.key("ctrl+y");
  window_.wait_for("ten steps forth",
                   [&](const json&) { return std::abs(edge_y(edge) - down) < 1e-6; });
  window_.key("shift+Up");
  window_.wait_for("ten pixels up",
                   [&](const json&) { return std::abs(edge_y(edge) - down + 10) < 1.0; });
}

TEST_F(PhotoWindow, EdgesAreConfirmedByNameAndTheVerdictFollowsTheMinimum) {
  window_.key("Return");
  window_.wait_for("confirmed edges", [](const json& state) {
    return state.at("edges").at("friction_outer").at("confirmed_by") != "" &&
           state.at("edges").at("plate_outer").at("confirmed_by") != "";
  });
  const double size = friction_mm();
  window_.fill("field:minimum", std::to_string(size - 1.2));
  window_.wait_for("keep",
                   [](const json& state) { return state.at("part").at("standing") == "keep"; });
  window_.screenshot(shot("keep"));
  window_.fill("field:minimum", std::to_string(size + 2));
  window_.wait_for("replace",
                   [](const json& state) { return state.at("part").at("standing") == "replace"; });
  window_.screenshot(shot("replace"));
  window_.fill("field:minimum", std::to_string(size));
  window_.wait_for("gauge it",
                   [](const json& state) { return state.at("part").at("standing") == "gauge it"; });
  window_.click("fold:why");
  window_.screenshot(shot("gauge-it"));
}

TEST_F(PhotoWindow, ARivalIsTakenByAClick) {
  window_.click("row:friction_outer");
  window_.key("r");
  window_.wait_for_rect("button:rivals");
  window_.screenshot(shot("rivals"));
  const json edge = window_.state()["edges"]["friction_outer"];
  if (edge["rivals"] == 0) GTEST_FAIL() << "the demo photo offers no other line";
  window_.click("row:rival:1");
  wait_for_undo("move friction face");
}

// Another window checks the sheet, say: the photo's size rests on a scale that is known better now.
TEST_F(PhotoWindow, MeasuresByItselfWithAScaleThatWasChangedElsewhere) {
  window_.drag("edge:friction_outer", 0, -16);
  wait_for_undo("move friction face");
  const double before = friction_mm();
  Sheet sheet;
  sheet.name = "printed 3 % large";
  sheet.scale = {1.03, 1.03, 0.001, true};
  {
    Record record(window_.record());
    Job job = record.job(window_.state()["job"]["id"]).value();
    job.sheet_id = record.add_sheet(sheet);
    record.update_job(job);
  }
  window_.wait_for("the size with the new scale", [&](const json& state) {
    return state.at("busy") == false && std::abs(friction_mm() / before - 1.03) < 0.005;
  });
  const json after = window_.state();
  EXPECT_EQ(after["edges"]["friction_outer"]["origin"], "moved") << "where the hand had put it";
  EXPECT_EQ(after["undo"], "move friction face") << "no step of its own";
  const Record record(window_.record());
  const JobSummary job = summarise_job(record, after["job"]["id"]).value();
  const PhotoFinding& photo = job.parts.at(0).photos.at(0);
  EXPECT_EQ(photo.newest->options.sheet_scale, sheet.scale);
  EXPECT_FALSE(photo.scale_changed);
}

TEST_F(PhotoWindow, ZoomsToThePointer) {
  const json before = window_.rect("edge:friction_outer");
  window_.wheel("edge:friction_outer", 4, true);
  window_.wait_for("a larger picture", [&](const json&) {
    const json a = window_.rect("edge:friction_outer:a");
    return a.is_null() || std::abs(a[0].get<double>() - before[0].get<double>()) > 20;
  });
  // What lies under the pointer stays there.
  EXPECT_NEAR(window_.rect("edge:friction_outer")[0], before[0], 2);
  EXPECT_NEAR(window_.rect("edge:friction_outer")[1], before[1], 2);
  window_.screenshot(shot("zoomed"));
  window_.key("0");
  window_.screenshot(shot("whole-photo"));
}

}  // namespace
}  // namespace scantling
