#include "photo/orientation.h"

#include <opencv2/core.hpp>

#include "picture_matchers.h"
#include "support/picture_files.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using test::asymmetric_picture;
using test::luma_of;

class EveryOrientation : public ::testing::TestWithParam<int> {
 protected:
  const int orientation_ = GetParam();
  const cv::Mat upright_ = asymmetric_picture(656, 496);
  const cv::Mat stored_ = test::stored_for_orientation(upright_, orientation_);
  TemporaryFolder folder_;
};

TEST_P(EveryOrientation, TurnsPixelsUprightExactly) {
  EXPECT_THAT(turned_upright(stored_, orientation_), LooksLike(upright_, 0));
  EXPECT_EQ(swaps_sides(orientation_), stored_.cols != upright_.cols);
}

TEST_P(EveryOrientation, TurnsLumaOfAnySizeExactly) {
  for (const cv::Size size :
       {cv::Size(656, 496), {655, 497}, {16, 16}, {17, 31}, {15, 40}, {1, 3}}) {
    const cv::Mat luma = luma_of(asymmetric_picture(size.width, size.height));
    EXPECT_THAT(turned_upright(test::stored_for_orientation(luma, orientation_), orientation_),
                LooksLike(luma, 0))
        << size;
  }
  // Part of a larger picture: its rows do not follow each other in memory.
  const cv::Mat luma = luma_of(upright_);
  const cv::Mat wide = test::stored_for_orientation(luma, orientation_);
  cv::Mat around(wide.rows, wide.cols + 7, CV_8UC1, cv::Scalar(0));
  wide.copyTo(around.colRange(3, 3 + wide.cols));
  EXPECT_THAT(turned_upright(around.colRange(3, 3 + wide.cols), orientation_), LooksLike(luma, 0));
}

TEST_P(EveryOrientation, GivesTheSameUprightJpeg) {
  const auto bytes = test::jpeg_with_exif(test::jpeg_file(stored_),
                                          test::exif_block({.orientation = orientation_}));
  const auto path = folder_.file("a.jpg", bytes);
  const PhotoLoad load = load_photo(path);
  ASSERT_TRUE(load.photo.has_value()) << ids_of(load.checks);
  EXPECT_EQ(load.photo->exif_orientation, orientation_);
  EXPECT_THAT(load.photo->luma, LooksLike(luma_of(upright_), 6));
  EXPECT_THAT(load_colour(path), LooksLike(upright_, 24));  // chroma is halved in a JPEG
  EXPECT_EQ(load_colour(path, 400).size(), cv::Size(328, 248));
}

TEST_P(EveryOrientation, GivesTheSameUprightTiffAndPng) {
  const PhotoLoad tiff = load_photo(folder_.file("a.tif", test::tiff_file(stored_, orientation_)));
  ASSERT_TRUE(tiff.photo.has_value()) << ids_of(tiff.checks);
  EXPECT_EQ(tiff.photo->exif_orientation, orientation_);
  EXPECT_THAT(tiff.photo->luma, LooksLike(luma_of(upright_), 1));

  const PhotoLoad png = load_photo(
      folder_.file("a.png", test::png_with_exif(test::png_file(stored_),
                                                test::exif_block({.orientation = orientation_}))));
  ASSERT_TRUE(png.photo.has_value()) << ids_of(png.checks);
  EXPECT_THAT(png.photo->luma, LooksLike(luma_of(upright_), 1));
}

INSTANTIATE_TEST_SUITE_P(Exif, EveryOrientation, ::testing::Range(1, 9));

}  // namespace
}  // namespace scantling
