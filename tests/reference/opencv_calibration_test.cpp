// The calibration against OpenCV's cv::calibrateCamera: on made sightings with the same model,
// where both must agree to the solver's last digits, and on real photographs, also against their
// published calibration (left_intrinsics.yml of the Debian package opencv-doc).

#include <gmock/gmock.h>

#include <Eigen/Geometry>
#include <Eigen/SVD>
#include <cmath>
#include <cstdio>

#include "camera/bundle_adjustment.h"
#include "camera/camera_calibration.h"
#include "camera/card_pose.h"
#include "reference/chessboard_photos.h"
#include "unit/camera/sheet_sightings.h"

namespace scantling {
namespace {

struct OpenCvCamera {
  cv::Mat k = cv::Mat::eye(3, 3, CV_64F), distortion = cv::Mat::zeros(5, 1, CV_64F), deviations;
  double rms = 0;

  /// Our order: focal length, centre, k1, k2.
  CameraProfile::Vector parameters() const {
    CameraProfile::Vector p;
    p << k.at<double>(0, 0), k.at<double>(0, 2), k.at<double>(1, 2), distortion.at<double>(0),
        distortion.at<double>(1);
    return p;
  }
};

OpenCvCamera calibrate_with_opencv(const std::vector<std::vector<SightedCorner>>& views,
                                   PictureSize size, double start_focal, int flags) {
  std::vector<std::vector<cv::Point3f>> object;
  std::vector<std::vector<cv::Point2f>> image;
  for (const auto& view : views) {
    object.emplace_back();
    image.emplace_back();
    for (const SightedCorner& c : view) {
      object.back().emplace_back(static_cast<float>(c.card_mm.x), static_cast<float>(c.card_mm.y),
                                 0.f);
      image.back().emplace_back(static_cast<float>(c.photo_px.x), static_cast<float>(c.photo_px.y));
    }
  }
  OpenCvCamera camera;
  camera.k.at<double>(0, 0) = camera.k.at<double>(1, 1) = start_focal;
  camera.k.at<double>(0, 2) = (size.width_px - 1) / 2.0;
  camera.k.at<double>(1, 2) = (size.height_px - 1) / 2.0;
  std::vector<cv::Mat> rotations, translations;
  cv::Mat extrinsic_deviations, per_view;
  camera.rms = cv::calibrateCamera(
      object, image, {size.width_px, size.height_px}, camera.k, camera.distortion, rotations,
      translations, camera.deviations, extrinsic_deviations, per_view, flags,
      cv::TermCriteria(cv::TermCriteria::EPS + cv::TermCriteria::COUNT, 100, 1e-12));
  return camera;
}

constexpr int kOurModel = cv::CALIB_USE_INTRINSIC_GUESS | cv::CALIB_FIX_ASPECT_RATIO |
                          cv::CALIB_ZERO_TANGENT_DIST | cv::CALIB_FIX_K3;

// Sightings without what only our model knows (focus, print aspect, curl), and those held fast:
// the two solve the same problem. OpenCV takes float positions, which limits the agreement.
TEST(OpenCvCalibration, AgreesOnTheSameModel) {
  MadeSheetCamera camera;
  camera.focus_u = 0;
  std::mt19937 random(31);
  std::vector<BundleView> views;
  std::vector<std::vector<SightedCorner>> sighted;
  for (const MadeView& view : good_views()) {
    CalibrationPhoto photo = made_photo(camera, view, random, "p");
    CameraPrior prior;
    prior.model = {3000, 1999.5, 1499.5, 0, 0};
    prior.centre_u_px = 30;
    const PoseSolution pose = solve_card_pose(*photo.sighting, prior);
    ASSERT_TRUE(pose.pose);
    sighted.push_back(photo.sighting->corners);
    views.push_back({photo.sighting->corners, pose.pose->parameters().head<6>()});
  }
  BundleBeliefs beliefs;
  beliefs.start = {3000, 1999.5, 1499.5, 0, 0};
  beliefs.diagonal_px = 5000;
  beliefs.focus_u = beliefs.aspect_u = beliefs.sheet_u_mm = 1e-9;
  beliefs.focal_relative_u = beliefs.k1_u = beliefs.k2_u = 100;
  beliefs.centre_relative_u = 100;
  const auto ours = adjust_bundle(views, ground_sheet(), beliefs);
  ASSERT_TRUE(ours);
  for (const BundleViewResult& view : ours->views) ASSERT_THAT(view.outliers, testing::IsEmpty());
  const OpenCvCamera theirs = calibrate_with_opencv(sighted, {4000, 3000}, 3000, kOurModel);
  CameraProfile ours_as_profile;
  ours_as_profile.model = ours->model;
  const auto a = ours_as_profile.parameters(), b = theirs.parameters();
  const char* names[5] = {"focal length", "centre x", "centre y", "k1", "k2"};
  // OpenCV lists fx, fy, cx, cy, k1, k2; with the fixed aspect fx follows fy.
  const int index[5] = {1, 2, 3, 4, 5};
  // OpenCV 4.6 divides the sum of squares by points less parameters, though each point gives two
  // residuals: its deviations are larger by this.
  const double n = ours->corners, parameters = 5 + 6 * static_cast<double>(views.size());
  const double counted_once = std::sqrt((2 * n - parameters) / (n - parameters));
  for (int k = 0; k < 5; ++k) {
    const double u = std::sqrt(ours->covariance(k, k)),
                 their_u = theirs.deviations.at<double>(index[k]);
    std::printf("%-12s ours %.6f +- %.6f, OpenCV %.6f +- %.6f\n", names[k], a[k], u, b[k], their_u);
    EXPECT_NEAR(a[k], b[k], 0.02 * u) << names[k];
    EXPECT_NEAR(their_u / u / counted_once, 1, 0.005) << names[k];
  }
}

class ChessboardCalibration : public testing::Test {
 protected:
  std::vector<BoardPhoto> photos_;
  std::vector<std::vector<SightedCorner>> sighted_;
  CalibrationProgress progress_;

