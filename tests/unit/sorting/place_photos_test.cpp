#include "sorting/place_photos.h"

#include <gmock/gmock.h>

#include "sorting/sorting_words.h"
#include "unit/sorting/made_sights.h"

namespace scantling {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

using Pins = std::vector<std::optional<PhotoPlace>>;

std::vector<std::string> places(const std::vector<PhotoSight>& photos,
                                const SortingContext& context = {}, const Pins& pins = {}) {
  std::vector<std::string> words;
  for (const PhotoProposal& proposal : propose_places(photos, context, pins))
    words.push_back(place_words(proposal.place));
  return words;
}

PhotoPlace pad_at(Side side, PadPlace place) {
  return PhotoPlace::part(PartSlot::pad(side, place), {View::pad, {}});
}

TEST(PlacePhotos, FourPadsMinutesApartGoWheelByWheel) {
  EXPECT_THAT(
      places({made_pad("1", 0, 8), made_pad("2", 6, 12), made_pad("3", 29, 11),
              made_pad("4", 36, 17)}),
      ElementsAre("Left inner pad", "Left outer pad", "Right inner pad", "Right outer pad"));
}

TEST(PlacePhotos, TheTimeDecidesNotTheOrderGiven) {
  EXPECT_THAT(places({made_pad("2", 6, 12), made_pad("1", 0, 8)}),
              ElementsAre("Left outer pad", "Left inner pad"));
}

TEST(PlacePhotos, TwoPhotosOfOnePadSoonAfterEachOther) {
  const std::vector<PhotoSight> photos = {made_pad("1", 0, 8), made_pad("2", 0.7, 8.1),
                                          made_pad("3", 9, 12)};
  EXPECT_THAT(places(photos), ElementsAre("Left inner pad", "Left inner pad", "Left outer pad"));
  EXPECT_THAT(propose_places(photos)[1].why, HasSubstr("42 s later"));
}

TEST(PlacePhotos, AnotherThicknessIsAnotherPadHoweverSoon) {
  EXPECT_THAT(places({made_pad("1", 0, 8), made_pad("2", 0.5, 12)}),
              ElementsAre("Left inner pad", "Left outer pad"));
}

TEST(PlacePhotos, ADiscBetweenTwoPadsMeansTheOtherWheel) {
  EXPECT_THAT(places({made_pad("1", 0, 8), made_rim("2", 5, 24), made_pad("3", 30, 11)}),
              ElementsAre("Left inner pad", "Left disc, rim", "Right inner pad"));
}

TEST(PlacePhotos, ADiscsRimAndItsFourLips) {
  EXPECT_THAT(places({made_rim("r", 0, 24), made_lip("a", 1, 20.0), made_lip("b", 3, 20.1),
                      made_lip("c", 5, 21.5), made_lip("d", 6, 21.4), made_rim("r2", 7, 24.1),
                      made_lip("e", 8, 20), made_lip("f", 9, 20), made_lip("g", 10, 22),
                      made_lip("h", 11, 22)}),
              ElementsAre("Left disc, rim", "Left disc, outboard lip", "Left disc, outboard lip",
                          "Left disc, inboard lip", "Left disc, inboard lip", "Right disc, rim",
                          "Right disc, outboard lip", "Right disc, outboard lip",
                          "Right disc, inboard lip", "Right disc, inboard lip"));
}

TEST(PlacePhotos, ThreeLipPhotosAreSplitWhereTheCardWasMoved) {
  EXPECT_THAT(places({made_rim("r", 0, 24), made_lip("a", 1, 20.0), made_lip("b", 3, 21.5),
                      made_lip("c", 5, 21.6)}),
              ElementsAre("Left disc, rim", "Left disc, outboard lip", "Left disc, inboard lip",
                          "Left disc, inboard lip"));
}

TEST(PlacePhotos, LipsWithoutARimStartTheNextDiscAfterFour) {
  std::vector<PhotoSight> photos;
  for (int i = 0; i < 6; ++i)
    photos.push_back(made_lip("l" + std::to_string(i), 2 * i, 20 + 1.5 * (i / 2)));
  EXPECT_THAT(places(photos), ElementsAre("Left disc, outboard lip", "Left disc, outboard lip",
                                          "Left disc, inboard lip", "Left disc, inboard lip",
                                          "Right disc, outboard lip", "Right disc, outboard lip"));
}

TEST(PlacePhotos, GoesOnFromWhatTheJobHas) {
  SortingContext context;
  context.filed.push_back({"x", pad_at(Side::left, PadPlace::inner), {}});
  context.filed.push_back({"y", PhotoPlace::part(PartSlot::disc(Side::left), {View::rim, {}}), {}});
  EXPECT_THAT(places({made_pad("1", 0, 8), made_rim("2", 9, 24)}, context),
              ElementsAre("Left outer pad", "Right disc, rim"));
  context.start = PartSlot::pad(Side::right, PadPlace::outer);
  EXPECT_THAT(places({made_pad("1", 0, 8)}, context), ElementsAre("Right outer pad"));
}

TEST(PlacePhotos, APhotoThatTheJobHasIsLeftOut) {
  SortingContext context;
  context.filed.push_back({"1", pad_at(Side::right, PadPlace::inner), {}});
  const auto proposals = propose_places({made_pad("1", 0, 8)}, context);
  EXPECT_TRUE(proposals[0].filed_already);
  EXPECT_EQ(proposals[0].place, PhotoPlace::aside());
  EXPECT_THAT(proposals[0].why, HasSubstr("Right inner pad"));
}

TEST(PlacePhotos, WhatTheUserPinsMovesTheOnesAfterIt) {
  const std::vector<PhotoSight> photos = {made_pad("1", 0, 8), made_pad("2", 6, 12),
                                          made_pad("3", 12, 15)};
  Pins pins(3);
  pins[0] = pad_at(Side::left, PadPlace::outer);
  EXPECT_THAT(places(photos, {}, pins),
              ElementsAre("Left outer pad", "Right inner pad", "Right outer pad"));
  pins[1] = pad_at(Side::left, PadPlace::outer);
  EXPECT_THAT(places(photos, {}, pins),
              ElementsAre("Left outer pad", "Left outer pad", "Right inner pad"));
  EXPECT_EQ(propose_places(photos, {}, pins)[1].sureness, 1);
}

TEST(PlacePhotos, APinnedFaceTurnsTheLipsRound) {
  Pins pins(4);
  pins[0] = PhotoPlace::part(PartSlot::disc(Side::left), {View::lip, DiscFace::inboard});
  EXPECT_THAT(places({made_lip("a", 0, 20), made_lip("b", 1, 20), made_lip("c", 5, 22),
                      made_lip("d", 6, 22)},
                     {}, pins),
              ElementsAre("Left disc, inboard lip", "Left disc, inboard lip",
                          "Left disc, outboard lip", "Left disc, outboard lip"));
}

TEST(PlacePhotos, AFifthPadIsForTheUserToPlace) {
  std::vector<PhotoSight> photos;
  for (int i = 0; i < 5; ++i) photos.push_back(made_pad(std::to_string(i), 10 * i, 6 + 2 * i));
  const auto proposals = propose_places(photos);
  EXPECT_LT(proposals[4].sureness, kLookBelow);
  EXPECT_GE(proposals[3].sureness, kLookBelow);
}

TEST(PlacePhotos, WithoutTimesTheNamesGiveTheOrderLessSurely) {
  std::vector<PhotoSight> photos = {made_pad("p10", 0, 8), made_pad("p9", 0, 12)};
  for (PhotoSight& photo : photos) photo.taken_s.reset();
  const auto proposals = propose_places(photos);
  EXPECT_EQ(place_words(proposals[1].place), "Left inner pad");
  EXPECT_EQ(place_words(proposals[0].place), "Left outer pad");
  EXPECT_LT(proposals[0].sureness, kLookBelow);
  EXPECT_EQ(proposals[0].time_group, 0);
}

TEST(PlacePhotos, MinutesWithoutAPhotoStartTheNextGroup) {
  const auto proposals = propose_places(
      {made_pad("1", 0, 8), made_pad("2", 1, 8), made_pad("3", 5, 9), made_pad("4", 60, 12)});
  EXPECT_EQ(proposals[0].time_group, 1);
  EXPECT_EQ(proposals[1].time_group, 1);
  EXPECT_EQ(proposals[2].time_group, 2);
  EXPECT_EQ(proposals[3].time_group, 3);
}

TEST(PlacePhotos, TheBareSheetGoesToTheCameraAndNothingStaysOut) {
  std::vector<PhotoSight> photos = {made_sight("sheet", std::nullopt, 0),
                                    made_sight("cat", std::nullopt, 1), made_pad("pad", 5, 8)};
  photos[0].bare_sheet = true;
  photos[0].sureness = 0.95;
  EXPECT_THAT(places(photos), ElementsAre("Your phone's camera", "Left out", "Left inner pad"));
}

TEST(PlacePhotos, APhotoThatGivesNoSizeWantsTheUsersEye) {
  std::vector<PhotoSight> photos = {made_pad("1", 0, 8)};
  photos[0].checks = {{"blurred", Severity::stop, "The photo is blurred."}};
  const auto proposals = propose_places(photos);
  EXPECT_EQ(place_words(proposals[0].place), "Left inner pad");
  EXPECT_LT(proposals[0].sureness, kLookBelow);
}

TEST(PlacePhotos, ADoubleIsLeftOutButMayBePinned) {
  std::vector<PhotoSight> photos = {made_pad("1", 0, 8), made_pad("2", 0, 8)};
  photos[1].sha256 = photos[0].sha256;
  EXPECT_THAT(places(photos), ElementsAre("Left inner pad", "Left out"));
  Pins pins(2);
  pins[1] = pad_at(Side::left, PadPlace::outer);
  EXPECT_THAT(places(photos, {}, pins), ElementsAre("Left inner pad", "Left outer pad"));
}

}  // namespace
}  // namespace scantling
