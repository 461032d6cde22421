// Each thing that can be wrong with a photo must be noticed, named, and said in a sentence; where
// it says stop there must be no size.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>

#include "dimension/analysis.h"
#include "support/drawn_file.h"
#include "support/drawn_scene.h"

namespace scantling {
namespace {

using drawn::DrawnScene;

/// A photo that nothing is wrong with, at about 8 px/mm.
DrawnScene good_scene() {
  DrawnScene scene;
  scene.camera.width_px = 1320;
  scene.camera.height_px = 900;
  scene.camera.focal_px = 2400;
  scene.camera.elevation_deg = 4;
  scene.pad.top_step = 35;
  scene.pad.texture = 0.1;
  scene.place.sun_share = 0.4;
  return scene;
}

MeasureOptions good_options() {
  MeasureOptions options;
  options.sheet_scale = {1, 1, 0.002, true};
  return options;
}

struct Trouble {
  const char* id;
  Severity severity;
  std::function<void(DrawnScene&)> spoil = [](DrawnScene&) {};
  std::function<void(Photo&, MeasureOptions&)> spoil_rest = [](Photo&, MeasureOptions&) {};
};

Measurement measure(const DrawnScene& scene, const Trouble& trouble) {
  PhotoLoad load;
  load.photo = drawn::as_photo(scene, drawn::draw(scene));
  MeasureOptions options = good_options();
  trouble.spoil_rest(*load.photo, options);
  return Analysis::run(std::move(load), options).measurement();
}

const Check* find_check(const Measurement& measurement, const std::string& id) {
  for (const Check& check : measurement.checks)
    if (check.id == id) return &check;
  return nullptr;
}

std::vector<std::string> ids_of(const Measurement& measurement) {
  std::vector<std::string> ids;
  for (const Check& check : measurement.checks) ids.push_back(check.id);
  return ids;
}

class PhotoCheck : public testing::TestWithParam<Trouble> {};

TEST_P(PhotoCheck, NamesTheTroubleAndGivesNoSizeWhereItSaysStop) {
  const Trouble& trouble = GetParam();
  DrawnScene scene = good_scene();
  trouble.spoil(scene);
  const Measurement measurement = measure(scene, trouble);
  const Check* check = find_check(measurement, trouble.id);
  ASSERT_TRUE(check) << testing::PrintToString(ids_of(measurement));
  EXPECT_EQ(check->severity, trouble.severity);
  EXPECT_GT(check->message.size(), 30u);
  EXPECT_EQ(check->message.back(), '.');
  if (trouble.severity == Severity::stop) {
    EXPECT_THAT(measurement.dimensions, testing::IsEmpty());
    EXPECT_FALSE(measurement.usable());
  } else {
    EXPECT_FALSE(any_stop(measurement.checks)) << testing::PrintToString(ids_of(measurement));
    EXPECT_TRUE(measurement.usable());
  }
}

const Trouble kTroubles[] = {
    {"card_missing", Severity::stop, [](DrawnScene& s) { s.card.present = false; }},
    {"photo_mirrored", Severity::stop, [](DrawnScene& s) { s.camera.mirrored = true; }},
    {"card_twice", Severity::stop,
     [](DrawnScene& s) {
       s.card.second = true;
       s.camera.target = {139, 45};
       s.camera.distance_mm = 480;
       s.camera.width_px = 1600;
     }},
    {"card_too_few_corners", Severity::stop,
     [](DrawnScene& s) {
       s.camera.target = {196, -10};
     }},
    {"card_partly_hidden", Severity::warn, [](DrawnScene& s) { s.camera.target.x = 116; }},
    {"card_one_sided", Severity::warn, [](DrawnScene& s) { s.camera.target.x = 132; }},
    {"view_too_oblique", Severity::stop, [](DrawnScene& s) { s.camera.azimuth_deg = 50; }},
    {"view_oblique", Severity::warn, [](DrawnScene& s) { s.camera.azimuth_deg = 31; }},
    {"too_far", Severity::stop, [](DrawnScene& s) { s.camera.distance_mm = 660; }},
    {"far", Severity::warn, [](DrawnScene& s) { s.camera.distance_mm = 400; }},
    {"card_uneven", Severity::warn,
     [](DrawnScene& s) {
       s.card.ripple_mm = 0.8;
       s.camera.azimuth_deg = 15;
     }},
    {"card_not_flat", Severity::stop,
     [](DrawnScene& s) {
       s.card.ripple_mm = 2.5;
       s.camera.azimuth_deg = 15;
     }},
    {"blurred", Severity::stop, [](DrawnScene& s) { s.camera.blur_px = 3.4; }},
    {"slightly_blurred", Severity::warn, [](DrawnScene& s) { s.camera.blur_px = 2; }},
    {"under_exposed", Severity::stop, [](DrawnScene& s) { s.camera.paper_level = 0.016; }},
    {"over_exposed", Severity::stop, [](DrawnScene& s) { s.camera.paper_level = 11; }},
    {"sheet_scale_unchecked", Severity::warn, [](DrawnScene&) {},
     [](Photo&, MeasureOptions& options) { options.sheet_scale = {}; }},
    {"camera_unknown", Severity::info, [](DrawnScene&) {},
     [](Photo& photo, MeasureOptions&) { photo.tags = {}; }},
};

INSTANTIATE_TEST_SUITE_P(Each, PhotoCheck, testing::ValuesIn(kTroubles),
                         [](const auto& trouble) { return std::string(trouble.param.id); });

TEST(PhotoChecks, FindNoFaultWithAGoodPhotosCardCameraAndLight) {
  const Measurement measurement = measure(good_scene(), {"", Severity::info});
  // Asking to look at an edge is no fault of the photo.
  EXPECT_THAT(ids_of(measurement), testing::Each("edge_uncertain"));
  EXPECT_EQ(measurement.dimensions.size(), 4u);
}

TEST(PhotoChecks, SayThatAnEmptyNotchHoldsNoPad) {
  DrawnScene scene = drawn::random_scene(204, 6);
  scene.pad.present = false;
  const Measurement measurement = measure(scene, {"", Severity::info});
  const Check* check = find_check(measurement, "edges_not_found");
  ASSERT_TRUE(check) << testing::PrintToString(ids_of(measurement));
  EXPECT_EQ(check->severity, Severity::stop);
  EXPECT_THAT(measurement.dimensions, testing::IsEmpty());
}

}  // namespace
}  // namespace scantling
