// Measuring on real photographs of a chessboard, see chessboard_photos.h.

#include <gtest/gtest.h>

#include <numeric>

#include <array>
#include <cmath>
#include <cstdio>
#include <opencv2/core.hpp>

#include "camera/card_pose.h"
#include "edges/linear_light.h"
#include "edges/step_fit.h"
#include "reference/chessboard_photos.h"

namespace scantling {
namespace {

class ChessboardPhotos : public testing::Test {
 protected:
  static inline std::vector<BoardPhoto> photos;
  void SetUp() override {
    if (photos.empty()) open_all(photos);
  }
};

/// The file's calibration, left loose: its windows were too large (rms 0.393 px), and with windows
/// that fit, the same photos give f = 532.8 +- 0.6 px and k1 = -0.28 instead of 535.9 and -0.27;
/// its k3 of 0.24 is shared out between k1 and k2 here.
CameraPrior prior_of_the_file() {
  const cv::FileStorage file((kFolder / "left_intrinsics.yml").string(), cv::FileStorage::READ);
  cv::Mat k, distortion;
  file["camera_matrix"] >> k;
  file["distortion_coefficients"] >> distortion;
  CameraPrior prior;
  prior.model = {k.at<double>(0, 0), k.at<double>(0, 2), k.at<double>(1, 2),
                 distortion.at<double>(0), distortion.at<double>(1)};
  prior.focal_relative_u = 0.01;
  prior.centre_u_px = 3;
  prior.k1_u = 0.03;
  prior.k2_u = 0.15;
  return prior;
}

PoseSolution solve(const BoardPhoto& photo, const std::vector<int>& columns,
                   const CameraPrior& prior) {
  CardSighting sighting;
  sighting.card = &board();
  for (int row = 0; row < kRows; ++row)
    for (const int column : columns)
      sighting.corners.push_back({row * kColumns + column,
                                  {(column + 1) * kSquare_mm, (row + 1) * kSquare_mm},
                                  photo.at(column, row)});
  return solve_card_pose(sighting, prior, PrintScale{1, 1, 0.001});
}

std::vector<int> every_column() {
  std::vector<int> columns(kColumns);
  std::iota(columns.begin(), columns.end(), 0);
  return columns;
}

/// The camera as all photos but one have it; the spread over single photos is 1 % of f, 2 px of the
/// centre, 0.02 of k1, less its root of twelve.
CameraPrior prior_without(const std::vector<BoardPhoto>& photos, std::size_t left_out) {
  static const std::vector<CameraModel> cameras = [&] {
    std::vector<CameraModel> solved;
    for (const BoardPhoto& photo : photos)
      solved.push_back(solve(photo, every_column(), prior_of_the_file()).pose.value().camera());
    return solved;
  }();
  CameraPrior prior;
  const double share = 1.0 / static_cast<double>(cameras.size() - 1);
  for (std::size_t i = 0; i < cameras.size(); ++i) {
    if (i == left_out) continue;
    prior.model.focal_px += share * cameras[i].focal_px;
    prior.model.centre_x_px += share * cameras[i].centre_x_px;
    prior.model.centre_y_px += share * cameras[i].centre_y_px;
    prior.model.k1 += share * cameras[i].k1;
    prior.model.k2 += share * cameras[i].k2;
  }
  prior.focal_relative_u = 0.003;
  prior.centre_u_px = 0.6;
  prior.k1_u = 0.006;
  prior.k2_u = 0.01;
  return prior;
}

TEST_F(ChessboardPhotos, FitTheCameraToAFractionOfAPixel) {
  ASSERT_EQ(photos.size(), 13u);
  double focal = 0;
  for (const BoardPhoto& photo : photos) {
    const PoseSolution solution = solve(photo, every_column(), prior_of_the_file());
    ASSERT_TRUE(solution.pose) << photo.name;
    const CardPose& pose = *solution.pose;
    std::printf("%s: residual %.3f px, f %.1f, k1 %+.3f, tilt %.0f deg, %d corners\n",
                photo.name.c_str(), pose.residual_px(), pose.camera().focal_px, pose.camera().k1,
                pose.tilt_deg(), pose.corners());
    EXPECT_LT(pose.residual_px(), 0.3) << photo.name;
    EXPECT_GE(pose.corners(), 50) << photo.name;
    focal += pose.camera().focal_px / 13;
  }
  std::printf("mean focal length %.1f px (532.8 by a calibration over all photos)\n", focal);
  EXPECT_NEAR(focal, 532.8, 5);
}

// As the notch card does it: corners to both sides fix the scale, what lies between is measured.
TEST_F(ChessboardPhotos, MeasureSquaresThatTheFitHasNotSeen) {
  ASSERT_EQ(photos.size(), 13u);
  double sum = 0, worst = 0, signed_sum = 0;
  int count = 0;
  for (std::size_t i = 0; i < photos.size(); ++i) {
    const BoardPhoto& photo = photos[i];
    const PoseSolution solution =
        solve(photo, {0, 1, kColumns - 2, kColumns - 1}, prior_without(photos, i));
    double photo_worst = 0;
    ASSERT_TRUE(solution.pose) << photo.name;
    const auto length = [&](int c0, int r0, int c1, int r1) {
      const Point_mm a = solution.pose->on_plane(photo.at(c0, r0), 0);
      const Point_mm b = solution.pose->on_plane(photo.at(c1, r1), 0);
      const double error = 100 * (std::hypot(b.x - a.x, b.y - a.y) / kSquare_mm - 1);
      sum += std::abs(error);
      signed_sum += error;
      worst = std::max(worst, std::abs(error));
      photo_worst = std::max(photo_worst, std::abs(error));
      ++count;
    };
    for (int row = 0; row < kRows; ++row)
      for (int column = 1; column + 2 < kColumns; ++column) length(column, row, column + 1, row);
    for (int row = 0; row + 1 < kRows; ++row)
      for (int column = 2; column + 2 < kColumns; ++column) length(column, row, column, row + 1);
    std::printf("%s: worst square %.2f %%\n", photo.name.c_str(), photo_worst);
  }
  std::printf("%d withheld squares: mean error %.2f %%, worst %.2f %%, mean with sign %+.2f %%\n",
              count, sum / count, worst, signed_sum / count);
  EXPECT_LE(sum / count, 0.4);
  EXPECT_LE(worst, 2.2);
}

/// Where a border of a square lies, against the straight line between its two corners.
struct BorderOffset {
  double px = NAN;  ///< mean of the fitted steps along the line's normal; NaN: border too short
  bool dark_ahead = false;
};

BorderOffset border_offset(const BoardPhoto& photo, Point_px a, Point_px b, bool linear) {
  const double length = distance_px(a, b);
  if (length < 16) return {};
  const double nx = -(b.y - a.y) / length, ny = (b.x - a.x) / length;
  const int reach = std::min(8, static_cast<int>(0.3 * length));
  const auto value = [&](double x, double y) {
    const int ix = static_cast<int>(std::floor(x)), iy = static_cast<int>(std::floor(y));
    const double fx = x - ix, fy = y - iy;
    const auto at = [&](int px, int py) {
      const uchar code = photo.luma.at<uchar>(py, px);
      return linear ? double{linear_light_table()[code]} : code / 255.0;
    };
    return (1 - fy) * ((1 - fx) * at(ix, iy) + fx * at(ix + 1, iy)) +
           fy * ((1 - fx) * at(ix, iy + 1) + fx * at(ix + 1, iy + 1));
  };
  double sum = 0;
  int count = 0, falling = 0;
  for (double along = 0.3 * length; along <= 0.7 * length; along += 1) {
    const double x = a.x + along * (b.x - a.x) / length, y = a.y + along * (b.y - a.y) / length;
    std::vector<float> scan;
    for (int d = -reach; d <= reach; ++d) {
      const double px = x + d * nx, py = y + d * ny;
      if (px < 1 || py < 1 || px > photo.luma.cols - 3 || py > photo.luma.rows - 3) return {};
      scan.push_back(static_cast<float>(value(px, py)));
    }
    const std::array start{static_cast<double>(reach)};
    const StepFit fit = fit_steps(scan, start);
    if (!fit.converged || std::abs(fit.height[0]) < 0.05) continue;
    sum += fit.place[0] - reach;
    falling += fit.height[0] < 0;
    ++count;
  }
  if (count < 5) return {};
  return {sum / count, 2 * falling > count};
}

struct Borders {
  int count = 0;
  double mean = 0;          ///< along a fixed normal: black and white take turns, so tone cancels
  double towards_dark = 0;  ///< mean towards the dark side: what the tone curve and the ink do
  double scatter = 0;       ///< about that
};

Borders all_borders(const std::vector<BoardPhoto>& photos, bool linear) {
  Borders borders;
  double square = 0;
  for (const BoardPhoto& photo : photos)
    for (int row = 0; row < kRows; ++row)
      for (int column = 0; column < kColumns; ++column)
        for (const bool across : {true, false}) {
          const int next_column = column + across, next_row = row + !across;
          if (next_column == kColumns || next_row == kRows) continue;
          const BorderOffset offset =
              border_offset(photo, photo.at(column, row), photo.at(next_column, next_row), linear);
          if (!std::isfinite(offset.px)) continue;
          ++borders.count;
          borders.mean += offset.px;
          borders.towards_dark += offset.dark_ahead ? offset.px : -offset.px;
          square += offset.px * offset.px;
        }
  borders.mean /= borders.count;
  borders.towards_dark /= borders.count;
  borders.scatter = std::sqrt(square / borders.count - std::pow(borders.towards_dark, 2));
  return borders;
}

// This camera's tone curve is not known. Taken as linear, edges come out on the dark side; taken as
// sRGB, on the light side: the truth lies between. Corners feel neither.
TEST_F(ChessboardPhotos, HaveTheirPrintedEdgesBetweenTheirCorners) {
  ASSERT_EQ(photos.size(), 13u);
  const Borders light = all_borders(photos, true), code = all_borders(photos, false);
  for (const auto& [words, b] : {std::pair{"as sRGB", light}, std::pair{"as linear", code}})
    std::printf(
        "%s: %d borders, mean along a fixed normal %+.3f px, towards the dark side %+.3f "
        "px, scatter %.3f px\n",
        words, b.count, b.mean, b.towards_dark, b.scatter);
  EXPECT_GT(light.count, 1000);
  EXPECT_LT(std::abs(light.mean), 0.05);
  EXPECT_LT(std::abs(code.mean), 0.05);
  // The lens bends a border by up to 0.2 px between its corners.
  EXPECT_LT(light.scatter, 0.3);
  EXPECT_LT(code.scatter, 0.25);
  EXPECT_GT(code.towards_dark, 0);
  EXPECT_LT(light.towards_dark, 0);
}

}  // namespace
}  // namespace scantling
