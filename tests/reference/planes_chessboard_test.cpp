// Real photographs: 13 pairs of a chessboard of 9 x 6 inner corners and 25 mm squares by a stereo
// rig, 640 x 480, from the Debian package opencv-doc (OpenCV's sample data left01.jpg ...
// right14.jpg). Three parts of the one board are treated as three pieces: they must come out in one
// plane, and at their true distance. Left and right camera count as two phones.

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <opencv2/calib3d.hpp>

#include "card/refine_corner.h"
#include "photo/photo.h"
#include "planes/plane_session.h"

namespace scantling {
namespace {

const std::filesystem::path kFolder = "/usr/share/doc/opencv-doc/examples/data";
constexpr int kColumns = 9, kRows = 6;
constexpr double kSquare_mm = 25;

/// Three columns of corners of the board as a piece of its own.
CardDefinition part_of_board(const char* name) {
  CardDefinition card;
  card.name = name;
  card.columns = 4;
  card.rows = kRows + 1;
  card.square_mm = kSquare_mm;
  card.sheet = {0, 0, card.columns * kSquare_mm, card.rows * kSquare_mm};
  for (int row = 0; row < kRows; ++row)
    for (int column = 0; column < 3; ++column)
      card.corners.push_back({row * 3 + column,
                              {(column + 1) * kSquare_mm, (row + 1) * kSquare_mm},
                              CutState::present});
  return card;
}

const PlanePieceSet& parts() {
  static const CardDefinition left = part_of_board("left"), middle = part_of_board("middle"),
                              right = part_of_board("right");
  static const PlanePieceSet set = {&left, &middle, &right};
  return set;
}

/// Identity by OpenCV, places by our own refinement with a window that fits each corner.
std::vector<Point_px> board_corners(const cv::Mat& luma) {
  std::vector<cv::Point2f> found;
  std::vector<Point_px> corners;
  if (!cv::findChessboardCorners(luma, {kColumns, kRows}, found, cv::CALIB_CB_ADAPTIVE_THRESH))
    return corners;
  // The board looks the same from both ends: the row order must not depend on the photo.
  for (const cv::Point2f& p : found) {
    double nearest = 1e9;
    for (const cv::Point2f& q : found)
      if (const double d = cv::norm(p - q); d > 0) nearest = std::min(nearest, d);
    corners.push_back(refine_corner(luma, {p.x, p.y}, corner_half_window_px(nearest, 1e9)));
  }
  return corners;
}

PlanePhoto board_photo(const std::string& name, const std::string& camera) {
  PlanePhoto photo;
  photo.name = name;
  PhotoLoad load = load_photo(kFolder / name, {.smallest_side_px = 400});
  if (!load.photo) return photo;
  photo.width_px = load.photo->width_px();
  photo.height_px = load.photo->height_px();
  photo.camera_key = camera;
  // No tags in these files: a wide prior, about what a user would know.
  photo.prior.model = {560, (photo.width_px - 1) / 2.0, (photo.height_px - 1) / 2.0, 0, 0};
  photo.prior.focal_relative_u = 0.15;
  photo.prior.centre_u_px = 20;
  photo.prior.k1_u = 0.3;
  photo.prior.k2_u = 0.3;
  const std::vector<Point_px> corners = board_corners(load.photo->luma);
  if (corners.empty()) return photo;
  for (std::size_t part = 0; part < 3; ++part) {
    CardSighting sighting;
    sighting.card = parts()[part];
    for (const CardCorner& corner : sighting.card->corners) {
      const std::size_t place =
          static_cast<std::size_t>(corner.id / 3 * kColumns + corner.id % 3) + 3 * part;
      sighting.corners.push_back({corner.id, corner.at, corners[place]});
    }
    sighting.px_per_mm =
        distance_px(sighting.corners[0].photo_px, sighting.corners[2].photo_px) / (2 * kSquare_mm);
    photo.pieces.push_back(std::move(sighting));
  }
  return photo;
}

TEST(PlanesOnRealPhotographs, PartsOfOneBoardLieInOnePlaneAtTheirTrueDistance) {
  std::vector<PlanePhoto> photos;
  for (int number = 1; number <= 14; ++number) {
    if (number == 10) continue;  // the set has none
    for (const char* side : {"left", "right"}) {
      const std::string name = cv::format("%s%02d.jpg", side, number);
      ASSERT_TRUE(std::filesystem::exists(kFolder / name))
          << (kFolder / name) << " is missing: apt-get install opencv-doc";
      PlanePhoto photo = board_photo(name, side);
      if (!photo.pieces.empty()) photos.push_back(std::move(photo));
    }
  }
  ASSERT_GE(photos.size(), 24u);
  PlanesOptions options;
  options.view = PlanesView::pile;
  options.sheet_scale = {1, 1, 0.001, true};
  options.card_thickness = {0, 0, true};
  options.pieces = parts();
  PlaneSession session(options);
  session.add(photos);
  const PlanesResult& r = session.result();
  ASSERT_TRUE(r.fit);
  std::printf("%zu photos: %s\n", photos.size(), r.fit->words.c_str());
  for (const Check& check : r.checks) {
    std::printf("%s: %s\n", check.id.c_str(), check.message.c_str());
    EXPECT_NE(check.id, "moved_between_photos");
  }

  const SolvedPiece* middle = r.piece(PlanePiece::card_a);
  const SolvedPiece* right = r.piece(PlanePiece::card_b);
  ASSERT_TRUE(middle && right);
  const auto per_cent = [](double mm) { return 100 * mm / kSquare_mm; };
  const double depth_a = middle->middle[2], depth_b = right->middle[2];
  const double apart_a = middle->middle[0], apart_b = right->middle[0];
  const auto tilt = [](const SolvedPiece& p) {
    return std::hypot(p.axes[2][0], p.axes[2][1]) * 180 / M_PI;
  };
  std::printf(
      "middle part: %+.3f mm out of plane (%+.2f %% of a square, claimed %.2f %%), distance "
      "%+.3f mm (%+.2f %%), tilted %.3f deg\n",
      depth_a, per_cent(depth_a), per_cent(middle->depth_u_mm), apart_a - 75,
      per_cent(apart_a - 75), tilt(*middle));
  std::printf(
      "right part:  %+.3f mm out of plane (%+.2f %% of a square, claimed %.2f %%), distance "
      "%+.3f mm (%+.2f %%), tilted %.3f deg\n",
      depth_b, per_cent(depth_b), per_cent(right->depth_u_mm), apart_b - 150,
      per_cent(apart_b - 150), tilt(*right));
  EXPECT_LT(std::abs(per_cent(depth_a)), 2);
  EXPECT_LT(std::abs(per_cent(depth_b)), 4);
  EXPECT_LT(std::abs(per_cent(apart_a - 75)), 1);
  EXPECT_LT(std::abs(per_cent(apart_b - 150)), 2);
  EXPECT_LT(tilt(*middle), 0.5);
  EXPECT_LT(tilt(*right), 0.5);
  // The two lenses are known from other calibrations of these photos: 532.8 px for the left one.
  for (const SolvedPhoto& photo : r.photos)
    if (photo.name.starts_with("left")) {
      EXPECT_NEAR(photo.focal_px, 532.8, 10) << photo.name;
    }
}

}  // namespace
}  // namespace scantling
