// What helps to look at a photo: brightness, turning, and the tools on its canvas.
#include <gtest/gtest.h>

#include <cmath>
#include <optional>

#include "record/record.h"
#include "support/temporary_folder.h"
#include "window/shots.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

using nlohmann::json;

class CanvasTools : public testing::Test {
 protected:
  CanvasTools() : window_(display_, folder_.path(), {demo_photo().string()}) {
    window_.wait_until_measured();
  }

  double friction_mm() const { return window_.state()["photo"]["friction_mm"]; }
  double x_of(const std::string& name) const {
    return window_.rect(name)[0].get<double>() + window_.rect(name)[2].get<double>() / 2;
  }
  double y_of(const std::string& name) const {
    return window_.rect(name)[1].get<double>() + window_.rect(name)[3].get<double>() / 2;
  }
  void wait_for_look(int brightness, int quarter_turns) {
    window_.wait_for("the look", [=](const json& state) {
      return state.at("look").at("brightness") == brightness &&
             state.at("look").at("quarter_turns") == quarter_turns;
    });
  }

  TemporaryFolder folder_;
  VirtualDisplay display_;
  WindowDriver window_;
};

TEST_F(CanvasTools, BrightnessChangesThePictureAndNothingElse) {
  const double before = friction_mm();
  const std::string undo = window_.state()["undo"];
  window_.key("b");
  window_.key("b");
  window_.key("b");
  wait_for_look(3, 0);
  window_.screenshot(shot("brighter"));
  window_.click("button:darker");
  wait_for_look(2, 0);
  for (int i = 0; i < 3; ++i) window_.key("shift+b");
  wait_for_look(-1, 0);
  EXPECT_DOUBLE_EQ(friction_mm(), before);
  EXPECT_EQ(window_.state()["undo"], undo);
}

TEST_F(CanvasTools, ATurnedPhotoTakesItsHandlesPointerAndArrowsAlong) {
  const double run_x = x_of("edge:friction_outer:b") - x_of("edge:friction_outer:a");
  ASSERT_GT(std::abs(run_x), 100);
  window_.key("t");
  wait_for_look(0, 1);
  window_.wait_for("the turned edge", [&](const json&) {
    return std::abs(y_of("edge:friction_outer:b") - y_of("edge:friction_outer:a")) >
           3 * std::abs(x_of("edge:friction_outer:b") - x_of("edge:friction_outer:a"));
  });
  window_.screenshot(shot("turned"));

  // An arrow to the right moves the edge to the right on the screen.
  window_.click("row:friction_outer");
  window_.wait_for("a selected edge",
                   [](const json& state) { return state.at("selected_edge") == "friction_outer"; });
  const double before = x_of("edge:friction_outer");
  window_.key("shift+Right");
  window_.wait_for("the nudge", [&](const json& state) {
    return state.at("undo") == "move friction face" && x_of("edge:friction_outer") > before + 1;
  });
  window_.key("ctrl+z");
  window_.wait_for("undo", [](const json& state) { return state.at("undo") == "add photo"; });

  // The ring under the pointer is the one that is dragged.
  window_.drag("edge:friction_outer", 14, 0, false);
  window_.wait_for("the drag", [](const json& state) { return state.at("dragging") == true; });
  window_.wait_for_rect("magnifier");
  window_.screenshot(shot("turned-dragging"));
  window_.let_go();
  window_.wait_for("the moved edge",
                   [](const json& state) { return state.at("undo") == "move friction face"; });
  window_.key("ctrl+z");
  window_.key("shift+t");
  wait_for_look(0, 0);
}

