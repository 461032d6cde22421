// The page of the sizes from planes in the real window: photos dropped and chosen in any order, the
// scene turned, a photo looked at, one taken off and brought back, the page again after a restart,
// and the same number as on the command line.

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <fstream>

#include "record/record.h"
#include "support/drawn_planes.h"
#include "support/run_program.h"
#include "support/temporary_folder.h"
#include "window/file_drop.h"
#include "window/shots.h"
#include "window/window_driver.h"

namespace scantling {
namespace {

using namespace drawn;
using nlohmann::json;

constexpr double kDisc_mm = 20.37;
constexpr double kSolving_mm = 1e-5;  ///< two solvings of the same photos

PlaneCamera small(PlaneCamera camera) {
  camera.width_px = 2040;
  camera.height_px = 1530;
  camera.focal_px = 1620;
  camera.k1 = 0.03;
  return camera;
}

void start_job(const std::filesystem::path& database) {
  Record record(database);
  Vehicle vehicle;
  vehicle.name = "Blue estate";
  Job job;
  job.vehicle_id = record.add_vehicle(vehicle);
  job.date = "2026-11-25";
  record.add_job(job);
}

/// Stands in for the desktop's file dialog: it "chooses" the files that a list names.
std::string with_dialog(const TemporaryFolder& folder) {
  std::filesystem::create_directories(folder / "bin");
  const std::filesystem::path program = folder / "bin" / "zenity";
  std::ofstream(program) << "#!/bin/sh\ncat \"" << (folder / "chosen").string() << "\"\n";
  std::filesystem::permissions(program, std::filesystem::perms::owner_all);
  return "PATH=" + (folder / "bin").string() + ":" + std::getenv("PATH");
}

WindowDriver::Condition solved(std::size_t photos) {
  return [photos](const json& state) {
    const json& planes = state.at("planes");
    return state.at("busy") == false && planes.at("photos") == photos &&
           planes.at("whole") == true && planes.at("kept") == true;
  };
}

WindowDriver::Condition on_screen(const char* screen) {
  return [=](const json& state) { return state.at("screen") == screen; };
}

class PlanesWindow : public testing::Test {
 protected:
  std::string draw(const PlanesScene& scene, PlaneCamera camera, const std::string& name) {
    camera.name = name;
    return folder_
        .file(name, plane_jpeg(scene, small(camera), static_cast<std::uint32_t>(++drawn_)))
        .string();
  }
  std::vector<std::string> draw_disc() {
    const PlanesScene disc = faces_scene(kDisc_mm);
    return {draw(disc, faces_camera(PlanePiece::card_b, -24, 40, 270), "in1.jpg"),
            draw(disc, faces_camera(PlanePiece::card_a, -28, 32, 270), "out1.jpg"),
            draw(disc, faces_camera(PlanePiece::card_a, 24, 44, 270), "out2.jpg"),
            draw(disc, faces_camera(PlanePiece::card_b, 28, 30, 270), "in2.jpg"),
            draw(disc, faces_camera(PlanePiece::card_a, 0, 52, 270), "out3.jpg")};
  }

