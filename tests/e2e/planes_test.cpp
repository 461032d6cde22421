// `scantling planes` on drawn photos of known size: JPEG files with EXIF, as a phone writes them.

#include <gmock/gmock.h>

#include <cmath>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "support/drawn_planes.h"
#include "support/run_program.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using namespace drawn;
using Json = nlohmann::ordered_json;
using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::Not;

constexpr double kDisc_mm = 20.37;
constexpr double kPad_mm = 13.52;

ProgramResult planes(std::vector<std::string> words) {
  words.insert(words.begin(), {SCANTLING_EXECUTABLE, "planes"});
  return run_program(words);
}

std::vector<std::string> ids(const Json& json) {
  std::vector<std::string> list;
  for (const Json& check : json.at("checks"))
    list.push_back(check.at("severity").get<std::string>() + " " +
                   check.at("id").get<std::string>());
  return list;
}

/// A phone without a profile: a lens that bends, a centre that is off, a rounded focal length.
PlaneCamera phone(PlaneCamera camera, const std::string& name) {
  camera.name = name;
  camera.width_px = 3264;
  camera.height_px = 2448;
  camera.focal_px = 2600;
  camera.k1 = 0.035;
  camera.k2 = -0.01;
  camera.centre_dx_px = 12;
  camera.centre_dy_px = -9;
  camera.f35_factor = 1.03;
  return camera;
}

PlaneCamera disc_photo(PlanePiece side, double azimuth_deg, double elevation_deg,
                       const std::string& name) {
  return phone(faces_camera(side, azimuth_deg, elevation_deg, 280), name);
}

class PlanesOnPhotos : public testing::Test {
 protected:
  TemporaryFolder folder;

  std::string draw(const PlanesScene& scene, const PlaneCamera& camera) {
    return folder.file(camera.name, plane_jpeg(scene, camera, ++seed_)).string();
  }

  static std::vector<std::string> with(std::vector<std::string> words,
                                       const std::vector<std::string>& photos) {
    words.insert(words.end(), {"--sheet-scale", "1,1,0.001", "--card-thickness", "0.25,0.01"});
    words.insert(words.end(), photos.begin(), photos.end());
    return words;
  }

 private:
  std::uint32_t seed_ = 0;
};

// One test, as drawing the photos takes longest.
TEST_F(PlanesOnPhotos, OfADiscGiveItsWornThickness) {
  const PlanesScene disc = faces_scene(kDisc_mm);
  const std::vector<std::string> photos = {
      draw(disc, disc_photo(PlanePiece::card_a, -28, 32, "out1.jpg")),
      draw(disc, disc_photo(PlanePiece::card_a, 24, 44, "out2.jpg")),
      draw(disc, disc_photo(PlanePiece::card_b, -22, 42, "in1.jpg")),
      draw(disc, disc_photo(PlanePiece::card_b, 28, 30, "in2.jpg")),
      draw(disc, disc_photo(PlanePiece::card_a, 0, 52, "out3.jpg"))};
  const ProgramResult run = planes(with({"--view", "faces", "--json"}, photos));
  ASSERT_EQ(run.exit_status, 0) << run.errors;
  const Json json = Json::parse(run.output);
  const Json& worn = json.at("dimensions").at(0);
  EXPECT_EQ(worn.at("name"), "worn_thickness");
  const double value = worn.at("value_mm"), expanded = worn.at("expanded_95_mm");
  std::printf("worn thickness %.3f mm, true %.3f, 95 %% +- %.3f; noise %.3f px; %.0f ms in all\n",
              value, kDisc_mm, expanded, json.at("fit").at("noise_px").get<double>(),
              json.at("timing_ms").at("total").get<double>());
  EXPECT_NEAR(value, kDisc_mm, 0.06);
  EXPECT_LT(std::abs(value - kDisc_mm), expanded);
  EXPECT_LT(expanded, 0.2);
  EXPECT_LT(json.at("faces_angle_deg").get<double>(), 0.3);
  ASSERT_EQ(json.at("photos").size(), 5u);
  for (const Json& photo : json.at("photos")) {
    EXPECT_TRUE(photo.at("used").get<bool>());
    EXPECT_LT(photo.at("residual_px").get<double>(), 0.25);
    EXPECT_NEAR(photo.at("focal_px").get<double>(), 2600, 40);
  }
  EXPECT_EQ(json.at("cards").size(), 3u);
  for (const std::string& id : ids(json)) EXPECT_THAT(id, Not(HasSubstr("stop")));

  // One side alone is no thickness.
  const ProgramResult half = planes(with({"--view", "faces", "--json"}, {photos[0], photos[1]}));
  EXPECT_EQ(half.exit_status, 3);
  EXPECT_THAT(ids(Json::parse(half.output)), Contains("stop too_few_photos"));
  EXPECT_TRUE(Json::parse(half.output).at("dimensions").empty());
  EXPECT_THAT(half.errors, HasSubstr("inboard"));

  // The disc was pushed before the last photo.
  PlanesScene moved = disc;
  moved.disc->middle.y += 1;
  for (PlacedPiece& card : moved.cards) card.middle.y += 1;
  std::vector<std::string> with_moved = photos;
  with_moved[4] = draw(moved, disc_photo(PlanePiece::card_a, 3, 50, "pushed.jpg"));
  const ProgramResult pushed = planes(with({"--view", "faces", "--json"}, with_moved));
  EXPECT_EQ(pushed.exit_status, 3);
  EXPECT_THAT(ids(Json::parse(pushed.output)), Contains("stop moved_between_photos"));
  EXPECT_THAT(pushed.errors, HasSubstr("'pushed.jpg'"));

  // A card with its blank side out, one folded back, and a file that is no photo beside good ones.
  PlanesScene blank = disc, rolled = disc;
  std::swap(blank.cards[0].x, blank.cards[0].y);
  rolled.cards[0].rolled_mm = 17;
  std::vector<std::string> more = photos;
  more.push_back(draw(blank, disc_photo(PlanePiece::card_a, 10, 40, "behind.jpg")));
  more.push_back(draw(rolled, disc_photo(PlanePiece::card_a, -10, 40, "folded.jpg")));
  more.push_back(folder.file("text.jpg", std::string("no photo")).string());
  const ProgramResult bad = planes(with({"--view", "faces", "--json"}, more));
  EXPECT_EQ(bad.exit_status, 0) << "enough good photos are left";
  const Json bad_json = Json::parse(bad.output);
  EXPECT_THAT(ids(bad_json), Contains("warn card_missing"));
  EXPECT_THAT(bad.errors, HasSubstr("'behind.jpg'"));
  EXPECT_THAT(ids(bad_json), Contains("warn card_partly_hidden"));
  EXPECT_THAT(bad.errors, HasSubstr("'folded.jpg'"));
  EXPECT_FALSE(bad_json.at("photos").at(7).at("used").get<bool>());
}