  void SetUp() override {
    open_all(photos_);
    ASSERT_EQ(photos_.size(), 13u);
    CameraCalibration calibration("2026-11-25");
    for (const BoardPhoto& photo : photos_) {
      CalibrationPhoto one;
      one.name = photo.name;
      one.upright = {640, 480};
      one.camera.sensor = one.upright;
      CardSighting sighting;
      sighting.card = &board();
      for (int row = 0; row < kRows; ++row)
        for (int column = 0; column < kColumns; ++column)
          sighting.corners.push_back({row * kColumns + column,
                                      {(column + 1) * kSquare_mm, (row + 1) * kSquare_mm},
                                      photo.at(column, row)});
      sighted_.push_back(sighting.corners);
      one.sighting = std::move(sighting);
      calibration.add(std::move(one));
    }
    progress_ = calibration.progress();
    ASSERT_TRUE(progress_.profile);
  }
};

/// How far apart two cameras see the same directions, in px over the given places, after the turn
/// that brings them closest: a shifted centre and a turned camera are nearly the same.
struct MappedDifference {
  double rms_px = 0, worst_px = 0;
};
MappedDifference mapped_difference(const std::vector<Eigen::Vector3d>& rays,
                                   const std::vector<Point_px>& places, const CameraModel& model) {
  Eigen::Matrix3d sum = Eigen::Matrix3d::Zero();  // orthogonal Procrustes on the unit rays
  for (std::size_t i = 0; i < rays.size(); ++i) {
    double u = 0, v = 0;
    model.direction(places[i], u, v);
    sum += Eigen::Vector3d(u, v, 1).normalized() * rays[i].normalized().transpose();
  }
  const Eigen::JacobiSVD<Eigen::Matrix3d> svd(sum, Eigen::ComputeFullU | Eigen::ComputeFullV);
  const Eigen::Matrix3d turn = svd.matrixU() * svd.matrixV().transpose();
  MappedDifference difference;
  for (std::size_t i = 0; i < rays.size(); ++i) {
    const Eigen::Vector3d ray = turn * rays[i];
    Point_px p;
    model.project_direction(ray.x() / ray.z(), ray.y() / ray.z(), p.x, p.y);
    const double off = distance_px(p, places[i]);
    difference.rms_px += off * off / static_cast<double>(rays.size());
    difference.worst_px = std::max(difference.worst_px, off);
  }
  difference.rms_px = std::sqrt(difference.rms_px);
  return difference;
}

TEST_F(ChessboardCalibration, AgreesWithThePublishedCalibrationOfTheSamePhotos) {
  const cv::FileStorage file((kFolder / "left_intrinsics.yml").string(), cv::FileStorage::READ);
  cv::Mat k, distortion;
  file["camera_matrix"] >> k;
  file["distortion_coefficients"] >> distortion;
  const CameraProfile& ours = *progress_.profile;
  const auto u = ours.standard_deviations();
  std::printf(
      "ours: f %.2f +- %.2f, centre %.2f %.2f +- %.2f %.2f, k1 %+.4f +- %.4f, k2 %+.4f +- "
      "%.4f, residual %.3f px, %d photos\n",
      ours.model.focal_px, u[0], ours.model.centre_x_px, ours.model.centre_y_px, u[1], u[2],
      ours.model.k1, u[3], ours.model.k2, u[4], ours.residual_px, ours.photos);
  std::printf("published: f %.2f, centre %.2f %.2f, k1 %+.4f, k2 %+.4f\n", k.at<double>(0, 0),
              k.at<double>(0, 2), k.at<double>(1, 2), distortion.at<double>(0),
              distortion.at<double>(1));
  for (const std::string& text : progress_.missing) std::printf("missing: %s\n", text.c_str());
  for (const Check& check : progress_.checks) std::printf("%s\n", check.message.c_str());
  EXPECT_GE(ours.photos, 12);
  EXPECT_LT(ours.residual_px, 0.2);  // the published one left 0.39 px: its windows were too large
  // Its larger error bounds how near the two can be: 0.7 % of f and 2.5 px of the centre.
  EXPECT_NEAR(ours.model.focal_px / k.at<double>(0, 0), 1, 0.007);
  EXPECT_NEAR(ours.model.centre_x_px, k.at<double>(0, 2), 2.5);
  EXPECT_NEAR(ours.model.centre_y_px, k.at<double>(1, 2), 2.5);

  // The distortion models differ (theirs has k3 and tangential terms), so they are compared in
  // what they do: where the same directions fall, at the corners that both have seen.
  std::vector<cv::Point2d> places;
  std::vector<Point_px> points;
  for (const auto& view : sighted_)
    for (const SightedCorner& c : view) {
      places.emplace_back(c.photo_px.x, c.photo_px.y);
      points.push_back(c.photo_px);
    }
  std::vector<cv::Point2d> straight;
  cv::undistortPoints(
      places, straight, k, distortion, cv::noArray(), cv::noArray(),
      cv::TermCriteria(cv::TermCriteria::EPS | cv::TermCriteria::COUNT, 100, 1e-12));
  std::vector<Eigen::Vector3d> rays;
  for (const cv::Point2d& p : straight) rays.emplace_back(p.x, p.y, 1);
  const MappedDifference difference = mapped_difference(rays, points, ours.model);
  std::printf("same directions on the photo: rms %.2f px apart, worst %.2f px\n", difference.rms_px,
              difference.worst_px);
  // A focal length 0.6 % apart alone is 1 px at 200 px from the centre.
  EXPECT_LT(difference.rms_px, 1.0);
  EXPECT_LT(difference.worst_px, 2.5);
}

// With the same corners and the same lens model; ours also lets the board's aspect and flatness and
// each photo's focus go free, so that it is less sure but no further off than it says.
TEST_F(ChessboardCalibration, AgreesWithOpenCvOnTheSameCorners) {
  const OpenCvCamera theirs = calibrate_with_opencv(sighted_, {640, 480}, 530, kOurModel);
  const auto u = progress_.profile->standard_deviations();
  const auto off = (progress_.profile->parameters() - theirs.parameters()).eval();
  std::printf(
      "OpenCV: f %.2f, centre %.2f %.2f, k1 %+.4f, k2 %+.4f, rms %.3f px; differences over "
      "our standard deviations:",
      theirs.parameters()[0], theirs.parameters()[1], theirs.parameters()[2],
      theirs.parameters()[3], theirs.parameters()[4], theirs.rms);
  for (int k = 0; k < 5; ++k) std::printf(" %.2f", off[k] / u[k]);
  std::printf("\n");
  for (int k = 0; k < 5; ++k) EXPECT_LT(std::abs(off[k]), 3 * u[k]) << k;
}

}  // namespace
}  // namespace scantling
