// The light across an edge on pictures made from a camera's pose: place and blur are known exactly.

#include "edges/edge_profile.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "edges/lane_profiles.h"
#include "edges/line_candidates.h"
#include "unit/edges/posed_picture.h"

namespace scantling {
namespace {

constexpr double kMmPerPx = 0.1;  ///< of posed_picture's poses: 2000 px at 200 mm

double step(double across_px, double place_px, double blur_px) {
  return 0.5 * std::erfc(-(across_px - place_px) / blur_px * M_SQRT1_2);
}

struct Asked {
  LaneProfiles lanes;
  std::vector<LineCandidate> candidates;
};

/// `light` against the distance in pixels across the frame's middle line.
Asked sample(const std::function<double(double)>& light, double noise_codes = 1.5) {
  const CardPose pose = frontal_pose();
  const PartFrame frame = frame_at(4);
  const cv::Mat luma = picture(
      pose, frame, 7, [&](double, double across_mm) { return light(across_mm / kMmPerPx); },
      noise_codes);
  LaneRequest request;
  request.along_first_mm = -12;
  request.along_last_mm = 12;
  request.across_first_mm = -3;
  request.across_last_mm = 3;
  Asked asked;
  asked.lanes = sample_lanes(luma, pose, frame, request);
  asked.candidates = find_line_candidates(asked.lanes);
  return asked;
}

EdgeProfile across_middle(const Asked& asked) {
  LineCandidate line;
  line.along_first_mm = -12;
  line.along_last_mm = 12;
  return profile_across(asked.lanes, line, asked.candidates, 16, 1.2);
}

TEST(EdgeProfile, FindsPlaceAndBlurOfAStepAsDrawn) {
  for (const double place : {-2.4, 0.0, 1.3}) {
    constexpr double kBlur = 1.4;
    const EdgeProfile profile =
        across_middle(sample([&](double x) { return 0.06 + 0.3 * step(x, place, kBlur); }));
    ASSERT_TRUE(profile.fitted) << place;
    ASSERT_EQ(profile.offset_px.size(), 33u);
    std::printf("place %.1f: %.4f +- %.4f px, blur %.3f px\n", place, profile.place_px,
                profile.place_u_px, profile.blur_px);
    EXPECT_NEAR(profile.place_px, place, 0.03);
    EXPECT_NEAR(profile.place_px, place, 5 * profile.place_u_px + 0.005);
    EXPECT_GT(profile.place_u_px, 0);
    EXPECT_LT(profile.place_u_px, 0.03);
    // A bilinear sample and the pixel itself blur by a little more.
    EXPECT_NEAR(profile.blur_px, kBlur, 0.15);
    EXPECT_NEAR(profile.step_light, 0.3, 0.01);
    EXPECT_TRUE(profile.neighbours_px.empty());
  }
}

TEST(EdgeProfile, TheCurveRunsThroughTheSamples) {
  const EdgeProfile profile =
      across_middle(sample([](double x) { return 0.4 - 0.3 * step(x, 0.5, 1.1); }));
  ASSERT_TRUE(profile.fitted);
  EXPECT_LT(profile.step_light, -0.28);
  int compared = 0;
  for (std::size_t i = 0; i < profile.offset_px.size(); ++i) {
    const double at = profile.offset_px[i];
    if (at < profile.first_px || at > profile.last_px) continue;
    EXPECT_NEAR(profile.model(at), profile.light[i], 0.006) << at;
    EXPECT_LT(profile.scatter[i], 0.05) << at;
    ++compared;
  }
  EXPECT_GE(compared, 15);
}

TEST(EdgeProfile, AStepNextToTheEdgeIsFittedAlong) {
  const EdgeProfile profile = across_middle(
      sample([](double x) { return 0.05 + 0.3 * step(x, 0.2, 1.2) - 0.2 * step(x, 5.2, 1.2); }));
  ASSERT_TRUE(profile.fitted);
  EXPECT_NEAR(profile.place_px, 0.2, 0.06);
  ASSERT_EQ(profile.neighbours_px.size(), 1u);
  EXPECT_NEAR(profile.neighbours_px[0], 5.2, 0.1);
  EXPECT_GT(profile.step_light, 0.25);
}

TEST(EdgeProfile, EvenLightHasNoEdgeToFit) {
  const EdgeProfile profile = across_middle(sample([](double) { return 0.2; }));
  EXPECT_FALSE(profile.fitted);
  ASSERT_EQ(profile.light.size(), 33u);
  EXPECT_NEAR(profile.light[16], 0.2, 0.01);
}

}  // namespace
}  // namespace scantling
