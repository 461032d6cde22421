#include "print/page.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <opencv2/core.hpp>
#include <stdexcept>

#include "print/document.h"

namespace scantling {
namespace {

// At 254 dpi a millimetre is ten pixels, so edges on whole tenths fall between pixels.
constexpr double kDpi = 254;

struct PageTest : ::testing::Test {
  Document document{{"Test", "", ""}};
  Page& page = document.add_page({40, 30});
  cv::Mat picture() const { return document.picture(0, kDpi); }
};

cv::Vec3b at(const cv::Mat& picture, double x_mm, double y_mm) {
  return picture.at<cv::Vec3b>(static_cast<int>(y_mm * 10), static_cast<int>(x_mm * 10));
}

const cv::Vec3b kWhitePixel(255, 255, 255), kBlackPixel(0, 0, 0);

/// Places are held to 0.0014 mm, which tints a bordering pixel by up to 8 grey levels.
testing::AssertionResult alike(const cv::Vec3b& a, const cv::Vec3b& b) {
  for (int channel = 0; channel < 3; ++channel)
    if (std::abs(a[channel] - b[channel]) > 8)
      return testing::AssertionFailure()
             << "a pixel is " << cv::Vec3i(a) << ", not " << cv::Vec3i(b);
  return testing::AssertionSuccess();
}

int dark_pixels(const cv::Mat& picture, const cv::Rect& part) {
  int count = 0;
  for (int y = part.y; y < part.y + part.height; ++y)
    for (int x = part.x; x < part.x + part.width; ++x)
      count += picture.at<cv::Vec3b>(y, x)[1] < 128;
  return count;
}

TEST_F(PageTest, IsWhiteAndOfTheSizeAskedFor) {
  const cv::Mat seen = picture();
  EXPECT_EQ(seen.cols, 400);
  EXPECT_EQ(seen.rows, 300);
  EXPECT_EQ(dark_pixels(seen, {0, 0, 400, 300}), 0);
}

TEST_F(PageTest, FillsABoxToTheMillimetre) {
  page.fill_box({5, 6, 10, 4}, {1, 0, 0});
  const cv::Mat seen = picture();
  const cv::Vec3b red(255, 0, 0);
  EXPECT_TRUE(alike(at(seen, 5.05, 6.05), red));
  EXPECT_TRUE(alike(at(seen, 14.95, 9.95), red));
  EXPECT_TRUE(alike(at(seen, 4.95, 6.05), kWhitePixel));
  EXPECT_TRUE(alike(at(seen, 15.05, 9.95), kWhitePixel));
  EXPECT_TRUE(alike(at(seen, 5.05, 10.05), kWhitePixel));
}

TEST_F(PageTest, NeighbouringBoxesJoinWithoutASeam) {
  // The common edge lies inside a pixel, where two separate fills would leave a grey line.
  const PageBox boxes[] = {{5, 5, 5.033, 10}, {10.033, 5, 5, 10}};
  page.fill_boxes(boxes, kInk);
  EXPECT_EQ(dark_pixels(picture(), {50, 50, 100, 100}), 100 * 100);
  EXPECT_TRUE(alike(at(picture(), 10.03, 8), kBlackPixel));
}

TEST_F(PageTest, LinesHaveTheirWidthAndDashes) {
  page.line({5, 10}, {25, 10}, {1.0, kInk, {}});
  page.line({5, 20}, {25, 20}, {1.0, kInk, {2.0, 3.0}});
  const cv::Mat seen = picture();
  EXPECT_EQ(dark_pixels(seen, {0, 50, 400, 100}), 200 * 10);
  EXPECT_EQ(dark_pixels(seen, {0, 150, 400, 100}), 4 * 20 * 10);
  EXPECT_TRUE(alike(at(seen, 6, 20), kBlackPixel));
  EXPECT_TRUE(alike(at(seen, 8, 20), kWhitePixel));
}

TEST_F(PageTest, HatchStaysInsideItsPolygon) {
  const PagePoint triangle[] = {{5, 5}, {25, 5}, {5, 25}};
  page.hatch(triangle, 1, {0.2, kInk, {}});
  const cv::Mat seen = picture();
  EXPECT_GT(dark_pixels(seen, {50, 50, 90, 90}), 500);
  EXPECT_EQ(dark_pixels(seen, {160, 160, 100, 100}), 0);
}

TEST_F(PageTest, TextWrapsAndSaysHowHighItIs) {
  const TextStyle style{9};
  const TextExtent line = page.text({2, 2}, "Measure both bars", style);
  EXPECT_GT(line.width, 15);
  EXPECT_LT(line.width, 35);
  // 9 pt type has a line of 3.5 to 4.5 mm whatever the face.
  EXPECT_NEAR(line.height, 4, 0.7);
  const TextExtent wrapped = text_extent("Measure both bars", style, line.width - 1);
  EXPECT_NEAR(wrapped.height, 2 * line.height, 0.02);
  EXPECT_LT(wrapped.width, line.width);
  EXPECT_GT(dark_pixels(picture(), {20, 20, 360, 50}), 200);
  EXPECT_EQ(dark_pixels(picture(), {0, 80, 400, 220}), 0);
}

TEST_F(PageTest, TextIsAlignedAboutItsPlace) {
  page.text({20, 2}, "ll", {9, Weight::bold, kInk, Align::right});
  page.text({20, 12}, "ll", {9, Weight::bold, kInk, Align::left});
  const cv::Mat seen = picture();
  EXPECT_GT(dark_pixels(seen, {100, 20, 100, 60}), 0);
  EXPECT_EQ(dark_pixels(seen, {200, 20, 200, 60}), 0);
  EXPECT_EQ(dark_pixels(seen, {100, 120, 100, 60}), 0);
  EXPECT_GT(dark_pixels(seen, {200, 120, 200, 60}), 0);
}

TEST_F(PageTest, TextKeepsItsWidthAtEveryResolution) {
  // Hinted letters would be wider or narrower on a coarse screen than on paper.
  const TextExtent extent = page.text({2, 2}, "stand flush", {12, Weight::bold});
  for (const double dpi : {72.0, 600.0}) {
    const cv::Mat seen = document.picture(0, dpi);
    int last = 0;
    for (int y = 0; y < seen.rows; ++y)
      for (int x = 0; x < seen.cols; ++x)
        if (seen.at<cv::Vec3b>(y, x)[1] < 128) last = std::max(last, x);
    EXPECT_NEAR(last / dpi * 25.4, 2 + extent.width, 0.7) << dpi;
  }
}

TEST_F(PageTest, PlacesAPicture) {
  cv::Mat two(1, 2, CV_8UC3);
  two.at<cv::Vec3b>(0, 0) = {10, 20, 200};
  two.at<cv::Vec3b>(0, 1) = {250, 60, 30};
  page.picture({5, 5, 20, 10}, two);
  const cv::Mat seen = picture();
  EXPECT_TRUE(alike(at(seen, 6, 10), cv::Vec3b(10, 20, 200)));
  EXPECT_TRUE(alike(at(seen, 24, 10), cv::Vec3b(250, 60, 30)));
  EXPECT_TRUE(alike(at(seen, 4.95, 10), kWhitePixel));
  EXPECT_TRUE(alike(at(seen, 25.05, 10), kWhitePixel));
}

TEST_F(PageTest, RefusesAPictureItCannotPlace) {
  EXPECT_THROW(page.picture({0, 0, 5, 5}, cv::Mat()), std::invalid_argument);
  EXPECT_THROW(page.picture({0, 0, 5, 5}, cv::Mat(2, 2, CV_32F)), std::invalid_argument);
}

TEST_F(PageTest, TurnsClockwiseAboutTheNewOrigin) {
  page.turned({20, 10}, 90, [&] { page.fill_box({0, 0, 10, 2}, kInk); });
  const cv::Mat seen = picture();
  EXPECT_TRUE(alike(at(seen, 19, 19), kBlackPixel));
  EXPECT_TRUE(alike(at(seen, 21, 11), kWhitePixel));
  page.fill_box({0, 0, 1, 1}, kInk);
  EXPECT_TRUE(alike(at(picture(), 0.5, 0.5), kBlackPixel)) << "the turn must end with its scope";
}

TEST_F(PageTest, ClipsToABox) {
  page.clipped({5, 5, 5, 5}, [&] { page.fill_box({0, 0, 40, 30}, kInk); });
  EXPECT_EQ(dark_pixels(picture(), {0, 0, 400, 300}), 50 * 50);
}

TEST(Page, RefusesASizeWithoutArea) {
  EXPECT_THROW(Page({0, 10}), std::invalid_argument);
  EXPECT_THROW(Page({10, -1}), std::invalid_argument);
}

}  // namespace
}  // namespace scantling
