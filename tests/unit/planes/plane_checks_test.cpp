// Every check, provoked.

#include <gtest/gtest.h>

#include "unit/planes/planes_test_tools.h"

namespace scantling {
namespace {

using namespace drawn;
using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

std::vector<PlanePhoto> faces_photos(std::uint64_t seed = 1) {
  return sighted_all(faces_scene(20), faces_cameras(), 0.08, seed);
}

/// The usual photos, with some of them taken of another scene.
std::vector<PlanePhoto> mixed(const PlanesScene& scene, const PlanesScene& other,
                              const std::vector<PlaneCamera>& cameras,
                              const std::vector<std::size_t>& of_other) {
  std::vector<PlanePhoto> photos = sighted_all(scene, cameras);
  const std::vector<PlanePhoto> others = sighted_all(other, cameras, 0.08, 2);
  for (const std::size_t i : of_other) photos[i] = others[i];
  return photos;
}

void move(PlacedPiece& piece, Vec3 by) {
  piece.middle = piece.middle + by;
}

TEST(PlaneChecks, TooFewPhotosOfASide) {
  std::vector<PlanePhoto> photos = faces_photos();
  photos.erase(photos.begin() + 2, photos.begin() + 4);
  EXPECT_THAT(check_of(solved(PlanesView::faces, photos), "too_few_photos")->message,
              HasSubstr("No photo shows card B"));
  photos = faces_photos();
  photos.erase(photos.begin() + 2);
  const PlanesResult one = solved(PlanesView::faces, photos);
  EXPECT_THAT(check_of(one, "too_few_photos")->message,
              AllOf(HasSubstr("Only one photo shows card B"), HasSubstr("inboard")));
  EXPECT_FALSE(one.usable());
  EXPECT_THAT(one.dimensions, IsEmpty());
  EXPECT_TRUE(one.photos[2].solved) << "still there to be drawn";

  auto pile = sighted_all(pile_scene(14, false), pile_cameras());
  pile.resize(1);
  EXPECT_TRUE(check_of(solved(PlanesView::pile, pile), "too_few_photos"));
}

TEST(PlaneChecks, PhotosWithoutSheetOrCard) {
  std::vector<PlanePhoto> photos = faces_photos();
  photos.push_back(photos[0]);
  photos.back().name = "no_sheet";
  std::erase_if(photos.back().pieces,
                [](const CardSighting& s) { return s.card == &ground_sheet(); });
  PlanesScene blank = faces_scene(20);
  std::swap(blank.cards[0].x, blank.cards[0].y);  // its printed side is turned to the disc
  PlaneCamera camera = faces_camera(PlanePiece::card_a, 0, 40);
  camera.name = "from_behind";
  Random random(4);
  photos.push_back(sighted(blank, camera, 0.08, random));
  const PlanesResult r = solved(PlanesView::faces, photos);
  EXPECT_THAT(check_of(r, "sheet_missing")->message, HasSubstr("'no_sheet'"));
  EXPECT_THAT(check_of(r, "card_missing")->message,
              AllOf(HasSubstr("'from_behind'"), HasSubstr("seen from behind")));
  EXPECT_TRUE(r.usable());
  EXPECT_FALSE(r.photos[5].solved);
}

TEST(PlaneChecks, AllFromTheSameDirectionAndWhereToStandNext) {
  std::vector<PlaneCamera> cameras;
  for (const PlanePiece side : {PlanePiece::card_a, PlanePiece::card_b})
    for (const double azimuth : {-4.0, 3.0}) {
      cameras.push_back(faces_camera(side, azimuth, 35));
      cameras.back().name = std::string(piece_words(side)) + (azimuth < 0 ? " left" : " right");
    }
  const PlanesScene scene = faces_scene(20);
  const auto photos = sighted_all(scene, cameras);
  const PlanesResult r = solved(PlanesView::faces, photos);
  ASSERT_TRUE(check_of(r, "same_direction"));
  EXPECT_THAT(check_of(r, "same_direction")->message, HasSubstr("Take one more photo of card"));
  ASSERT_TRUE(r.next_photo);
  // Taken from there, it must bring what was promised.
  PlaneCamera next = faces_camera(r.next_photo->piece, 0, 35);
  next.name = "next";
  const World3& middle = r.piece(r.next_photo->piece)->middle;
  next.target = 0.75 * Vec3{middle[0], middle[1], middle[2]};
  next.place = {r.next_photo->place[0], r.next_photo->place[1], r.next_photo->place[2]};
  auto more = photos;
  Random random(9);
  more.push_back(sighted(scene, next, 0.08, random));
  const PlanesResult better = solved(PlanesView::faces, more);
  const auto u = [](const PlanesResult& result) {
    double square = 0;
    for (const BudgetLine& line : result.dimension("worn_thickness")->quantity.budget)
      if (line.source == "corners in the photos" || line.source == "lens" ||
          line.source.starts_with("print scale"))
        square += std::pow(line.standard_uncertainty_mm, 2);
    return std::sqrt(square);
  };
  std::printf("corners, lens and print: %.3f mm; promised %.3f, then %.3f\n", u(r),
              r.next_photo->standard_uncertainty_mm, u(better));
  EXPECT_LT(u(better), 0.8 * u(r));
  EXPECT_NEAR(u(better) / r.next_photo->standard_uncertainty_mm, 1, 0.25);
}

TEST(PlaneChecks, TheDiscMovedBetweenPhotos) {
  const PlanesScene scene = faces_scene(20);
  PlanesScene moved = scene;
  for (PlacedPiece& card : moved.cards) move(card, {0.3, 0.9, 0});
  moved.disc->middle = moved.disc->middle + Vec3{0.3, 0.9, 0};
  const PlanesResult one = solved(PlanesView::faces, mixed(scene, moved, faces_cameras(), {4}));
  ASSERT_TRUE(check_of(one, "moved_between_photos"));
  EXPECT_EQ(check_of(one, "moved_between_photos")->severity, Severity::stop);
  EXPECT_THAT(check_of(one, "moved_between_photos")->message,
              AllOf(HasSubstr("lies elsewhere in 'out3'"), HasSubstr("Card A or the disc"),
                    HasSubstr("'out1' and 'out2'")));
  EXPECT_FALSE(one.usable());

  // Both sides have photos before and after: the disc it was.
  std::vector<PlaneCamera> cameras = faces_cameras();
  cameras.push_back(faces_camera(PlanePiece::card_b, 0, 45));
  cameras.back().name = "in3";
  const PlanesResult both = solved(PlanesView::faces, mixed(scene, moved, cameras, {4, 5}));
  ASSERT_TRUE(check_of(both, "moved_between_photos"));
  EXPECT_THAT(check_of(both, "moved_between_photos")->message, HasSubstr("The disc or the sheet"));
}

TEST(PlaneChecks, ACardMovedBetweenPhotos) {
  const PlanesScene scene = faces_scene(20);
  PlanesScene moved = scene;
  move(moved.cards[0], {2, 0, 1});
  // Card B was seen before and after, and stayed.
  std::vector<PlaneCamera> cameras = {
      faces_camera(PlanePiece::card_b, -25, 40), faces_camera(PlanePiece::card_a, -25, 30),
      faces_camera(PlanePiece::card_a, 25, 40), faces_camera(PlanePiece::card_a, 5, 50),
      faces_camera(PlanePiece::card_b, 25, 30)};
  for (std::size_t i = 0; i < cameras.size(); ++i) cameras[i].name = "p" + std::to_string(i + 1);
  const PlanesResult r = solved(PlanesView::faces, mixed(scene, moved, cameras, {3}));
  ASSERT_TRUE(check_of(r, "moved_between_photos"));
  EXPECT_THAT(check_of(r, "moved_between_photos")->message,
              AllOf(HasSubstr("Card A lies elsewhere in 'p4'"), HasSubstr("about 2.")));

  // With two photos nobody can tell which of them is the odd one.
  const PlanesScene pile = pile_scene(14, false);
  PlanesScene shifted = pile;
  move(shifted.cards[0], {0, 1.5, 0});
  auto two = pile_cameras();
  two.resize(2);
  const PlanesResult between = solved(PlanesView::pile, mixed(pile, shifted, two, {1}));
  ASSERT_TRUE(check_of(between, "moved_between_photos"));
  EXPECT_THAT(check_of(between, "moved_between_photos")->message,
              HasSubstr("between 'front' and 'right'"));
}

TEST(PlaneChecks, TimeStampsSayWhatCameFirst) {
  const PlanesScene scene = faces_scene(20);
  std::vector<PlaneCamera> cameras = faces_cameras();
  EXPECT_FALSE(check_of(solved(PlanesView::faces, sighted_all(scene, cameras)),
                        "first_side_not_seen_again"));
  // The last one given was taken before the inboard side.
  const char* times[] = {"10:00:01", "10:00:09", "10:01:00", "10:01:20", "10:00:20"};
  for (std::size_t i = 0; i < cameras.size(); ++i)
    cameras[i].taken_at = std::string("2026:04:11 ") + times[i];
  const PlanesResult r = solved(PlanesView::faces, sighted_all(scene, cameras));
  ASSERT_TRUE(check_of(r, "first_side_not_seen_again"));
  EXPECT_THAT(check_of(r, "first_side_not_seen_again")->message, HasSubstr("one more photo"));
}

TEST(PlaneChecks, FacesThatAreNotParallel) {
  const auto tilted = [](double degrees) {
    PlanesScene scene = faces_scene(20);
    PlacedPiece& card = scene.cards[1];
    const double a = radians(degrees);
    const Vec3 z = card.z();
    card.y = std::cos(a) * card.y + std::sin(a) * z;
    // It stands on its lower edge, 12 mm below its middle, its back off the face.
    card.middle = card.middle + -1 * (12 * std::sin(a)) * z;
    return solved(PlanesView::faces, sighted_all(scene, faces_cameras()));
  };
  const PlanesResult slightly = tilted(1.2);
  ASSERT_TRUE(check_of(slightly, "faces_not_parallel"));
  EXPECT_EQ(check_of(slightly, "faces_not_parallel")->severity, Severity::warn);
  EXPECT_NEAR(slightly.angle_deg.value(), 1.2, 0.2);
  // The card stands off: the size is too large, and the budget must cover that.
  const Quantity& q = slightly.dimension("worn_thickness")->quantity;
  EXPECT_LT(std::abs(q.value_mm - 20), q.expanded_95_mm());
  EXPECT_FALSE(tilted(5).usable());
}

TEST(PlaneChecks, CardsOnTheWrongSides) {
  // Both on the outboard face, side by side.
  PlanesScene one_side = faces_scene(20);
  one_side.cards[1].x = one_side.cards[0].x;
  one_side.cards[1].y = one_side.cards[0].y;
  one_side.cards[1].middle = one_side.cards[0].middle + 50.0 * one_side.cards[0].x;
  std::vector<PlaneCamera> cameras;
  for (const double azimuth : {-25.0, 0.0, 25.0}) {
    cameras.push_back(faces_camera(PlanePiece::card_a, azimuth, 35, 380));
    cameras.back().name = "p" + std::to_string(cameras.size());
  }
  EXPECT_TRUE(
      check_of(solved(PlanesView::faces, sighted_all(one_side, cameras)), "cards_same_side"));

  // Exchanged half-way through.
  const PlanesScene scene = faces_scene(20);
  PlanesScene swapped = scene;
  std::swap(swapped.cards[0].piece, swapped.cards[1].piece);
  cameras = faces_cameras();
  cameras.push_back(faces_camera(PlanePiece::card_b, 0, 45));
  cameras.back().name = "in3";
  const PlanesResult r = solved(PlanesView::faces, mixed(scene, swapped, cameras, {4, 5}));
  ASSERT_TRUE(check_of(r, "cards_swapped"));
  EXPECT_FALSE(r.usable());
}

TEST(PlaneChecks, CardsThatFaceEachOther) {
  // On the inner faces of two discs: printed sides towards each other.
  PlanesScene scene = faces_scene(20);
  scene.disc.reset();
  for (PlacedPiece& card : scene.cards) card.middle = card.middle + Vec3{0, 0, -70};
  std::swap(scene.cards[0].middle.y, scene.cards[1].middle.y);
  scene.cards[0].middle.x += 30;  // so that neither hides the other
  scene.cards[1].middle.x -= 30;
  std::vector<PlaneCamera> cameras = faces_cameras();
  for (PlaneCamera& camera : cameras) camera.target.z -= 25;
  EXPECT_TRUE(
      check_of(solved(PlanesView::faces, sighted_all(scene, cameras)), "cards_face_each_other"));
}

TEST(PlaneChecks, ABentAndAFoldedCard) {
  PlanesScene scene = faces_scene(20);
  scene.cards[0].bend_mm = 0.35;
  const PlanesResult bent = solved(PlanesView::faces, sighted_all(scene, faces_cameras()));
  ASSERT_TRUE(check_of(bent, "card_bent"));
  EXPECT_THAT(check_of(bent, "card_bent")->message, HasSubstr("Card A"));
  EXPECT_NEAR(bent.piece(PlanePiece::card_a)->bend_mm, 0.35, 0.08);
  scene.cards[0].bend_mm = 1.5;
  EXPECT_TRUE(
      check_of(solved(PlanesView::faces, sighted_all(scene, faces_cameras())), "card_folded"));
  // Folded across: a third of it stands off.
  auto photos = faces_photos();
  for (PlanePhoto& photo : photos)
    for (CardSighting& s : photo.pieces)
      if (s.card == &track_card())
        for (SightedCorner& c : s.corners)
          if (c.card_mm.x > 20 && c.card_mm.y > 10) c.photo_px.x += 0.25 * (c.card_mm.x - 20);
  EXPECT_TRUE(check_of(solved(PlanesView::faces, photos), "card_crumpled"));
}

TEST(PlaneChecks, ACurledSheetIsMeasuredAndSaid) {
  PlanesScene scene = pile_scene(14, false);
  scene.sheet.curl_mm = {-0.9, 0.2, -0.3, 0, 0, 0, 0};
  const PlanesResult curled = solved(PlanesView::pile, sighted_all(scene, pile_cameras()));
  ASSERT_TRUE(check_of(curled, "sheet_curled"));
  EXPECT_TRUE(curled.sheet.curved);
  EXPECT_NEAR(curled.sheet.range_mm, 1.1, 0.4);
  const Quantity& q = curled.dimension("overall_thickness")->quantity;
  EXPECT_NEAR(q.value_mm, 14, 0.04);
  EXPECT_THAT(curled.fit.value().words, HasSubstr("not flat"));
  const PlanesResult flat =
      solved(PlanesView::pile, sighted_all(pile_scene(14, false), pile_cameras()));
  EXPECT_FALSE(flat.sheet.curved);
  EXPECT_FALSE(check_of(flat, "sheet_curled"));
  scene.sheet.curl_mm = {-5, 0, 0, 0, 0, 0, 0};
  EXPECT_FALSE(solved(PlanesView::pile, sighted_all(scene, pile_cameras())).usable());
}

TEST(PlaneChecks, ACockledSheet) {
  auto photos = sighted_all(pile_scene(14, false), pile_cameras());
  // Waves too short for the smooth surface: each corner is seen where its height puts it.
  PlanesScene high = pile_scene(14, false), low = high;
  high.sheet.middle.z -= 0.3;
  low.sheet.middle.z += 0.3;
  const auto up = sighted_all(high, pile_cameras(), 0.08, 3);
  const auto down = sighted_all(low, pile_cameras(), 0.08, 4);
  for (std::size_t i = 0; i < photos.size(); ++i)
    for (CardSighting& s : photos[i].pieces) {
      if (s.card != &ground_sheet()) continue;
      for (SightedCorner& c : s.corners)
        for (const auto* other : {&up, &down})
          for (const SightedCorner& d : (*other)[i].piece(&ground_sheet())->corners)
            if (d.id == c.id && (c.id % 3 == 0) == (other == &up)) c.photo_px = d.photo_px;
    }
  EXPECT_TRUE(check_of(solved(PlanesView::pile, photos), "sheet_uneven"));
  EXPECT_FALSE(
      check_of(solved(PlanesView::pile, sighted_all(pile_scene(14, false), pile_cameras(), 0.3)),
               "sheet_uneven"))
      << "noise is not unevenness";
}

TEST(PlaneChecks, ThePrintAndTheCardUnchecked) {
  PlanesOptions options;
  options.view = PlanesView::faces;
  PlaneSession session(options);
  session.add(faces_photos());
  EXPECT_THAT(doubts(session.result()),
              ElementsAre("warn sheet_scale_unchecked", "warn card_thickness_unmeasured"));
  EXPECT_GT(session.result().dimension("worn_thickness")->quantity.standard_uncertainty_mm, 0.15);
}

TEST(PlaneChecks, TheSamePhotoTwice) {
  auto photos = faces_photos();
  photos.push_back(photos[0]);
  photos.back().name = "copy of out1";
  const PlanesResult r = solved(PlanesView::faces, photos);
  ASSERT_TRUE(check_of(r, "photo_twice"));
  EXPECT_THAT(check_of(r, "photo_twice")->message, HasSubstr("'copy of out1'"));
  EXPECT_EQ(r.piece(PlanePiece::card_a)->photos, 3);
}

TEST(PlaneChecks, NoCorners) {
  PlaneSession session(checked_options(PlanesView::faces));
  PlanePhoto empty;
  empty.name = "wall";
  session.add(empty);
  EXPECT_FALSE(session.result().usable());
  EXPECT_TRUE(check_of(session.result(), "sheet_missing"));
}

}  // namespace
}  // namespace scantling
