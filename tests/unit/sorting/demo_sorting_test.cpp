// The demo's photos as a heap: how many are recognised, and how many find their part.
#include <gmock/gmock.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <opencv2/imgproc.hpp>

#include "base/each_index.h"
#include "card/cards_in_photo.h"
#include "photo/photo.h"
#include "sorting/place_photos.h"
#include "sorting/sorting_words.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;

const fs::path kDemo = fs::path(SCANTLING_SOURCE_DIR) / "assets/demo";

/// What the demo's job.json says of each photo: its view ("sheet" for the bare sheet) and place.
struct Truth {
  std::string view;
  std::string place;
};

std::string part_words(const nlohmann::json& part) {
  std::string side = part.at("side");
  side[0] = static_cast<char>(std::toupper(side[0]));
  if (part.at("kind") == "disc") return side + " disc";
  return side + " " + part.at("place").get<std::string>() + " pad";
}

std::map<std::string, Truth> demo_truth() {
  std::ifstream in(kDemo / "job.json");
  const nlohmann::json job = nlohmann::json::parse(in);
  std::map<std::string, Truth> truth;
  for (const auto& pad : job.at("parts")) truth[pad.at("photo")] = {"pad", part_words(pad)};
  for (const auto& disc : job.at("discs"))
    for (const auto& photo : disc.at("photos")) {
      const bool rim = photo.at("view") == "rim";
      truth[photo.at("photo")] = {
          photo.at("view"),
          part_words(disc) + ", " + (rim ? "rim" : photo.at("face").get<std::string>() + " lip")};
    }
  for (const char* list : {"piles", "faces"})
    for (const auto& set : job.at(list))
      for (const auto& photo : set.at("photos"))
        truth[photo] = {set.at("view"), part_words(set) + ", on the sheet"};
  for (const auto& photo : job.at("camera_photos")) truth[photo] = {"sheet", "Your phone's camera"};
  return truth;
}

std::string seen_as(const PhotoSight& sight) {
  return sight.bare_sheet ? "sheet" : sight.view ? view_word(*sight.view) : "nothing";
}

TEST(DemoSorting, RecognisesNearlyEveryPhotoAndFindsItsPart) {
  const std::map<std::string, Truth> truth = demo_truth();
  std::vector<fs::path> files;
  for (const auto& [name, what] : truth)
    if (fs::exists(kDemo / name)) files.push_back(kDemo / name);
  ASSERT_GE(files.size(), 30u);
  const std::vector<PhotoSight> sights = sight_photos(files, {}, usable_cores());
  const std::vector<PhotoProposal> proposals = propose_places(sights);
  std::size_t views = 0, places = 0, sure = 0;
  for (std::size_t i = 0; i < files.size(); ++i) {
    const Truth& is = truth.at(files[i].filename().string());
    const std::string place = place_words(proposals[i].place);
    views += seen_as(sights[i]) == is.view;
    places += place == is.place;
    sure += proposals[i].sureness >= kLookBelow;
    if (seen_as(sights[i]) != is.view || place != is.place)
      std::printf("%s: %s, %s instead of %s, %s (%s)\n", files[i].filename().c_str(),
                  seen_as(sights[i]).c_str(), place.c_str(), is.view.c_str(), is.place.c_str(),
                  proposals[i].why.c_str());
  }
  std::printf("Demo's photos: %zu of %zu recognised, %zu at their place, %zu sure of it\n", views,
              files.size(), places, sure);
  EXPECT_GE(views, files.size() - 1);
  EXPECT_GE(places, files.size() - 2);
}

TEST(DemoSorting, TheFirstTwelvePhotosGiveTheSameOnOneThreadAndOnMany) {
  std::vector<fs::path> files;
  for (const auto& [name, what] : demo_truth())
    if (what.view == "pad" || what.view == "rim" || what.view == "lip")
      files.push_back(kDemo / name);
  files.resize(6);
  const auto one = sight_photos(files, {}, 1), many = sight_photos(files, {}, 4);
  for (std::size_t i = 0; i < files.size(); ++i) {
    EXPECT_EQ(one[i].sha256, many[i].sha256);
    EXPECT_EQ(one[i].view, many[i].view);
    EXPECT_EQ(one[i].sureness, many[i].sureness);
    ASSERT_EQ(one[i].stand.has_value(), many[i].stand.has_value());
    if (one[i].stand) {
      EXPECT_EQ(distance_mm(one[i].stand->centre_mm, many[i].stand->centre_mm), 0);
    }
  }
}

TEST(CardsInPhoto, TellsThePrintedPiecesApart) {
  const auto names = [](const char* photo) {
    const PhotoLoad load = load_photo(kDemo / photo);
    std::vector<std::string> found;
    for (const CardPresence& presence : cards_in_photo(load.photo.value().luma))
      found.push_back(presence.card->name);
    std::sort(found.begin(), found.end());
    return found;
  };
  EXPECT_THAT(names("pad_left_inner.jpg"), testing::ElementsAre("notch"));
  EXPECT_THAT(names("lip_left_outboard_1.jpg"), testing::ElementsAre("track"));
  EXPECT_THAT(names("sheet_01.jpg"), testing::ElementsAre("ground"));
  EXPECT_THAT(names("faces_left_outboard_1.jpg"), testing::ElementsAre("ground", "track"));
  EXPECT_THAT(names("faces_left_inboard_1.jpg"), testing::ElementsAre("ground", "track_b"));
  EXPECT_TRUE(cards_in_photo(cv::Mat()).empty());
  EXPECT_TRUE(cards_in_photo(cv::Mat(600, 800, CV_8UC1, cv::Scalar(128))).empty());
}

TEST(PhotoSight, WhatIsNoPhotoKeepsItsRefusal) {
  const TemporaryFolder folder;
  const PhotoSight none = sight_photo(folder.file("notes.jpg", "not a picture"));
  ASSERT_FALSE(none.checks.empty());
  EXPECT_EQ(none.checks[0].id, "photo_not_a_photo");
  EXPECT_FALSE(none.usable());
  const PhotoSight missing = sight_photo(folder / "gone.jpg");
  EXPECT_FALSE(missing.checks.empty());
  EXPECT_EQ(missing.sha256, "");
}

}  // namespace
}  // namespace scantling