TEST_F(CanvasTools, TheLightAcrossAnEdgeIsPlottedWithItsFit) {
  window_.key("l");
  window_.wait_for("the fit", [](const json& state) {
    return state.at("selected_edge") != "" && state.contains("light_fit");
  });
  const json fit = window_.state()["light_fit"];
  EXPECT_LT(std::abs(fit["place_px"].get<double>()), 2);  // where the edge was found
  EXPECT_GT(fit["place_u_px"].get<double>(), 0);
  EXPECT_GT(fit["blur_px"].get<double>(), 0.3);
  EXPECT_FALSE(window_.rect("light_inset").is_null());
  EXPECT_NE(window_.text("light").find("standard uncertainty"), std::string::npos);
  window_.click("row:friction_outer");
  window_.wait_for("the friction face",
                   [](const json& state) { return state.at("selected_edge") == "friction_outer"; });
  window_.screenshot(shot("light-across"));

  // A line put beside the edge shows by how much. Up is towards greater thickness here.
  const double before = window_.state()["light_fit"]["place_px"];
  for (int i = 0; i < 3; ++i) window_.key("Up");
  window_.wait_for("the step 3 px before the line", [&](const json& state) {
    return std::abs(state.at("light_fit").at("place_px").get<double>() - before + 3) < 0.4;
  });
  window_.click("button:light");
  window_.wait_for("no plot", [&](const json&) { return window_.rect("light_inset").is_null(); });
}

TEST_F(CanvasTools, TheRulerMeasuresInTheCardsPlane) {
  window_.key("0");
  window_.key("d");
  window_.wait_for("the ruler", [](const json& state) { return state.at("ruler") == true; });
  window_.wait_for_rect("ruler:a");
  const std::string first = window_.text("ruler");
  EXPECT_NE(first.find("mm"), std::string::npos) << first;
  EXPECT_NE(window_.text("ruler_note").find("In the card's plane"), std::string::npos);
  // With the keys, then with the mouse.
  window_.key("shift+Right");
  window_.wait_for("a longer length", [&](const json&) { return window_.text("ruler") != first; });
  const std::string second = window_.text("ruler");
  window_.drag("ruler:a", -60, 40, false);
  window_.wait_for_rect("magnifier");
  window_.let_go();
  window_.wait_for("another length", [&](const json&) {
    return window_.rect("magnifier").is_null() && window_.text("ruler") != second;
  });
  EXPECT_GT(std::stod(window_.text("ruler")), std::stod(second));
  window_.screenshot(shot("ruler"));
  // What is measured and recorded stays as it was.
  EXPECT_EQ(window_.state()["undo"], "add photo");
  window_.key("Escape");
  window_.wait_for("no ruler", [](const json& state) { return state.at("ruler") == false; });
}

TEST_F(CanvasTools, ALonePhotoHasNothingToBeComparedWith) {
  window_.key("c");
  window_.wait_for("the page", [](const json& state) { return state.at("screen") == "compare"; });
  window_.wait_for("the sentence",
                   [&](const json&) { return !window_.text("compare_nothing").empty(); });
  window_.screenshot(shot("compare-nothing"));
  window_.key("Escape");
  window_.wait_for("the photo", [](const json& state) { return state.at("screen") == "job"; });
}

TEST_F(CanvasTools, TheGuideShowsEveryViewAndGoesAway) {
  window_.key("g");
  window_.wait_for("the guide", [](const json& state) { return state.at("guide") == true; });
  for (const char* view : {"pad", "pile", "rim", "lip", "faces"}) {
    window_.wait_for("the view", [&](const json& state) { return state.at("guide_view") == view; });
    window_.wait_for_rect("guide");
    window_.screenshot(shot(std::string("guide-") + view));
    window_.key("Tab");
  }
  window_.wait_for("the first view again",
                   [](const json& state) { return state.at("guide_view") == "pad"; });
  window_.click("button:guide_lip");
  window_.wait_for("the lip", [](const json& state) { return state.at("guide_view") == "lip"; });
  window_.key("Escape");
  window_.wait_for("the photo", [](const json& state) { return state.at("guide") == false; });
  // A part without a photo shows the guide in the photo's place.
  window_.click("disc:left");
  window_.wait_for("the disc",
                   [](const json& state) { return state.at("part").at("kind") == "disc"; });
  window_.wait_for_rect("guide");
  window_.wait_for_rect("button:open_photos");
  window_.screenshot(shot("guide-in-place"));
}

