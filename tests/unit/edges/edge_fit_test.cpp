// Edges, lanes and candidates on pictures made from a camera's pose: every place is known exactly.

#include "edges/edge_fit.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <functional>
#include <opencv2/imgproc.hpp>
#include <random>

#include "edges/linear_light.h"
#include "edges/step_fit.h"
#include "unit/edges/posed_picture.h"

namespace scantling {
namespace {

double rise(double across_mm, double sigma_mm) {
  return 0.5 * std::erfc(-across_mm / sigma_mm * M_SQRT1_2);
}

LaneRequest request() {
  LaneRequest r;
  r.along_first_mm = -18;
  r.along_last_mm = 18;
  r.across_first_mm = -4;
  r.across_last_mm = 4;
  return r;
}

LineCandidate strongest(const std::vector<LineCandidate>& lines) {
  LineCandidate best;
  for (const LineCandidate& line : lines)
    if (std::abs(line.step) > std::abs(best.step)) best = line;
  return best;
}

TEST(LaneProfiles, PutTheLightWhereThePoseSays) {
  const CardPose pose = oblique_pose();
  double mean = 0, worst = 0;
  int count = 0;
  for (const double angle : {12.0, 57.0}) {
    const PartFrame frame = frame_at(angle);
    const LaneProfiles lanes = sample_lanes(
        picture(pose, frame, 1, [](double, double v) { return 0.05 + 0.5 * rise(v, 0.1); }), pose,
        frame, request());
    ASSERT_EQ(lanes.light.rows, 30);
    for (int k = 0; k < lanes.light.rows; ++k, ++count) {
      const std::vector<float> row(lanes.light.ptr<float>(k),
                                   lanes.light.ptr<float>(k) + lanes.light.cols);
      const std::array start{lanes.column(0)};
      const StepFit fit = fit_steps(row, start);
      ASSERT_TRUE(fit.converged);
      const double error = fit.place[0] - lanes.column(0);
      mean += error;
      worst = std::max(worst, std::abs(error));
    }
  }
  std::printf("lanes: mean error %.4f px, worst of %d lanes %.3f px\n", mean / count, count, worst);
  EXPECT_LT(std::abs(mean / count), 0.01);
  EXPECT_LT(worst, 0.05);
}

TEST(LaneProfiles, HoldNothingOutsideThePhoto) {
  const CardPose pose = frontal_pose();
  LaneRequest r = request();
  r.across_last_mm = 40;
  const LaneProfiles lanes =
      sample_lanes(cv::Mat(kHeight, kWidth, CV_8UC1, cv::Scalar(128)), pose, frame_at(0), r);
  EXPECT_TRUE(std::isnan(lanes.light(5, lanes.light.cols - 2)));
  EXPECT_NEAR(lanes.light(5, 5), 0.21586, 1e-4);
  EXPECT_NEAR(lanes.texture(5, 5), 0, 1e-3);
}

TEST(EdgeFit, FindsAnObliqueEdgeAtEveryAngle) {
  const CardPose pose = oblique_pose();
  std::printf("angle  error px   blur px\n");
  for (int angle = 0; angle <= 90; angle += 15) {
    const PartFrame frame = frame_at(angle);
    const LaneProfiles lanes = sample_lanes(
        picture(pose, frame, 2, [](double, double v) { return 0.5 - 0.45 * rise(v, 0.1); }), pose,
        frame, request());
    const auto lines = find_line_candidates(lanes);
    ASSERT_FALSE(lines.empty()) << angle;
    const EdgeFit fit = fit_edge(lanes, strongest(lines), lines);
    ASSERT_TRUE(fit.valid) << angle;
    std::printf("%3d    %+.4f    %.2f\n", angle, fit.at(0) / lanes.across_step_mm, fit.blur_px);
    for (const double along : {-15.0, 0.0, 15.0})
      EXPECT_LT(std::abs(fit.at(along)) / lanes.across_step_mm, 0.02) << angle << " at " << along;
    EXPECT_LT(fit.step_light, 0);
    EXPECT_NEAR(fit.blur_px, 1.0, 0.15);
  }
}

/// Speckle of the given standard deviation in code values, grains of about two pixels.
cv::Mat speckle(unsigned seed, double deviation) {
  cv::RNG random(seed);
  cv::Mat1f noise(kHeight, kWidth);
  random.fill(noise, cv::RNG::NORMAL, 0, 1);
  cv::GaussianBlur(noise, noise, {}, 0.9);
  cv::Scalar mean, sd;
  cv::meanStdDev(noise, mean, sd);
  return noise * (deviation / sd[0]);
}

/// Speckle with a step of `step` codes across the middle, tilted by 0.02.
LaneProfiles speckled_lanes(unsigned seed, double step) {
  const CardPose pose = frontal_pose();
  const PartFrame frame = frame_at(0);
  cv::Mat1f code = speckle(seed, 12);
  for (int y = 0; y < kHeight; ++y)
    for (int x = 0; x < kWidth; ++x) {
      const Point_mm p = frame.coordinates(pose.on_plane({double(x), double(y)}, 0));
      code(y, x) += static_cast<float>(75 + step * rise(p.y - 0.02 * p.x, 0.1));
    }
  cv::Mat luma;
  code.convertTo(luma, CV_8U);
  LaneRequest wide = request();
  wide.along_first_mm = -28;
  wide.along_last_mm = 28;
  wide.across_first_mm = -10;
  wide.across_last_mm = 10;
  return sample_lanes(luma, pose, frame, wide);
}

TEST(LineCandidates, FindAStepAsWeakAsTheTexture) {
  constexpr unsigned kPictures = 20;
  int found = 0, others = 0;
  double worst = 0;
  for (unsigned seed = 1; seed <= kPictures; ++seed) {
    const LaneProfiles lanes = speckled_lanes(seed, 12);
    bool here = false;
    for (const LineCandidate& line : find_line_candidates(lanes)) {
      const double off = line.at(0) / lanes.across_step_mm;
      const bool match = line.step > 0 && std::abs(off) < 2 && std::abs(line.slope - 0.02) < 0.01;
      if (match) worst = std::max(worst, std::abs(off));
      here = here || match;
      others += !match;
    }
    found += here;
  }
  std::printf("step 12 in texture 12: found in %d of %u pictures, within %.2f px; %d other lines\n",
              found, kPictures, worst, others);
  EXPECT_GE(found, 19);
}

TEST(LineCandidates, FindNextToNothingInPureTexture) {
  constexpr unsigned kPictures = 20;
  int alarms = 0;
  double strongest_step = 0;
  for (unsigned seed = 101; seed <= 100 + kPictures; ++seed)
    for (const LineCandidate& line : find_line_candidates(speckled_lanes(seed, 0))) {
      ++alarms;
      strongest_step = std::max(strongest_step, std::abs(line.step));
    }
  std::printf("pure texture 12: %d lines in %u pictures, strongest step %.1f codes\n", alarms,
              kPictures, strongest_step);
  EXPECT_LE(alarms, 20);
  EXPECT_LT(strongest_step, 5);
}

TEST(LineCandidates, NeedLanesToJudgeBy) {
  LaneProfiles none;
  none.light.create(0, 0);
  EXPECT_TRUE(find_line_candidates(none).empty());
  LaneProfiles few;
  few.light = cv::Mat1f(3, 40, 0.5f);
  few.along_mm = {0, 1, 2};
  few.across_step_mm = 0.1;
  EXPECT_TRUE(find_line_candidates(few).empty());
}

struct Split {
  SplitEdge edge;
  double fitted_px = 0;
};

Split split_of(double gap_mm, unsigned seed) {
  const CardPose pose = frontal_pose();
  const PartFrame frame = frame_at(7);
  const LaneProfiles lanes = sample_lanes(picture(pose, frame, seed,
                                                  [=](double, double v) {
                                                    return 0.06 + 0.2 * rise(v + gap_mm / 2, 0.09) +
                                                           0.2 * rise(v - gap_mm / 2, 0.09);
                                                  }),
                                          pose, frame, request());
  const auto lines = find_line_candidates(lanes);
  if (lines.empty()) return {};
  LineCandidate line = strongest(lines);
  const EdgeFit fit = fit_edge(lanes, line, lines);
  if (!fit.valid) return {};
  line.slope = fit.line.slope;
  line.across_mm = fit.at(0);
  return {split_edge(lanes, line, {}, 0.95, 4), line.across_mm / lanes.across_step_mm};
}

TEST(SplitEdge, TellsABrokenEdgeFromAPlainStep) {
  const Split broken = split_of(0.25, 5);
  ASSERT_TRUE(broken.edge.split);
  std::printf("steps 2.5 px apart: found at %+.2f and %+.2f px\n",
              broken.edge.low + broken.fitted_px, broken.edge.high + broken.fitted_px);
  EXPECT_NEAR(broken.edge.low + broken.fitted_px, -1.25, 0.25);
  EXPECT_NEAR(broken.edge.high + broken.fitted_px, 1.25, 0.25);
  for (unsigned seed = 6; seed < 10; ++seed) EXPECT_FALSE(split_of(0, seed).edge.split) << seed;
}

}  // namespace
}  // namespace scantling
