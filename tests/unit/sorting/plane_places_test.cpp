// Photos with the ground sheet: told apart by how their card stands.
#include <gmock/gmock.h>

#include "sorting/place_photos.h"
#include "sorting/sorting_words.h"
#include "unit/sorting/made_sights.h"

namespace scantling {
namespace {

using testing::ElementsAre;

std::vector<std::string> places(const std::vector<PhotoSight>& photos) {
  std::vector<std::string> words;
  for (const PhotoProposal& proposal : propose_places(photos))
    words.push_back(place_words(proposal.place));
  return words;
}

PhotoSight face(const std::string& name, double minutes, std::optional<PieceStance> a,
                std::optional<PieceStance> b) {
  PhotoSight sight = made_sight(name, View::faces, minutes);
  sight.card_a = a;
  sight.card_b = b;
  return sight;
}

PhotoSight pile(const std::string& name, double minutes, double thickness_mm, double x_mm) {
  PhotoSight sight = made_sight(name, View::pile, minutes);
  sight.card_a = made_stance({x_mm, 50, -thickness_mm}, {0, 0, 1});
  sight.thickness = RoughSize{thickness_mm, 0.5};
  return sight;
}

PieceStance upright(double x_mm, double y_mm, double way) {
  return made_stance({x_mm, y_mm, -40}, {0, way, 0});
}

TEST(PlanePlaces, BothSidesOfOneDiscAndTheNextDisc) {
  EXPECT_THAT(
      places({made_rim("r", 0, 24), face("1", 2, upright(60, 90, 1), {}),
              face("2", 4, {}, upright(61, 113, -1)), face("3", 5, upright(60.5, 90.5, 1), {}),
              made_rim("r2", 9, 24), face("4", 12, upright(80, 70, 1), {}),
              face("5", 13, {}, upright(80, 95, -1))}),
      ElementsAre("Left disc, rim", "Left disc, on the sheet", "Left disc, on the sheet",
                  "Left disc, on the sheet", "Right disc, rim", "Right disc, on the sheet",
                  "Right disc, on the sheet"));
}

TEST(PlanePlaces, ALatePhotoOfAnEarlierSetUpGoesBackToIt) {
  EXPECT_THAT(places({face("1", 0, upright(60, 90, 1), {}), face("2", 10, upright(120, 40, 1), {}),
                      face("3", 12, upright(60, 90.4, 1), {})}),
              ElementsAre("Left disc, on the sheet", "Right disc, on the sheet",
                          "Left disc, on the sheet"));
}

TEST(PlanePlaces, APadOnTheSheetIsKnownByItsThickness) {
  EXPECT_THAT(places({made_pad("1", 0, 8.0), made_pad("2", 6, 12.0), made_pad("3", 12, 10.7),
                      made_pad("4", 18, 17.4), pile("a", 30, 10.9, 60), pile("b", 31, 10.8, 61),
                      pile("c", 40, 8.2, 70)}),
              ElementsAre("Left inner pad", "Left outer pad", "Right inner pad", "Right outer pad",
                          "Right inner pad, on the sheet", "Right inner pad, on the sheet",
                          "Left inner pad, on the sheet"));
}

TEST(PlanePlaces, WithoutOtherPhotosPadsOnTheSheetGoInOrder) {
  const std::vector<PhotoSight> photos = {pile("a", 0, 10.9, 60), pile("b", 1, 10.9, 60),
                                          pile("c", 9, 8.2, 90)};
  EXPECT_THAT(places(photos),
              ElementsAre("Left inner pad, on the sheet", "Left inner pad, on the sheet",
                          "Left outer pad, on the sheet"));
  EXPECT_LT(propose_places(photos)[0].sureness, kLookBelow) << "nothing says which pad it is";
}

}  // namespace
}  // namespace scantling
