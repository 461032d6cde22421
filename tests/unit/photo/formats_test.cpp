#include <opencv2/core.hpp>

#include "picture_matchers.h"
#include "support/picture_files.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using test::asymmetric_picture;
using test::luma_of;

class Formats : public ::testing::Test {
 protected:
  Photo load(const char* name, const test::Bytes& bytes) {
    PhotoLoad result = load_photo(folder_.file(name, bytes));
    if (!result.photo) {
      ADD_FAILURE() << name << " was refused: " << ids_of(result.checks);
      return {};
    }
    EXPECT_EQ(ids_of(result.checks), "");
    return *std::move(result.photo);
  }

  TemporaryFolder folder_;
  const cv::Mat rgb_ = asymmetric_picture(643, 485);
  const cv::Mat luma_ = luma_of(rgb_);
};

TEST_F(Formats, ReadsTheLumaOfAColourJpeg) {
  const Photo photo = load("a.jpg", test::jpeg_file(rgb_));
  EXPECT_EQ(photo.format, PhotoFormat::jpeg);
  EXPECT_EQ(photo.width_px(), 643);
  EXPECT_EQ(photo.height_px(), 485);
  EXPECT_GT(photo.decode_ms, 0);
  EXPECT_EQ(photo.path, folder_ / "a.jpg");
  EXPECT_THAT(photo.luma, LooksLike(luma_, 6));
}

TEST_F(Formats, ReadsOtherKindsOfJpeg) {
  EXPECT_THAT(load("a.jpg", test::jpeg_file(rgb_, {.progressive = true})).luma,
              LooksLike(luma_, 6));
  EXPECT_THAT(load("b.jpg", test::jpeg_file(rgb_, {.full_chroma = true})).luma,
              LooksLike(luma_, 6));
  EXPECT_THAT(load("c.jpg", test::jpeg_file(luma_)).luma, LooksLike(luma_, 6));
  EXPECT_THAT(load("d.jpg", test::jpeg_file(luma_, {.progressive = true})).luma,
              LooksLike(luma_, 6));
}

TEST_F(Formats, PassesOverBytesBehindAJpegsEnd) {
  // Phones append short films and depth maps.
  test::Bytes bytes = test::jpeg_file(rgb_, {.progressive = true});
  for (int i = 0; i < 100'000; ++i) {
    bytes.push_back(0xff);
    bytes.push_back(0xda);
  }
  EXPECT_THAT(load("a.jpg", bytes).luma, LooksLike(luma_, 6));
}

TEST_F(Formats, TakesJpegPaddingWithAWarning) {
  test::Bytes bytes = test::jpeg_file(rgb_);
  bytes.insert(bytes.end() - 2, 12, std::uint8_t{0});
  const PhotoLoad result = load_photo(folder_.file("a.jpg", bytes));
  EXPECT_EQ(ids_of(result.checks), "warn:photo_stray_bytes");
  ASSERT_TRUE(result.photo.has_value());
  EXPECT_THAT(result.photo->luma, LooksLike(luma_, 6));
}

TEST_F(Formats, KnowsTheFormatByContentNotByName) {
  EXPECT_EQ(load("a.png", test::jpeg_file(rgb_)).format, PhotoFormat::jpeg);
  EXPECT_EQ(load("a.jpg", test::png_file(rgb_)).format, PhotoFormat::png);
  EXPECT_EQ(load("no-extension", test::tiff_file(rgb_)).format, PhotoFormat::tiff);
}

TEST_F(Formats, ReadsPngOfEveryKind) {
  EXPECT_THAT(load("rgb.png", test::png_file(rgb_)).luma, LooksLike(luma_, 1));
  EXPECT_THAT(load("gray.png", test::png_file(luma_)).luma, LooksLike(luma_, 0));
  cv::Mat deep_rgb, deep_gray;
  rgb_.convertTo(deep_rgb, CV_16U, 257);
  luma_.convertTo(deep_gray, CV_16U, 257);
  EXPECT_THAT(load("rgb16.png", test::png_file(deep_rgb)).luma, LooksLike(luma_, 2));
  EXPECT_THAT(load("gray16.png", test::png_file(deep_gray)).luma, LooksLike(luma_, 1));
}

TEST_F(Formats, ReadsPngPalettes) {
  const std::vector<cv::Vec3b> palette = {{255, 0, 0}, {0, 255, 0}, {0, 0, 255}, {90, 90, 90}};
  const Photo photo = load("palette.png", test::palette_png_file(640, 480, palette));
  // 255 times the weights 0.299, 0.587 and 0.114.
  EXPECT_NEAR(photo.luma.at<uchar>(100, 0), 76, 1);
  EXPECT_NEAR(photo.luma.at<uchar>(100, 1), 150, 1);
  EXPECT_NEAR(photo.luma.at<uchar>(100, 2), 29, 1);
  EXPECT_NEAR(photo.luma.at<uchar>(100, 3), 90, 1);
}

TEST_F(Formats, LaysTransparentPngOnWhite) {
  cv::Mat rgba(480, 640, CV_8UC4, cv::Scalar(50, 50, 50, 255));
  rgba.colRange(0, 320).setTo(cv::Scalar(50, 50, 50, 0));
  const Photo photo = load("alpha.png", test::png_file(rgba));
  EXPECT_EQ(photo.luma.at<uchar>(240, 10), 255);
  EXPECT_EQ(photo.luma.at<uchar>(240, 600), 50);
}

TEST_F(Formats, ReadsTiffOfEveryKind) {
  const Photo photo = load("rgb.tif", test::tiff_file(rgb_));
  EXPECT_THAT(photo.luma, LooksLike(luma_, 1));
  EXPECT_EQ(photo.tags.make, "Testmaker");
  EXPECT_THAT(load("gray.tif", test::tiff_file(luma_)).luma, LooksLike(luma_, 1));
  cv::Mat deep_rgb, deep_gray;
  rgb_.convertTo(deep_rgb, CV_16U, 257);
  luma_.convertTo(deep_gray, CV_16U, 257);
  EXPECT_THAT(load("rgb16.tif", test::tiff_file(deep_rgb)).luma, LooksLike(luma_, 2));
  EXPECT_THAT(load("gray16.tif", test::tiff_file(deep_gray)).luma, LooksLike(luma_, 2));
  const Photo bilevel = load("bilevel.tif", test::bilevel_tiff_file(640, 480));
  EXPECT_EQ(bilevel.luma.at<uchar>(200, 100), 0);
  EXPECT_EQ(bilevel.luma.at<uchar>(200, 500), 255);
}

TEST_F(Formats, ReadsTheSmallestAllowedPicture) {
  EXPECT_EQ(load("a.jpg", test::jpeg_file(asymmetric_picture(480, 480))).width_px(), 480);
}

}  // namespace
}  // namespace scantling
