#include "picture_matchers.h"
#include "support/picture_files.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using test::asymmetric_picture;

class Colour : public ::testing::Test {
 protected:
  TemporaryFolder folder_;
};

TEST_F(Colour, ComesAtFullSizeInRgbOrder) {
  const cv::Mat red(480, 640, CV_8UC3, cv::Scalar(250, 20, 30));
  for (const auto& [name, bytes] :
       {std::pair{"a.jpg", test::jpeg_file(red)}, std::pair{"a.png", test::png_file(red)},
        std::pair{"a.tif", test::tiff_file(red)}})
    EXPECT_THAT(load_colour(folder_.file(name, bytes)), LooksLike(red, 3)) << name;
  const cv::Mat gray(480, 640, CV_8UC1, cv::Scalar(77));
  const cv::Mat gray_in_rgb(480, 640, CV_8UC3, cv::Scalar::all(77));
  EXPECT_THAT(load_colour(folder_.file("g.png", test::png_file(gray))), LooksLike(gray_in_rgb, 0));
  EXPECT_THAT(load_colour(folder_.file("g.jpg", test::jpeg_file(gray))), LooksLike(gray_in_rgb, 1));
}

TEST_F(Colour, IsReducedByPowersOfTwoUntilItFits) {
  const auto jpeg = folder_.file("a.jpg", test::jpeg_file(asymmetric_picture(4001, 3001)));
  const auto png = folder_.file("a.png", test::png_file(asymmetric_picture(4001, 3001)));
  const std::pair<int, cv::Size> cases[] = {
      {4001, {4001, 3001}}, {4000, {2001, 1501}}, {1024, {1001, 751}},
      {600, {501, 376}},    {300, {251, 188}},    {64, {63, 47}},
  };
  for (const auto& [limit, size] : cases) {
    EXPECT_EQ(load_colour(jpeg, limit).size(), size) << limit;
    EXPECT_EQ(load_colour(png, limit).size(), size) << limit;
  }
  // Reduced or not, a place keeps its colour.
  const cv::Mat full = load_colour(jpeg), small = load_colour(jpeg, 600);
  for (const auto& [x, y] : {std::pair{40, 30}, std::pair{250, 200}, std::pair{480, 350}})
    EXPECT_LE(
        cv::norm(small.at<cv::Vec3b>(y, x), full.at<cv::Vec3b>(8 * y + 4, 8 * x + 4), cv::NORM_INF),
        3.0);
}

TEST_F(Colour, IsEmptyOnBadInput) {
  EXPECT_TRUE(load_colour(folder_ / "missing.jpg").empty());
  EXPECT_TRUE(load_colour(folder_.path()).empty());
  EXPECT_TRUE(load_colour(folder_.file("a.jpg", "not a photo at all")).empty());
  test::Bytes cut = test::jpeg_file(asymmetric_picture(640, 480));
  cut.resize(cut.size() / 2);
  EXPECT_TRUE(load_colour(folder_.file("b.jpg", cut)).empty());
}

}  // namespace
}  // namespace scantling