TEST_F(PlanesOnPhotos, OfAPadGiveItsHeightAndTaper) {
  const PlanesScene pad = pile_scene(kPad_mm, true, 0.5);
  PlaneCamera upright = phone(pile_camera(75, 50, 280), "right.jpg");
  upright.exif_orientation = 6;  // the phone held upright
  std::swap(upright.width_px, upright.height_px);
  upright.centre_dx_px = 9;
  upright.centre_dy_px = 12;
  const std::vector<std::string> photos = {draw(pad, phone(pile_camera(-45, 42, 280), "front.jpg")),
                                           draw(pad, upright),
                                           draw(pad, phone(pile_camera(175, 46, 280), "back.jpg"))};
  const ProgramResult run = planes(with({"--view", "pile", "--json"}, photos));
  ASSERT_EQ(run.exit_status, 0) << run.errors;
  const Json json = Json::parse(run.output);
  const double value = json.at("dimensions").at(0).at("value_mm");
  const double expanded = json.at("dimensions").at(0).at("expanded_95_mm");
  const double taper = json.at("dimensions").at(1).at("value_mm");
  std::printf("pad %.3f mm, true %.3f, 95 %% +- %.3f; taper %.3f, true 0.5\n", value, kPad_mm,
              expanded, taper);
  EXPECT_EQ(json.at("dimensions").at(0).at("name"), "overall_thickness");
  EXPECT_NEAR(value, kPad_mm, 0.04);
  EXPECT_LT(std::abs(value - kPad_mm), expanded);
  EXPECT_EQ(json.at("dimensions").at(1).at("name"), "friction_taper");
  // A difference over 54 mm is no surer than its own interval.
  EXPECT_LT(std::abs(taper - 0.5), json.at("dimensions").at(1).at("expanded_95_mm").get<double>());
  EXPECT_NEAR(taper, 0.5, 0.1);
  EXPECT_TRUE(json.at("tilt_deg").is_number());

  const ProgramResult words = planes(with({"--view", "pile"}, photos));
  EXPECT_EQ(words.exit_status, 0);
  EXPECT_THAT(words.output, HasSubstr("whole pad"));
  EXPECT_THAT(words.output, HasSubstr("Tilt of the card to the sheet"));
  EXPECT_THAT(words.output, HasSubstr("nothing moved"));
  EXPECT_THAT(words.output, HasSubstr("front.jpg: ground sheet, card A, card B"));
  EXPECT_THAT(words.output, HasSubstr("One more photo would help most"));
}

TEST(PlanesCommand, RefusesWrongUsageWithAReason) {
  const auto refused = [](std::vector<std::string> words, const char* why) {
    const ProgramResult run = planes(std::move(words));
    EXPECT_EQ(run.exit_status, 2) << run.errors;
    EXPECT_THAT(run.errors, HasSubstr(why));
    EXPECT_EQ(run.output, "");
  };
  refused({"a.jpg"}, "--view");
  refused({"--view", "edge", "a.jpg"}, "faces or pile");
  refused({"--view", "faces"}, "PHOTO");
  refused({"--view", "faces", "--sheet-scale", "1", "a.jpg"}, "--sheet-scale");
  refused({"--view", "faces", "--card-scale", "1,3", "a.jpg"}, "--card-scale");
  refused({"--view", "faces", "--card-thickness", "-1", "a.jpg"}, "--card-thickness");
  refused({"--view", "faces", "--card-thickness", "0.25,x", "a.jpg"}, "not a number");
  refused({"--view", "faces", "--camera", "/nowhere/phone.json", "a.jpg"}, "--camera");
  const ProgramResult missing = planes({"--view", "pile", "--json", "/nowhere/a.jpg"});
  EXPECT_EQ(missing.exit_status, 3);
  EXPECT_TRUE(Json::parse(missing.output).at("dimensions").empty());
}

}  // namespace
}  // namespace scantling