class Compare : public testing::Test {
 protected:
  Compare() : window_(display_, folder_.path()) {
    window_.click("button:demo");
    window_.wait_until_measured();
  }
  TemporaryFolder folder_;
  VirtualDisplay display_;
  WindowDriver window_;
};

TEST_F(Compare, TwoPhotosShareOneViewInTheCardsMillimetres) {
  window_.key("c");
  window_.wait_for("the other photo", [](const json& state) {
    return state.at("screen") == "compare" && state.at("compare").at("opened") == true;
  });
  window_.wait_for("both titles", [&](const json&) {
    return !window_.text("compare_here").empty() && !window_.text("compare_other").empty();
  });
  EXPECT_GT(window_.state()["compare"]["choices"], 1);
  const json here = window_.rect("compare:here"), other = window_.rect("compare:other");
  EXPECT_NEAR(here[2].get<double>(), other[2].get<double>(), 1);
  EXPECT_EQ(here[1], other[1]);
  window_.hover("compare:here");
  window_.screenshot(shot("compare"));

  const double scale = window_.state()["compare"]["px_per_mm"];
  window_.key("plus");
  window_.wait_for("a larger scale", [&](const json& state) {
    return state.at("compare").at("px_per_mm").get<double>() > 1.4 * scale;
  });
  const double x = window_.state()["compare"]["centre_mm"][0];
  window_.drag("compare:other", -80, 0);
  window_.wait_for("both panes moved", [&](const json& state) {
    return state.at("compare").at("centre_mm").at(0).get<double>() > x + 1;
  });
  window_.key("Tab");
  window_.wait_for("the next photo", [](const json& state) {
    return state.at("compare").at("number") == 1 && state.at("compare").at("opened") == true;
  });
  window_.key("0");
  window_.wait_for("the whole card", [&](const json& state) {
    return state.at("compare").at("px_per_mm").get<double>() < scale * 1.2;
  });
  window_.key("c");
  window_.wait_for("the photo", [](const json& state) { return state.at("screen") == "job"; });
}

/// One pad photographed at two jobs of one axle, a year apart.
void fill_two_years(const TemporaryFolder& folder) {
  Record record(folder / "record.sqlite");
  Vehicle vehicle;
  vehicle.name = "Marrow estate";
  const std::int64_t car = record.add_vehicle(vehicle);
  struct Visit {
    const char* date;
    double km;
    std::size_t photo;
  };
  for (const Visit& visit : {Visit{"2025-11-08", 69'800, 1}, Visit{"2026-11-21", 83'500, 0}}) {
    Job job;
    job.vehicle_id = car;
    job.date = visit.date;
    job.odometer_km = visit.km;
    Part part;
    part.job_id = record.add_job(job);
    part.kind = PartKind::pad;
    record.add_photo(record.add_part(part), View::pad, demo_photo(visit.photo));
  }
}

class ThenAndNow : public testing::Test {
 protected:
  ThenAndNow() {
    fill_two_years(folder_);
    window_.emplace(display_, folder_.path());
    window_->wait_until_measured();
  }
  TemporaryFolder folder_;
  VirtualDisplay display_;
  std::optional<WindowDriver> window_;
};

TEST_F(ThenAndNow, LastYearsPhotoOfThePartComesFirstBesideThisYears) {
  ASSERT_EQ(window_->state()["job"]["date"], "2026-11-21");
  window_->key("c");
  window_->wait_for("both photos", [](const json& state) {
    return state.at("screen") == "compare" && state.at("compare").at("opened") == true;
  });
  EXPECT_EQ(window_->state()["compare"]["choices"], 1);
  window_->wait_for("last year's title", [&](const json&) {
    return window_->text("compare_other").find("8 November 2025") != std::string::npos;
  });
  window_->hover("compare:here");
  window_->screenshot(shot("then-and-now"));
}

}  // namespace
}  // namespace scantling
