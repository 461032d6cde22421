// The planes page without a window: solving step by step, the list, the scene's shapes.

#include <gmock/gmock.h>

#include <cmath>

#include "app/planes_list.h"
#include "app/planes_page.h"
#include "app/scene_model.h"
#include "support/drawn_planes.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using namespace drawn;
using ::testing::ElementsAre;
using ::testing::HasSubstr;

constexpr double kDisc_mm = 20.37, kPad_mm = 13.52;
constexpr double kSolving_mm = 1e-5;  ///< two solvings of the same photos

PlanesResult solved(View view, const PlanesScene& scene, std::vector<PlaneCamera> cameras) {
  PlanesOptions options;
  options.view = view == View::faces ? PlanesView::faces : PlanesView::pile;
  options.sheet_scale = {1, 1, 0.001, true};
  options.card_thickness = {0.25, 0.01, true};
  PlaneSession session(options);
  Random random(3);
  std::vector<PlanePhoto> photos;
  for (std::size_t i = 0; i < cameras.size(); ++i) {
    cameras[i].name = std::string("photo") + std::to_string(i + 1) + ".jpg";
    photos.push_back(sighted(scene, cameras[i], 0.08, random));
  }
  session.add(std::move(photos));
  return session.result();
}

std::vector<PlaneCamera> round_the_disc() {
  return {faces_camera(PlanePiece::card_a, -25, 30), faces_camera(PlanePiece::card_b, -25, 40),
          faces_camera(PlanePiece::card_a, 25, 40), faces_camera(PlanePiece::card_b, 25, 30),
          faces_camera(PlanePiece::card_a, 5, 50)};
}

PlanesOutcome outcome_of(View view, PlanesResult result) {
  PlanesOutcome outcome;
  outcome.options.view = view;
  for (std::size_t i = 0; i < result.photos.size(); ++i)
    outcome.photo_ids.push_back(static_cast<std::int64_t>(10 + i));
  outcome.result = std::move(result);
  return outcome;
}

PlanesTask task_of(const PlanesOutcome& outcome) {
  PlanesTask task;
  task.options = outcome.options;
  for (std::size_t i = 0; i < outcome.photo_ids.size(); ++i)
    task.photos.push_back({outcome.photo_ids[i], outcome.result.photos[i].name, {}});
  return task;
}

TEST(PlanesList, SortsPhotosByTheSideTheyShowAndSaysWhyOneIsNotUsed) {
  std::vector<PlaneCamera> cameras = round_the_disc();
  PlaneCamera away = cameras[0];
  away.target.z = -4000;  // looks over the scene
  cameras.push_back(away);
  const PlanesOutcome outcome =
      outcome_of(View::faces, solved(View::faces, faces_scene(kDisc_mm), cameras));
  PlanesTask task = task_of(outcome);
  task.photos.push_back({99, "late.jpg", {}});
  const std::vector<PlanesRow> rows = planes_rows(task, outcome);
  std::vector<std::size_t> numbers;
  for (const PlanesRow& row : rows) numbers.push_back(row.number);
  EXPECT_THAT(numbers, ElementsAre(1, 3, 5, 2, 4, 6, 7));
  EXPECT_EQ(rows[0].group, PlanesGroup::outboard);
  EXPECT_EQ(rows[3].group, PlanesGroup::inboard);
  EXPECT_THAT(rows[0].found, HasSubstr("sheet, card A; "));
  EXPECT_THAT(rows[0].found, HasSubstr(" corners to 0."));
  EXPECT_EQ(rows[5].group, PlanesGroup::not_used);
  EXPECT_NE(rows[5].found, "");
  EXPECT_EQ(rows[6].group, PlanesGroup::waiting);
  EXPECT_FALSE(outcome.complete(task));
  task.photos.pop_back();
  EXPECT_TRUE(outcome.complete(task));
  task.options.part_offset.offset_mm = 0.3;
  EXPECT_FALSE(outcome.complete(task));
}

TEST(PlanesList, ACornersStandingFollowsTheNoise) {
  SolvedCorner corner;
  corner.off_x_px = 0.19;
  EXPECT_EQ(standing_of(corner, 0.1), CornerStanding::close);
  EXPECT_EQ(standing_of(corner, 0.08), CornerStanding::middling);
  EXPECT_EQ(standing_of(corner, 0.05), CornerStanding::far);
  corner.used = false;
  EXPECT_EQ(standing_of(corner, 0.1), CornerStanding::left_out);
}

