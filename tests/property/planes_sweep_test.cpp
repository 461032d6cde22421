// The adjustment against hundreds of drawn sets of photos, and against a general route.

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <opencv2/calib3d.hpp>

#include "accuracy/planes_sweep.h"
#include "planes/plane_session.h"
#include "support/drawn_planes.h"

namespace scantling {
namespace {

using namespace drawn;

/// Whether the ratio of real to claimed uncertainty lies in 0.9 to 1.1, or could by chance: the rms
/// of n unit errors scatters by sqrt(1 / 2n).
void expect_honest(double square_sum, int trials, const std::string& what) {
  const double ratio = std::sqrt(square_sum / trials);
  std::printf("%-58s ratio %.3f of %d trials\n", what.c_str(), ratio, trials);
  const double chance = 2.6 * std::sqrt(0.5 / trials);
  EXPECT_GT(ratio, std::min(0.9, 1 - chance)) << what;
  EXPECT_LT(ratio, std::max(1.1, 1 + chance)) << what;
}

class PlanesSweep : public testing::TestWithParam<PlanesView> {};

TEST_P(PlanesSweep, ClaimsTheUncertaintyThatItHas) {
  constexpr int kTrials = 20;
  double square = 0;
  int trials = 0;
  std::uint32_t seed = 77;
  std::printf("%-58s %8s %8s %8s %6s\n", "", "mean um", "rms um", "claim um", "ratio");
  for (const PlanesSweepRow& row : planes_sweep_rows()) {
    if (row.view != GetParam()) continue;
    const PlanesSweepResult r = run_planes_row(row, kTrials, ++seed);
    std::printf("%-58s %8.1f %8.1f %8.1f %6.3f\n", row.words().c_str(), 1000 * r.mean_mm,
                1000 * r.rms_mm, 1000 * r.claimed_mm, r.ratio);
    EXPECT_EQ(r.failed, 0);
    // No bias beyond what so few trials may show.
    EXPECT_LT(std::abs(r.mean_mm), 3.5 * r.claimed_mm / std::sqrt(kTrials)) << row.words();
    square += r.square_sum;
    trials += r.trials;
  }
  expect_honest(square, trials, "all rows");
}

INSTANTIATE_TEST_SUITE_P(Views, PlanesSweep, testing::Values(PlanesView::faces, PlanesView::pile),
                         [](const auto& view) { return planes_view_word(view.param); });

/// The faces by a general route that shares no code with ours: lens and photo poses by
/// cv::calibrateCamera on the ground sheet alone, each card by cv::solvePnP in each photo, carried
/// into the sheet's frame, planes averaged.
double faces_by_general_route(const std::vector<PlanePhoto>& photos, double card_mm) {
  std::vector<std::vector<cv::Point3f>> object;
  std::vector<std::vector<cv::Point2f>> image;
  for (const PlanePhoto& photo : photos) {
    object.emplace_back();
    image.emplace_back();
    for (const SightedCorner& c : photo.piece(&ground_sheet())->corners) {
      object.back().emplace_back(static_cast<float>(c.card_mm.x), static_cast<float>(c.card_mm.y),
                                 0.0f);
      image.back().emplace_back(static_cast<float>(c.photo_px.x), static_cast<float>(c.photo_px.y));
    }
  }
  cv::Mat lens = cv::initCameraMatrix2D(object, image, {4000, 3000}), distortion;
  std::vector<cv::Mat> turn, shift;
  cv::calibrateCamera(object, image, {4000, 3000}, lens, distortion, turn, shift,
                      cv::CALIB_USE_INTRINSIC_GUESS | cv::CALIB_FIX_ASPECT_RATIO |
                          cv::CALIB_ZERO_TANGENT_DIST | cv::CALIB_FIX_K3);
  std::array<cv::Vec3d, 2> middle, into;
  std::array<int, 2> count{};
  const std::array<const CardDefinition*, 2> cards = {&track_card(), &track_card_b()};
  for (std::size_t i = 0; i < photos.size(); ++i)
    for (std::size_t k = 0; k < 2; ++k) {
      const CardSighting* s = photos[i].piece(cards[k]);
      if (!s) continue;
      std::vector<cv::Point3f> places;
      std::vector<cv::Point2f> seen;
      for (const SightedCorner& c : s->corners) {
        places.emplace_back(static_cast<float>(c.card_mm.x - 20),
                            static_cast<float>(c.card_mm.y - 12.5), 0.0f);
        seen.emplace_back(static_cast<float>(c.photo_px.x), static_cast<float>(c.photo_px.y));
      }
      cv::Mat r, t, card_turn, photo_turn;
      cv::solvePnP(places, seen, lens, distortion, r, t, false, cv::SOLVEPNP_IPPE);
      cv::solvePnP(places, seen, lens, distortion, r, t, true, cv::SOLVEPNP_ITERATIVE);
      cv::Rodrigues(r, card_turn);
      cv::Rodrigues(turn[i], photo_turn);
      const cv::Mat m = photo_turn.t() * (t - shift[i]);
      const cv::Mat z = photo_turn.t() * card_turn.col(2);
      middle[k] += cv::Vec3d(m.at<double>(0), m.at<double>(1), m.at<double>(2));
      into[k] += cv::Vec3d(z.at<double>(0), z.at<double>(1), z.at<double>(2));
      ++count[k];
    }
  const cv::Vec3d normal = cv::normalize(cv::normalize(into[0]) - cv::normalize(into[1]));
  return normal.dot(middle[1] / count[1] - middle[0] / count[0]) - 2 * card_mm;
}

TEST(PlanesByAGeneralRoute, AgreeWithinUncertainty) {
  constexpr double kTruth = 20;
  constexpr int kSets = 8;
  double general_square = 0, ours_square = 0;
  std::vector<std::array<double, 3>> sets;
  for (int set = 0; set < kSets; ++set) {
    Random random(static_cast<std::uint64_t>(set) + 50);
    std::vector<PlanePhoto> photos;
    for (const PlanePiece side : {PlanePiece::card_a, PlanePiece::card_b})
      for (const auto& [azimuth, elevation] :
           {std::pair{-35, 30}, std::pair{0, 50}, std::pair{35, 35}, std::pair{10, 25}}) {
        PlaneCamera camera = faces_camera(side, azimuth, elevation);
        camera.name = std::to_string(photos.size());
        // One lens for all photos, as the general route has it.
        camera.centre_dx_px = 14;
        camera.centre_dy_px = -9;
        camera.k1 = 0.04;
        camera.k2 = -0.02;
        camera.f35_factor = 1.04;
        photos.push_back(sighted(faces_scene(kTruth), camera, 0.1, random));
      }
    PlanesOptions options;
    options.sheet_scale = {1, 1, 0.0002, true};
    options.card_thickness = {0.25, 0.001, true};
    PlaneSession session(options);
    session.add(photos);
    const Dimension* worn = session.result().dimension("worn_thickness");
    ASSERT_NE(worn, nullptr);
    double u = 0;
    for (const BudgetLine& line : worn->quantity.budget)
      if (line.source == "corners in the photos" || line.source == "lens" ||
          line.source.starts_with("print scale"))
        u = std::hypot(u, line.standard_uncertainty_mm);
    const double general = faces_by_general_route(photos, 0.25);
    sets.push_back({worn->quantity.value_mm, general, u});
    ours_square += std::pow(worn->quantity.value_mm - kTruth, 2);
    general_square += std::pow(general - kTruth, 2);
  }
  // The general route claims no uncertainty: its scatter over the sets stands for it.
  const double general_u = std::sqrt(general_square / kSets);
  for (const auto& [ours, general, u] : sets) {
    std::printf("ours %.3f +- %.3f, general route %.3f +- %.3f\n", ours, u, general, general_u);
    EXPECT_LT(std::abs(ours - general), 2.6 * std::hypot(u, general_u));
  }
  std::printf("rms error: ours %.3f mm, general route %.3f mm\n", std::sqrt(ours_square / kSets),
              general_u);
  EXPECT_LT(std::sqrt(ours_square / kSets), 0.06);
  EXPECT_LT(general_u, 0.5) << "the general route must be good enough to mean something";
  EXPECT_LE(std::sqrt(ours_square / kSets), 1.2 * general_u);
}

}  // namespace
}  // namespace scantling
