#include "planes/plane_session.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "dimension/better_input.h"
#include "planes/faces_outlook.h"
#include "planes/planes_json.h"
#include "unit/planes/planes_test_tools.h"

namespace scantling {
namespace {

using namespace drawn;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

TEST(PlaneSession, MeasuresADiscFromItsFaces) {
  for (const double truth : {8.4, 20.3, 29.6}) {
    const PlanesResult r =
        solved(PlanesView::faces, sighted_all(faces_scene(truth), faces_cameras()));
    EXPECT_THAT(doubts(r), IsEmpty());
    const Dimension* worn = r.dimension("worn_thickness");
    ASSERT_NE(worn, nullptr);
    EXPECT_NEAR(worn->quantity.value_mm, truth, 0.06);
    EXPECT_LT(std::abs(worn->quantity.value_mm - truth), worn->quantity.expanded_95_mm());
    // All but what may lie under the cards, which no photo can tell.
    double rest = 0;
    for (const BudgetLine& line : worn->quantity.budget)
      if (line.source != "cards not flat on the part")
        rest = std::hypot(rest, line.standard_uncertainty_mm);
    EXPECT_GT(rest, 0);
    EXPECT_LT(rest, 0.074);
    ASSERT_TRUE(r.angle_deg);
    EXPECT_LT(*r.angle_deg, 3 * r.angle_u_deg);
    EXPECT_TRUE(r.usable());
  }
}

TEST(PlaneSession, TellsATaperAcrossThePad) {
  // Card A leans about its long side: one long side higher by 0.4 mm.
  PlanesScene scene = pile_scene(13, false);
  PlacedPiece& card = scene.cards.front();
  const double width = printed_pieces()[1]->rows * printed_pieces()[1]->square_mm;
  card.y = unit(width * card.y + Vec3{0, 0, -0.4});
  card.middle.z -= 0.25;  // above the pad, so that nothing is hidden by it
  const PlanesResult r = solved(PlanesView::pile, sighted_all(scene, pile_cameras()));
  const Dimension* across = r.dimension("friction_taper_across");
  ASSERT_NE(across, nullptr);
  EXPECT_NEAR(across->quantity.value_mm, 0.4, across->quantity.expanded_95_mm());
  EXPECT_GT(across->quantity.value_mm, across->quantity.expanded_95_mm());
  EXPECT_NEAR(r.dimension("friction_taper")->quantity.value_mm, 0, 0.05);
}

TEST(PlaneSession, ForetellsWhatCheckedScalesAndAMeasuredCardBring) {
  for (const PlanesView view : {PlanesView::faces, PlanesView::pile}) {
    const bool faces = view == PlanesView::faces;
    PlanesOptions options;
    options.view = view;
    PlaneSession session(options);
    session.add(sighted_all(faces ? faces_scene(22) : pile_scene(13, false),
                            faces ? faces_cameras() : pile_cameras()));
    const char* name = faces ? "worn_thickness" : "overall_thickness";
    const Quantity now = session.result().dimension(name)->quantity;
    options.sheet_scale = {1, 1, kCheckedScale_u, true};
    session.set_options(options);
    const Quantity checked = session.result().dimension(name)->quantity;
    const Quantity foretold = with_better_input(now, kCheckedScale);
    EXPECT_LT(checked.standard_uncertainty_mm, 0.9 * now.standard_uncertainty_mm);
    EXPECT_NEAR(foretold.standard_uncertainty_mm / checked.standard_uncertainty_mm, 1, 0.04);
    options.card_thickness = {0.25, kMeasuredCard_u_mm, true};
    session.set_options(options);
    EXPECT_NEAR(with_better_input(checked, kCardThickness).standard_uncertainty_mm /
                    session.result().dimension(name)->quantity.standard_uncertainty_mm,
                1, 0.04);
  }
}

// Before a photo is taken, against the same photos drawn with noise of their own.
TEST(PlaneSession, TheOutlookIsWhatTheUsualPhotosGive) {
  for (const bool checked : {false, true}) {
    PlanesOptions options;
    if (checked) options = checked_options(PlanesView::faces);
    const auto outlook = faces_outlook(22, options);
    ASSERT_TRUE(outlook);
    EXPECT_NEAR(outlook->value_mm, 22, outlook->expanded_95_mm());
    PlaneSession session(options);
    session.add(sighted_all(faces_scene(22), faces_cameras(), 0.1, 5));
    const Quantity really = session.result().dimension("worn_thickness")->quantity;
    EXPECT_NEAR(outlook->expanded_95_mm() / really.expanded_95_mm(), 1, 0.1);
  }
}

TEST(PlaneSession, MeasuresAPadFromTheSheet) {
  for (const bool both : {false, true}) {
    const PlanesResult r =
        solved(PlanesView::pile, sighted_all(pile_scene(13.7, both, 0.4), pile_cameras()));
    EXPECT_THAT(doubts(r), IsEmpty());
    const Dimension* all = r.dimension("overall_thickness");
    const Dimension* taper = r.dimension("friction_taper");
    ASSERT_NE(all, nullptr);
    ASSERT_NE(taper, nullptr);
    EXPECT_NEAR(all->quantity.value_mm, 13.7, 0.04);
    EXPECT_LT(std::abs(all->quantity.value_mm - 13.7), all->quantity.expanded_95_mm());
    EXPECT_EQ(taper->stations.size(), 2u);
    // Card A alone lies on a surface sloping by 0.4 mm in 54: 0.3 mm in its own 40.
    EXPECT_NEAR(taper->quantity.value_mm, both ? 0.4 : 0.3, 0.05);
    EXPECT_NEAR(r.angle_deg.value(), std::atan(0.4 / 54) * 180 / M_PI, 0.05);
    const Dimension* across = r.dimension("friction_taper_across");
    ASSERT_NE(across, nullptr);
    EXPECT_NEAR(across->quantity.value_mm, 0, 0.05);
    EXPECT_LT(std::abs(across->quantity.value_mm), across->quantity.expanded_95_mm());
  }
}

TEST(PlaneSession, KnowsWhereEverythingStands) {
  const PlanesScene scene = faces_scene(20);
  const auto cameras = faces_cameras();
  const PlanesResult r = solved(PlanesView::faces, sighted_all(scene, cameras));
  ASSERT_EQ(r.photos.size(), cameras.size());
  for (std::size_t i = 0; i < cameras.size(); ++i) {
    EXPECT_EQ(r.photos[i].name, cameras[i].name);
    ASSERT_TRUE(r.photos[i].solved);
    EXPECT_NEAR(r.photos[i].place[0], cameras[i].place.x, 2.5);
    EXPECT_NEAR(r.photos[i].place[1], cameras[i].place.y, 2.5);
    EXPECT_NEAR(r.photos[i].place[2], cameras[i].place.z, 2.5);
    EXPECT_NEAR(r.photos[i].focal_px, 3000, 20);
    EXPECT_NEAR(r.photos[i].residual_px, 0.08, 0.02);
    EXPECT_GT(r.photos[i].corners.size(), 80u);
  }
  const SolvedPiece* a = r.piece(PlanePiece::card_a);
  ASSERT_NE(a, nullptr);
  EXPECT_EQ(a->photos, 3);
  EXPECT_NEAR(a->middle[1], scene.cards[0].middle.y, 0.1);
  EXPECT_NEAR(a->middle[2], scene.cards[0].middle.z, 0.1);
  EXPECT_NEAR(a->axes[2][1], -std::cos(4 * M_PI / 180), 1e-3);
  EXPECT_LT(a->depth_u_mm, 0.1);
}

TEST(PlaneSession, SaysHowWellThePhotosFit) {
  const PlanesResult r =
      solved(PlanesView::faces, sighted_all(faces_scene(20), faces_cameras(), 0.15));
  ASSERT_TRUE(r.fit);
  EXPECT_NEAR(r.fit->noise_px, 0.15, 0.01);
  EXPECT_NEAR(r.fit->reduced_chi_square, 1, 0.1);
  EXPECT_GT(r.fit->degrees_of_freedom, 800);
  EXPECT_THAT(r.fit->words, HasSubstr("nothing moved"));
}

TEST(PlaneSession, DoesNotMindTheOrderInWhichPhotosCome) {
  std::vector<PlanePhoto> photos = sighted_all(faces_scene(20), faces_cameras());
  const double forward =
      solved(PlanesView::faces, photos).dimension("worn_thickness")->quantity.value_mm;
  std::reverse(photos.begin(), photos.end());
  const double backward =
      solved(PlanesView::faces, photos).dimension("worn_thickness")->quantity.value_mm;
  EXPECT_NEAR(forward, backward, 1e-4);
}

TEST(PlaneSession, GrowsPhotoByPhotoAndForgetsOne) {
  PlaneSession session(checked_options(PlanesView::faces));
  EXPECT_TRUE(check_of(session.result(), "too_few_photos"));
  const std::vector<PlanePhoto> photos = sighted_all(faces_scene(20), faces_cameras());
  double before = 1e9;
  for (std::size_t i = 0; i < photos.size(); ++i) {
    session.add(photos[i]);
    // Already the first photo can be drawn.
    EXPECT_TRUE(session.result().photos[i].solved);
    EXPECT_EQ(session.result().usable(), i >= 3);
  }
  const double five =
      session.result().dimension("worn_thickness")->quantity.standard_uncertainty_mm;
  EXPECT_TRUE(session.remove("out3"));
  EXPECT_FALSE(session.remove("out3"));
  before = session.result().dimension("worn_thickness")->quantity.standard_uncertainty_mm;
  EXPECT_GT(before, five);
  session.add(photos[4]);
  session.add(photos[4]);  // the same name replaces
  EXPECT_EQ(session.photos().size(), 5u);
  EXPECT_NEAR(session.result().dimension("worn_thickness")->quantity.standard_uncertainty_mm, five,
              1e-6);
}

TEST(PlaneSession, LeavesWrongCornersOut) {
  std::vector<PlanePhoto> photos = sighted_all(faces_scene(20), faces_cameras());
  for (PlanePhoto& photo : photos)
    for (CardSighting& sighting : photo.pieces)
      for (std::size_t i = 0; i < sighting.corners.size(); i += 19)
        sighting.corners[i].photo_px.x += 4;
  const PlanesResult r = solved(PlanesView::faces, photos);
  EXPECT_GT(r.fit.value().left_out, 20);
  EXPECT_NEAR(r.dimension("worn_thickness")->quantity.value_mm, 20, 0.06);
}

TEST(PlaneSession, KeepsALensOfEachPhone) {
  std::vector<PlaneCamera> cameras = faces_cameras();
  for (const std::size_t i : {2u, 3u}) {
    cameras[i].model = "Fernhill F9";
    cameras[i].focal_px = 2300;
    cameras[i].k1 = -0.05;
  }
  cameras[0].k1 = cameras[1].k1 = cameras[4].k1 = 0.04;
  const PlanesResult r = solved(PlanesView::faces, sighted_all(faces_scene(20), cameras));
  ASSERT_TRUE(check_of(r, "cameras_mixed"));
  EXPECT_EQ(check_of(r, "cameras_mixed")->severity, Severity::info);
  EXPECT_NEAR(r.dimension("worn_thickness")->quantity.value_mm, 20, 0.08);
  EXPECT_NEAR(r.photos[2].focal_px, 2300, 25);
}

// A phone held upright and held level shares one lens: its centre turns with the picture.
TEST(PlaneSession, TurnsTheLensWithThePhoto) {
  std::vector<PlaneCamera> cameras = faces_cameras();
  for (std::size_t i = 0; i < cameras.size(); ++i) {
    PlaneCamera& c = cameras[i];
    const double dx = 40, dy = -25;  // in the sensor's own orientation
    switch (i) {
      case 1:
        c.exif_orientation = 6;
        c.centre_dx_px = -dy;
        c.centre_dy_px = dx;
        break;
      case 2:
        c.exif_orientation = 8;
        c.centre_dx_px = dy;
        c.centre_dy_px = -dx;
        break;
      case 3:
        c.exif_orientation = 3;
        c.centre_dx_px = -dx;
        c.centre_dy_px = -dy;
        break;
      default:
        c.centre_dx_px = dx;
        c.centre_dy_px = dy;
    }
    if (c.exif_orientation >= 5) std::swap(c.width_px, c.height_px);
  }
  std::vector<PlanePhoto> photos = sighted_all(faces_scene(20), cameras);
  for (PlanePhoto& photo : photos) photo.camera_key = "one phone";
  const PlanesResult turned = solved(PlanesView::faces, photos);
  ASSERT_TRUE(turned.usable());
  EXPECT_NEAR(turned.dimension("worn_thickness")->quantity.value_mm, 20, 0.08);
  // Taken as if all were upright, the same photos contradict one lens.
  for (PlanePhoto& photo : photos) photo.exif_orientation = 1;
  const PlanesResult wrong = solved(PlanesView::faces, photos);
  EXPECT_GT(wrong.fit.value().reduced_chi_square * wrong.fit->degrees_of_freedom,
            turned.fit.value().reduced_chi_square * turned.fit->degrees_of_freedom + 20);
}

TEST(PlaneSession, TakesTheCardsPrintApart) {
  std::vector<PlanePhoto> photos;
  PlanesScene scene = faces_scene(20);
  for (PlacedPiece& card : scene.cards) card.scale_x = card.scale_y = 1.012;
  photos = sighted_all(scene, faces_cameras());
  PlanesOptions options = checked_options(PlanesView::faces);
  options.card_scale = SheetScale{1.012, 1.012, 0.001, true};
  PlaneSession session(options);
  session.add(photos);
  EXPECT_THAT(doubts(session.result()), IsEmpty());
  EXPECT_NEAR(session.result().dimension("worn_thickness")->quantity.value_mm, 20, 0.06);
  // Said to come from the sheet's own print, the cards contradict it by twelve uncertainties.
  session.set_options(checked_options(PlanesView::faces));
  EXPECT_GT(session.result().fit.value().reduced_chi_square, 1.05);
}

TEST(PlaneSession, ScalesWithThePrint) {
  PlanesScene scene = faces_scene(20);
  scene.sheet.scale_x = scene.sheet.scale_y = 0.99;
  for (PlacedPiece& card : scene.cards) card.scale_x = card.scale_y = 0.99;
  PlanesOptions options = checked_options(PlanesView::faces);
  options.sheet_scale = {0.99, 0.99, 0.001, true};
  PlaneSession session(options);
  session.add(sighted_all(scene, faces_cameras()));
  EXPECT_NEAR(session.result().dimension("worn_thickness")->quantity.value_mm, 20, 0.06);
}

TEST(PlaneSession, PutsTheCardsThicknessIntoTheBudgetTwice) {
  PlanesOptions options = checked_options(PlanesView::faces);
  options.card_thickness = {0.25, 0.04, true};
  PlaneSession session(options);
  session.add(sighted_all(faces_scene(20), faces_cameras()));
  for (const BudgetLine& line : session.result().dimension("worn_thickness")->quantity.budget)
    if (line.source == "card thickness") {
      EXPECT_DOUBLE_EQ(line.standard_uncertainty_mm, 0.08);
    }
}

TEST(PlanesJson, HoldsWhatTheContractNames) {
  const PlanesResult r = solved(PlanesView::faces, sighted_all(faces_scene(20), faces_cameras()));
  const nlohmann::ordered_json json = planes_to_json(r);
  EXPECT_EQ(json.at("view"), "faces");
  EXPECT_EQ(json.at("dimensions").at(0).at("name"), "worn_thickness");
  EXPECT_TRUE(json.at("faces_angle_deg").is_number());
  EXPECT_FALSE(json.contains("tilt_deg"));
  ASSERT_EQ(json.at("photos").size(), 5u);
  EXPECT_EQ(json.at("photos").at(0).at("pose").at("camera_mm").size(), 3u);
  EXPECT_GT(json.at("photos").at(0).at("corners"), 80);
  EXPECT_TRUE(json.at("photos").at(0).at("residual_px").is_number());
  EXPECT_EQ(json.at("cards").at(1).at("name"), "track");
  EXPECT_EQ(json.dump().find("nan"), std::string::npos);
  const PlanesResult pile =
      solved(PlanesView::pile, sighted_all(pile_scene(14, true), pile_cameras()));
  EXPECT_TRUE(planes_to_json(pile).at("tilt_deg").is_number());
  // Nothing at all still makes an object.
  const nlohmann::ordered_json empty = planes_to_json(solved(PlanesView::pile, {}));
  EXPECT_TRUE(empty.at("tilt_deg").is_null());
  EXPECT_EQ(empty.at("checks").at(0).at("severity"), "stop");
}

}  // namespace
}  // namespace scantling