  TemporaryFolder folder_;
  VirtualDisplay display_;
  int drawn_ = 0;
};

TEST_F(PlanesWindow, MeasuresADiscFromPhotosInAnyOrder) {
  start_job(folder_ / "record.sqlite");
  const std::vector<std::string> photos = draw_disc();
  double size_mm = 0, expanded_mm = 0;
  {
    WindowDriver window(display_, folder_.path(), {}, {with_dialog(folder_)});
    window.click("disc:left");
    window.scroll_to("button:planes", "disc:left");
    window.click_until("button:planes", on_screen("planes"));
    window.screenshot(shot("planes-empty"));

    // Two dropped, three chosen.
    drop_files(display_.name(), {photos[0], photos[1]});
    const json two = window.wait_for("two photos", solved(2));
    EXPECT_TRUE(two["planes"]["size_mm"].is_null()) << "one photo a side is too little";
    EXPECT_EQ(two["planes"]["groups"]["in1.jpg"], "Inboard side, card B");
    EXPECT_EQ(two["planes"]["groups"]["out1.jpg"], "Outboard side, card A");
    window.screenshot(shot("planes-two"));
    {
      std::ofstream list(folder_ / "chosen");
      for (const std::size_t i : {2u, 3u, 4u}) list << photos[i] << "\n";
    }
    window.click("button:planes_add");
    json all = window.wait_for("five photos", solved(5));
    ASSERT_TRUE(all["planes"]["size_mm"].is_number()) << all["planes"]["checks"];
    size_mm = all["planes"]["size_mm"];
    expanded_mm = all["planes"]["expanded_95_mm"];
    EXPECT_LT(std::abs(size_mm - kDisc_mm), expanded_mm);
    EXPECT_NEAR(all["planes"]["recorded_mm"].get<double>(), size_mm, kSolving_mm)
        << "it is in the record";
    window.wait_for_rect("scene_size");
    window.screenshot(shot("planes-scene"));

    // The scene is turned with the mouse and by keys, zoomed with the wheel, and put back.
    const double turned = all["planes"]["turned_deg"], elevation = all["planes"]["elevation_deg"];
    window.drag("scene", 60, 30);
    all = window.wait_for("the turned scene", [&](const json& state) {
      return std::abs(state.at("planes").at("turned_deg").get<double>() - turned) > 15;
    });
    EXPECT_GT(all["planes"]["elevation_deg"], elevation + 5);
    EXPECT_EQ(all["planes"]["shown_photo"], 0) << "a drag is no click";
    window.wheel("scene", 3, true);
    window.wait_for("a nearer scene",
                    [](const json& state) { return state.at("planes").at("zoom") > 1.2; });
    window.screenshot(shot("planes-turned"));
    window.key("0");
    window.wait_for("the scene as at first", [&](const json& state) {
      const json& planes = state.at("planes");
      return planes.at("turned_deg") == turned && planes.at("zoom") == 1.0;
    });
    window.key("Right");
    window.wait_for("the scene turned by a key", [&](const json& state) {
      return state.at("planes").at("turned_deg") == turned - 5;
    });
    window.key("0");

    // A click on a pyramid shows its photo with the corners; Tab the next, Esc the scene.
    window.click_until("scene_camera:3", [](const json& state) {
      return state.at("planes").at("picture_shown") == true;
    });
    window.screenshot(shot("planes-photo"));
    const json first = window.state();
    window.key("Tab");
    window.wait_for("another photo", [&](const json& state) {
      return state.at("planes").at("picture_shown") == true &&
             state["planes"]["shown_photo"] != first["planes"]["shown_photo"];
    });
    window.key("Escape");
    window.wait_for("the scene",
                    [](const json& state) { return state.at("planes").at("shown_photo") == 0; });

    // Taken off, and brought back by undo: the very same size.
    window.click("button:planes_remove:1");
    const json fewer = window.wait_for("four photos", solved(4));
    EXPECT_EQ(fewer["undo"], "remove photo from the planes");
    EXPECT_NE(fewer["planes"]["size_mm"], all["planes"]["size_mm"]);
    window.key("ctrl+z");
    const json back = window.wait_for("five photos again", solved(5));
    EXPECT_NEAR(back["planes"]["size_mm"].get<double>(), size_mm, kSolving_mm);

    // Another thickness of the card thins the disc by twice the difference.
    window.scroll_to("field:card_thickness", "button:planes_back");
    window.fill("field:card_thickness", "0,35");
    const json thicker = window.wait_for("the other card", [&](const json& state) {
      return solved(5)(state) && state.at("planes").at("card_thickness_mm") == 0.35;
    });
    EXPECT_NEAR(thicker["planes"]["size_mm"].get<double>(), size_mm - 0.2, kSolving_mm);
    window.key("ctrl+z");
    window.wait_for("the card as assumed", [&](const json& state) {
      return solved(5)(state) && state.at("planes").at("card_thickness_mm") == 0.25;
    });

    window.key("Escape");
    const json part = window.wait_for("the part", on_screen("job"));
    EXPECT_EQ(part["part"]["standing"], "no minimum given");
    window.screenshot(shot("planes-beside"));
    EXPECT_EQ(window.quit(), 0);
  }
  {
    // All of it is there again.
    WindowDriver window(display_, folder_.path());
    const json reopened = window.wait_for("the job", on_screen("job"));
    EXPECT_NEAR(reopened["planes"]["recorded_mm"].get<double>(), size_mm, kSolving_mm);
    window.key("p");
    const json page = window.wait_for("the page", solved(5));
    EXPECT_NEAR(page["planes"]["size_mm"].get<double>(), size_mm, kSolving_mm);
    EXPECT_EQ(window.quit(), 0);
  }
  std::vector<std::string> command = {SCANTLING_EXECUTABLE, "planes", "--view", "faces", "--json"};
  command.insert(command.end(), photos.begin(), photos.end());
  const json told = json::parse(run_program(command).output);
  EXPECT_NEAR(told.at("dimensions").at(0).at("value_mm").get<double>(), size_mm, kSolving_mm);
  EXPECT_NEAR(told.at("dimensions").at(0).at("expanded_95_mm").get<double>(), expanded_mm, 1e-4);
}

TEST_F(PlanesWindow, SaysWhatIsWrongWithAPhotoAndMeasuresAPad) {
  start_job(folder_ / "record.sqlite");
  const PlanesScene pad = pile_scene(13.52, false);
  PlanesScene bare = pad;
  bare.cards.clear();
  const std::vector<std::string> photos = {
      draw(pad, pile_camera(-40, 40, 290), "front.jpg"),
      draw(bare, pile_camera(20, 45, 290), "no card.jpg"),
      draw(pad, pile_camera(60, 50, 290), "right.jpg"),
      folder_.file("text.jpg", std::string("no photo")).string(),
      draw(pad, pile_camera(170, 45, 290), "back.jpg")};
  WindowDriver window(display_, folder_.path());
  window.click("pad:left_inner");
  window.click("menu:job");
  window.wait_for_rect("menu:planes");
  window.click("menu:planes");
  window.wait_for("the page", on_screen("planes"));
  drop_files(display_.name(), {photos.begin(), photos.end()});
  const json all = window.wait_for("all photos", solved(5));
  ASSERT_TRUE(all["planes"]["size_mm"].is_number()) << all["planes"]["checks"];
  EXPECT_LT(std::abs(all["planes"]["size_mm"].get<double>() - 13.52),
            all["planes"]["expanded_95_mm"].get<double>());
  EXPECT_EQ(all["planes"]["groups"]["no card.jpg"], "The sheet, but no card");
  EXPECT_EQ(all["planes"]["groups"]["text.jpg"], "Not used");
  EXPECT_EQ(all["planes"]["groups"]["front.jpg"], "A card on the pad");
  EXPECT_THAT(window.text("planes_row:4"), testing::HasSubstr("no card.jpg|"));
  EXPECT_THAT(window.text("planes_row:5"), testing::HasSubstr("'text.jpg': "));
  window.screenshot(shot("planes-pad"));
  // A pile alone is no friction thickness: nothing is judged.
  EXPECT_EQ(all["part"]["standing"], "not measured");
  EXPECT_EQ(window.quit(), 0);
}

}  // namespace
}  // namespace scantling
