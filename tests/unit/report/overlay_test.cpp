#include "report/overlay.h"

#include <gmock/gmock.h>

#include <cstdlib>
#include <fstream>
#include <opencv2/core.hpp>

#include "photo/photo.h"
#include "report/overlay_style.h"
#include "report/png_bytes.h"
#include "report/state_look.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

MeasuredEdge edge(const char* name, double y) {
  MeasuredEdge e;
  e.name = name;
  e.points_px = {{400, y}, {1200, y}};
  return e;
}

Measurement pad() {
  Measurement m;
  m.edges = {edge("plate_outer", 500), edge("plate_friction", 560), edge("friction_outer", 700)};
  m.dimensions.resize(1);
  m.dimensions[0].name = "friction_thickness";
  m.dimensions[0].quantity.value_mm = 10.02;
  m.dimensions[0].quantity.standard_uncertainty_mm = 0.031;
  return m;
}

class Overlay : public ::testing::Test {
 protected:
  /// Through the PNG file and back, so that the file is known to be good.
  cv::Mat drawn(const cv::Mat& ground, int photo_width_px, const Measurement& measurement,
                const std::vector<SightedCorner>& corners = {}) {
    const auto path =
        folder_.file("o.png", overlay_png(ground, photo_width_px, measurement, corners));
    if (const char* kept = std::getenv("SCANTLING_KEEP_OVERLAY"))
      std::filesystem::copy_file(path, kept, std::filesystem::copy_options::overwrite_existing);
    return load_colour(path);
  }
  TemporaryFolder folder_;
  const cv::Mat ground_{1200, 1600, CV_8UC3, cv::Scalar(150, 140, 130)};
};

cv::Vec3b rgb(Colour colour) {
  return {cv::saturate_cast<uchar>(colour.red * 255), cv::saturate_cast<uchar>(colour.green * 255),
          cv::saturate_cast<uchar>(colour.blue * 255)};
}

/// The row's centre of a line of this colour in one column, in px; -1 where there is none.
double line_row(const cv::Mat& picture, int column, Colour colour) {
  double sum = 0, weight = 0;
  for (int y = 0; y < picture.rows; ++y)
    if (cv::norm(picture.at<cv::Vec3b>(y, column), rgb(colour), cv::NORM_INF) < 50) {
      sum += y;
      weight += 1;
    }
  return weight > 0 ? sum / weight : -1;
}

TEST_F(Overlay, DrawsEachEdgeInItsPlaceWithADarkCasing) {
  const cv::Mat picture = drawn(ground_, 1600, pad());
  ASSERT_EQ(picture.size(), ground_.size());
  EXPECT_NEAR(line_row(picture, 1100, edge_stroke("plate_outer").colour), 500, 0.6);
  EXPECT_NEAR(line_row(picture, 1100, edge_stroke("plate_friction").colour), 560, 0.6);
  EXPECT_NEAR(line_row(picture, 1100, edge_stroke("friction_outer").colour), 700, 0.6);
  EXPECT_LT(cv::norm(picture.at<cv::Vec3b>(502, 1100), rgb(kCasing), cv::NORM_INF), 90);
  EXPECT_EQ(picture.at<cv::Vec3b>(1000, 100), ground_.at<cv::Vec3b>(1000, 100));
}

TEST_F(Overlay, FitsAReducedCopyOfThePhoto) {
  const cv::Mat half(600, 800, CV_8UC3, cv::Scalar(150, 140, 130));
  Measurement m;
  m.edges = {edge("face_a", 700.5)};
  const cv::Mat picture = drawn(half, 1600, m);
  ASSERT_EQ(picture.size(), half.size());
  EXPECT_NEAR(line_row(picture, 550, edge_stroke("face_a").colour), 350, 0.3);
}

TEST_F(Overlay, MarksTheCardsCorners) {
  const cv::Mat picture = drawn(ground_, 1600, Measurement{}, {{7, {0, 0}, {300, 200}}});
  int marked = 0;
  for (int y = 190; y <= 210; ++y)
    for (int x = 290; x <= 310; ++x)
      marked += cv::norm(picture.at<cv::Vec3b>(y, x), rgb(kCornerColour), cv::NORM_INF) < 60;
  EXPECT_GT(marked, 10);
  EXPECT_EQ(picture.at<cv::Vec3b>(200, 300), ground_.at<cv::Vec3b>(200, 300));  // not covered
}

TEST_F(Overlay, WritesSizesOnlyWhereThereAreAny) {
  Measurement without = pad();
  without.dimensions.clear();
  const cv::Mat with_size = drawn(ground_, 1600, pad());
  const cv::Mat no_size = drawn(ground_, 1600, without);
  const cv::Rect below_the_part(735, 720, 120, 70);
  EXPECT_GT(cv::norm(with_size(below_the_part), no_size(below_the_part), cv::NORM_INF), 100);
  EXPECT_EQ(cv::norm(no_size(below_the_part), ground_(below_the_part), cv::NORM_INF), 0);
}

TEST_F(Overlay, LeavesAPhotoWithoutAResultAsItIs) {
  EXPECT_EQ(cv::norm(drawn(ground_, 1600, Measurement{}), ground_, cv::NORM_INF), 0);
}

TEST(PngBytes, RefusesWhatIsNoRgbPicture) {
  EXPECT_THROW(png_bytes(cv::Mat()), std::runtime_error);
  EXPECT_THROW(png_bytes(cv::Mat(10, 10, CV_8UC1)), std::runtime_error);
}

}  // namespace
}  // namespace scantling