TEST(PlanesEntries, HoldTheJointResultOnceAPhoto) {
  PlanesOutcome outcome =
      outcome_of(View::faces, solved(View::faces, faces_scene(kDisc_mm), round_the_disc()));
  outcome.options.part_offset = {0.25, 0.01};
  const std::vector<MeasurementEntry> entries = planes_entries(outcome);
  ASSERT_EQ(entries.size(), 5u);
  for (const MeasurementEntry& entry : entries) {
    EXPECT_EQ(entry.measurement.view, View::faces);
    ASSERT_EQ(entry.measurement.dimensions.size(), 1u);
    EXPECT_NEAR(entry.measurement.dimensions[0].quantity.value_mm, kDisc_mm, 0.1);
    EXPECT_EQ(entry.options.part_offset.offset_mm, 0.25);
    ASSERT_TRUE(entry.measurement.card);
    EXPECT_LT(entry.measurement.card->residual_px, 0.2);
  }
  EXPECT_EQ(entries[1].photo_id, 11);
}

double corners_u_mm(const PlanesResult& result) {
  for (const BudgetLine& line : result.dimensions.at(0).quantity.budget)
    if (line.source == "corners in the photos") return line.standard_uncertainty_mm;
  return 0;
}

TEST(PlanesSolver, TakesPhotosOneByOneAndForgetsThoseThatAreGone) {
  const TemporaryFolder folder;
  PlanesTask task;
  task.options.view = View::pile;
  task.options.sheet_scale = {1, 1, 0.001, true};
  task.options.part_offset = {0.25, 0.01};
  const PlanesScene pad = pile_scene(kPad_mm, false);
  std::vector<PlaneCamera> cameras = {pile_camera(-40, 40, 290), pile_camera(60, 50, 290),
                                      pile_camera(170, 45, 290)};
  for (std::size_t i = 0; i < cameras.size(); ++i) {
    cameras[i].width_px = 2040;
    cameras[i].height_px = 1530;
    cameras[i].focal_px = 1620;
    task.photos.push_back(
        {static_cast<std::int64_t>(i + 1), std::string("photo") + std::to_string(i + 1),
         folder.file(std::to_string(i) + ".jpg",
                     plane_jpeg(pad, cameras[i], static_cast<std::uint32_t>(i)))});
  }
  PlanesSolver solver;
  PlanesOutcome outcome = solver.advance(task);
  EXPECT_THAT(outcome.photo_ids, ElementsAre(1)) << "one search a step";
  outcome = solver.advance(task);
  outcome = solver.advance(task);
  ASSERT_TRUE(outcome.complete(task));
  ASSERT_TRUE(outcome.result.usable());
  const double three_mm = outcome.result.dimensions[0].quantity.value_mm;
  EXPECT_NEAR(three_mm, kPad_mm, outcome.result.dimensions[0].quantity.expanded_95_mm());
  ASSERT_EQ(outcome.steps.size(), 3u);
  EXPECT_FALSE(outcome.steps[0].value_mm) << "one photo is too little";
  for (const PlanesRow& row : planes_rows(task, outcome))
    EXPECT_EQ(row.group, PlanesGroup::card_on_pad) << row.name << ": " << row.found;
  ASSERT_TRUE(outcome.steps[1].value_mm && outcome.steps[2].value_mm);
  // What may lie under the card is most of it by now, and no photo takes that away.
  EXPECT_LT(outcome.steps[2].expanded_95_mm, 1.03 * outcome.steps[1].expanded_95_mm);
  const double corners_of_three_mm = corners_u_mm(outcome.result);

  PlanesTask fewer = task;
  fewer.photos.erase(fewer.photos.begin());
  outcome = solver.advance(fewer);
  EXPECT_TRUE(outcome.complete(fewer)) << "known photos are not searched again";
  EXPECT_NE(outcome.result.dimensions[0].quantity.value_mm, three_mm);
  EXPECT_GT(corners_u_mm(outcome.result), 1.1 * corners_of_three_mm);
  outcome = solver.advance(task);
  EXPECT_TRUE(outcome.complete(task));
  EXPECT_NEAR(outcome.result.dimensions[0].quantity.value_mm, three_mm, kSolving_mm);

  task.options.part_offset.offset_mm = 0.35;
  outcome = solver.advance(task);
  EXPECT_NEAR(outcome.result.dimensions[0].quantity.value_mm, three_mm - 0.1, kSolving_mm);

  task.photos.push_back({9, "gone.jpg", folder / "gone.jpg"});
  outcome = solver.advance(task);
  ASSERT_TRUE(outcome.complete(task));
  EXPECT_FALSE(solved_photo(outcome, 9)->solved);
  EXPECT_EQ(planes_rows(task, outcome).back().group, PlanesGroup::not_used);
  EXPECT_THAT(planes_rows(task, outcome).back().found, HasSubstr("'gone.jpg': "));
}

