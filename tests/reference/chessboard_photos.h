#pragma once

#include <gtest/gtest.h>

#include <array>
#include <filesystem>
#include <opencv2/calib3d.hpp>
#include <opencv2/core.hpp>
#include <string>
#include <vector>

#include "card/card_definition.h"
#include "card/refine_corner.h"
#include "photo/photo.h"

namespace scantling {

// Real photographs: 13 views of a chessboard of 9 x 6 inner corners and 25 mm squares, 640 x 480,
// from the Debian package opencv-doc (OpenCV's sample data left01.jpg ... left14.jpg).

inline const std::filesystem::path kFolder = "/usr/share/doc/opencv-doc/examples/data";
inline constexpr int kColumns = 9, kRows = 6;
inline constexpr double kSquare_mm = 25;

inline const CardDefinition& board() {
  static const CardDefinition card = [] {
    CardDefinition c;
    c.name = "chessboard";
    c.columns = kColumns + 1;
    c.rows = kRows + 1;
    c.square_mm = kSquare_mm;
    return c;
  }();
  return card;
}

struct BoardPhoto {
  std::string name;
  cv::Mat luma;
  std::array<Point_px, kColumns * kRows> corners;

  Point_px at(int column, int row) const {
    return corners[static_cast<std::size_t>(row * kColumns + column)];
  }
};

/// Identity by OpenCV, places by our own refinement with a window that fits each corner.
inline void find_corners(BoardPhoto& photo) {
  std::vector<cv::Point2f> found;
  ASSERT_TRUE(
      cv::findChessboardCorners(photo.luma, {kColumns, kRows}, found, cv::CALIB_CB_ADAPTIVE_THRESH))
      << photo.name;
  for (std::size_t i = 0; i < found.size(); ++i) {
    double nearest = 1e9;
    for (std::size_t k = 0; k < found.size(); ++k)
      if (k != i) nearest = std::min(nearest, cv::norm(found[i] - found[k]));
    photo.corners[i] =
        refine_corner(photo.luma, {found[i].x, found[i].y}, corner_half_window_px(nearest, 1e9));
  }
}

inline void open_all(std::vector<BoardPhoto>& photos) {
  for (int number = 1; number <= 14; ++number) {
    if (number == 10) continue;  // the set has none
    BoardPhoto photo;
    photo.name = cv::format("left%02d.jpg", number);
    ASSERT_TRUE(std::filesystem::exists(kFolder / photo.name))
        << (kFolder / photo.name) << " is missing: apt-get install opencv-doc";
    PhotoLoad load = load_photo(kFolder / photo.name);
    ASSERT_TRUE(load.photo) << photo.name;
    photo.luma = load.photo->luma;
    find_corners(photo);
    if (testing::Test::HasFatalFailure()) return;
    photos.push_back(std::move(photo));
  }
}

}  // namespace scantling
