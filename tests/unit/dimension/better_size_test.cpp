// What a better input would bring, as the engine reckons it, against measuring again with it: on
// drawn photos.

#include "dimension/better_size.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "camera/camera_shelf.h"
#include "dimension/analysis.h"
#include "dimension/better_input.h"
#include "dimension/lip_outlook.h"
#include "dimension/lip_sizes.h"
#include "dimension/rim_view.h"
#include "support/drawn_disc.h"
#include "support/drawn_file.h"

namespace scantling {
namespace {

constexpr double kFewPerCent = 0.04;

Measurement measured(const Photo& photo, const MeasureOptions& options) {
  PhotoLoad load;
  load.photo = photo;
  return Analysis::run(std::move(load), options).measurement();
}

/// The camera stands above the part, so that depth and lens count.
const Photo& pad_photo() {
  static const Photo photo = [] {
    drawn::DrawnScene scene;
    scene.camera.width_px = 1840;
    scene.camera.height_px = 1240;
    scene.camera.focal_px = 2100;
    scene.camera.distance_mm = 260;
    scene.camera.elevation_deg = 14;
    return drawn::as_photo(scene, drawn::draw(scene));
  }();
  return photo;
}

const Photo& rim_photo() {
  static const Photo photo = [] {
    const drawn::DrawnDiscScene scene = drawn::random_rim_scene(3, 3, drawn::Difficulty::easy);
    return drawn::as_photo(scene.camera, drawn::draw(scene));
  }();
  return photo;
}

MeasureOptions unaided(View view) {
  MeasureOptions options;
  options.view = view;
  return options;
}

/// Foretells a better input's gain, then measures again with it.
void expect_foretold(const Photo& photo, const MeasureOptions& now, const MeasureOptions& better,
                     const char* input, const char* dimension) {
  const Measurement before = measured(photo, now), after = measured(photo, better);
  ASSERT_TRUE(before.usable() && after.usable());
  const Quantity& size = before.dimension(dimension)->quantity;
  const Quantity& truth = after.dimension(dimension)->quantity;
  const Quantity foretold = with_better_input(size, input);
  std::printf("%-15s %-20s now %.4f, foretold %.4f, measured again %.4f mm\n", input, dimension,
              size.standard_uncertainty_mm, foretold.standard_uncertainty_mm,
              truth.standard_uncertainty_mm);
  EXPECT_NEAR(foretold.standard_uncertainty_mm / truth.standard_uncertainty_mm, 1, kFewPerCent);
  EXPECT_NEAR(foretold.expanded_95_mm() / truth.expanded_95_mm(), 1, kFewPerCent);
  // Each line too, so that the sum is not right by luck.
  for (const BudgetLine& line : size.budget) {
    if (!line.remedy || line.remedy->input != input) continue;
    const std::string source = line.source.substr(0, line.source.find(','));
    for (const BudgetLine& now_line : truth.budget)
      if (now_line.source.starts_with(source)) {
        EXPECT_NEAR(line.remedy->standard_uncertainty_mm, now_line.standard_uncertainty_mm,
                    0.1 * now_line.standard_uncertainty_mm + 0.001)
            << source;
      }
  }
}

TEST(BetterSize, ForetellsWhatCheckingThePrintScaleBrings) {
  for (const View view : {View::pad, View::rim}) {
    const Photo& photo = view == View::pad ? pad_photo() : rim_photo();
    MeasureOptions checked = unaided(view);
    checked.sheet_scale = {1, 1, kCheckedScale_u, true};
    for (const char* dimension :
         view == View::pad
             ? std::vector{"overall_thickness", "friction_thickness", "friction_taper"}
             : std::vector{"rim_thickness"})
      expect_foretold(photo, unaided(view), checked, kCheckedScale, dimension);
  }
}

TEST(BetterSize, ForetellsWhatMeasuringTheOffsetBrings) {
  MeasureOptions known = unaided(View::pad);
  known.part_offset.standard_uncertainty_mm = kMeasuredOffset_u_mm;
  expect_foretold(pad_photo(), unaided(View::pad), known, kMeasuredOffset, "friction_thickness");
}

// With the diameter more of the rim is read too: what is foretold is the least that it brings.
TEST(BetterSize, ForetellsTheLeastThatTheDiameterBrings) {
  MeasureOptions known = unaided(View::rim);
  known.disc_diameter_mm = 2 * kUsualRimRadius_mm;
  const Measurement now = measured(rim_photo(), unaided(View::rim));
  const Measurement then = measured(rim_photo(), known);
  const Quantity foretold =
      with_better_input(now.dimension("rim_thickness")->quantity, kKnownDiameter);
  const double really = then.dimension("rim_thickness")->quantity.standard_uncertainty_mm;
  EXPECT_GE(foretold.standard_uncertainty_mm, 0.99 * really);
  EXPECT_LE(foretold.standard_uncertainty_mm, 1.1 * really);
}

TEST(BetterSize, ForetellsWhatACameraProfileBrings) {
  for (const View view : {View::pad, View::rim}) {
    Photo photo = view == View::pad ? pad_photo() : rim_photo();
    photo.tags.make = "Fernhill";
    photo.tags.model = "Fernhill F2";
    CameraProfile profile;
    profile.camera = identity_of(photo.tags, {photo.luma.cols, photo.luma.rows}, 1);
    profile.model = {};
    // As the photo's own solution has the camera, so that only its sureness differs.
    const CameraPrior prior = camera_knowledge(photo, nullptr).prior;
    profile.model = prior.model;
    CameraProfile::Vector u;
    u << 0.002 * prior.model.focal_px, 2, 2, 0.0003, 0.0003;
    profile.covariance = u.asDiagonal() * CameraProfile::Matrix::Identity() * u.asDiagonal();
    profile.made_on = "2026-11-25";
    profile.photos = 12;
    auto shelf = std::make_shared<CameraShelf>();
    shelf->profiles.push_back(profile);
    MeasureOptions known = unaided(view);
    known.cameras = shelf;
    expect_foretold(photo, unaided(view), known, kCameraProfile,
                    view == View::pad ? "overall_thickness" : "rim_thickness");
  }
}

// Two drawn photos of one lip: what each foretells of the other against both solved together.
TEST(BetterSize, ForetellsWhatASecondPhotoOfALipBrings) {
  MeasureOptions options = unaided(View::lip);
  options.sheet_scale = {1, 1, 0.001, true};
  std::vector<Analysis> analyses;
  for (const drawn::DrawnDiscScene& scene :
       drawn::random_lip_scenes(7, 3, drawn::Difficulty::easy, 2)) {
    PhotoLoad load;
    load.photo = drawn::as_photo(scene.camera, drawn::draw(scene));
    analyses.push_back(Analysis::run(std::move(load), options));
  }
  std::vector<Measurement> photos;
  for (const Analysis& analysis : Analysis::agreed_on_lip(analyses))
    photos.push_back(analysis.measurement());
  ASSERT_TRUE(photos[0].usable() && photos[1].usable());
  const Measurement joint = solve_lip_together(photos);
  const double really = joint.dimension("lip_height")->quantity.expanded_95_mm();
  for (std::size_t i = 0; i < 2; ++i) {
    const double other_deg = photos[1 - i].lip->elevation_deg;
    const auto then = lip_with_another_photo(std::span(&photos[i], 1), other_deg);
    ASSERT_TRUE(then);
    const double foretold = then->dimension("lip_height")->quantity.expanded_95_mm();
    std::printf("lip at %.0f degrees, then %.0f: one photo %.3f, foretold %.3f, both %.3f mm\n",
                photos[i].lip->elevation_deg, other_deg,
                photos[i].dimension("lip_height")->quantity.expanded_95_mm(), foretold, really);
    // The other photo's edges are as sharp as they happen to be.
    EXPECT_NEAR(foretold / really, 1, 0.25);
  }
}

TEST(BetterSize, SortsByGainAndLeavesTriflesOut) {
  const Quantity size = combine_independent(
      8, {{"a", 0.10, kUnlimitedDegreesOfFreedom, "", Remedy{kCheckedScale, 0.01}},
          {"b", 0.20, kUnlimitedDegreesOfFreedom, "", Remedy{kKnownDiameter, 0.02}},
          {"c", 0.02, kUnlimitedDegreesOfFreedom, "", Remedy{kMeasuredOffset, 0.0}}});
  const std::vector<BetterSize> better = better_sizes(size);
  ASSERT_EQ(better.size(), 2u);
  EXPECT_EQ(better[0].input, kKnownDiameter);
  EXPECT_EQ(better[1].input, kCheckedScale);
  EXPECT_EQ(better_size_sentence(better[0]),
            "Enter the disc's diameter: \u00B1 0.44 mm to \u00B1 0.20 mm.");
}

}  // namespace
}  // namespace scantling