TEST(Scene, ADiscStandsOnTheSheetBetweenItsCards) {
  const PlanesResult result = solved(View::faces, faces_scene(kDisc_mm), round_the_disc());
  const Scene scene = scene_of(result, 0.25, 280);
  EXPECT_FALSE(scene.disc_assumed);
  double lowest = -1e9, highest = 1e9;
  int discs = 0;
  for (const SceneFace& face : scene.faces) {
    if (face.role != SceneRole::part) continue;
    ++discs;
    for (const World3& corner : face.outline) {
      lowest = std::max(lowest, corner[2]);
      highest = std::min(highest, corner[2]);
    }
  }
  EXPECT_EQ(discs, 2);
  EXPECT_NEAR(lowest, 0, 1) << "it stands on the sheet";
  EXPECT_NEAR(highest, -280, 1);
  ASSERT_TRUE(scene.size);
  const World3 &a = scene.size->a, &b = scene.size->b;
  EXPECT_NEAR(std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]), kDisc_mm, 0.1);
  EXPECT_THAT(scene.size->words, HasSubstr("mm"));
  ASSERT_EQ(scene.cameras.size(), 5u);
  EXPECT_EQ(scene.cameras[0].side, PlanePiece::card_a);
  EXPECT_EQ(scene.cameras[1].side, PlanePiece::card_b);
  EXPECT_TRUE(scene_of(result, 0.25).disc_assumed);
}

TEST(Scene, APadLiesUnderItsCardAndIsAsThickAsMeasured) {
  const PlanesResult result =
      solved(View::pile, pile_scene(kPad_mm, false),
             {pile_camera(-40, 40), pile_camera(60, 50), pile_camera(170, 45)});
  const Scene scene = scene_of(result, 0.25);
  ASSERT_TRUE(scene.size);
  EXPECT_NEAR(scene.size->a[2], -kPad_mm, 0.2);
  EXPECT_NEAR(scene.size->b[2], 0, 1e-9);
  const auto lid = std::find_if(scene.faces.begin(), scene.faces.end(),
                                [](const SceneFace& f) { return f.role == SceneRole::part; });
  ASSERT_NE(lid, scene.faces.end());
  for (const World3& corner : lid->outline) EXPECT_NEAR(corner[2], -kPad_mm, 0.4);
}

TEST(Scene, WithoutPhotosThereIsNothingToDraw) {
  const Scene scene = scene_of(PlanesResult{}, 0.25);
  EXPECT_TRUE(scene.faces.empty() && scene.cameras.empty());
  EXPECT_FALSE(scene.size);
  EXPECT_GT(scene.radius_mm, 0);
}

TEST(PlanesPage, StepsThroughThePhotosAndBackToTheScene) {
  PlanesPage page;
  const std::vector<std::int64_t> ids = {4, 2, 7};
  page.step_photo(ids, 1);
  EXPECT_EQ(page.photo_id(), 4);
  EXPECT_TRUE(page.take_reframing());
  page.step_photo(ids, 1);
  page.step_photo(ids, 1);
  EXPECT_EQ(page.photo_id(), 7);
  page.step_photo(ids, 1);
  EXPECT_EQ(page.photo_id(), 0);
  page.step_photo(ids, -1);
  EXPECT_EQ(page.photo_id(), 7);
  page.step_photo({}, 1);
  EXPECT_EQ(page.photo_id(), 0);
}

}  // namespace
}  // namespace scantling
