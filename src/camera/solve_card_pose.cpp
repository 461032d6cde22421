#include <ceres/ceres.h>
#include <ceres/rotation.h>

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <opencv2/calib3d.hpp>

#include "camera/card_pose.h"

namespace scantling {
namespace {

constexpr int kP = CardPose::kParameters;

/// Residual of one corner in units of its noise.
struct CornerResidual {
  double x_mm, y_mm, middle_mm, px, py, weight;

  template <typename T>
  bool operator()(const T* p, T* residual) const {
    const double bent = (x_mm - middle_mm) / 64.0;
    const T place[3] = {x_mm * (1.0 - 0.5 * p[CardPose::kAspect]),
                        y_mm * (1.0 + 0.5 * p[CardPose::kAspect]),
                        p[CardPose::kBend] * bent * bent};
    T c[3];
    ceres::AngleAxisRotatePoint(p, place, c);
    c[0] += p[3];
    c[1] += p[4];
    c[2] += p[5];
    const T u = c[0] / c[2], v = c[1] / c[2];
    const T r2 = u * u + v * v;
    const T factor = T(1) + p[9] * r2 + p[10] * r2 * r2;
    residual[0] = weight * (p[6] * factor * u + p[7] - px);
    residual[1] = weight * (p[6] * factor * v + p[8] - py);
    return true;
  }
};

/// A card glued on board stays flat to about this at its ends.
constexpr double kBend_u_mm = 0.25;

/// The priors as further observations, each in units of its standard uncertainty.
struct PriorResidual {
  CameraPrior prior;
  double aspect_u;

  template <typename T>
  bool operator()(const T* p, T* residual) const {
    const CameraModel& m = prior.model;
    residual[0] = (p[6] / m.focal_px - 1.0) / prior.focal_relative_u;
    residual[1] = (p[7] - m.centre_x_px) / prior.centre_u_px;
    residual[2] = (p[8] - m.centre_y_px) / prior.centre_u_px;
    residual[3] = (p[9] - m.k1) / prior.k1_u;
    // Whitened by the Cholesky factor of their correlation.
    const double rho = prior.k1_k2_correlation;
    residual[4] = ((p[10] - m.k2) / prior.k2_u - rho * residual[3]) / std::sqrt(1 - rho * rho);
    residual[5] = p[CardPose::kAspect] / aspect_u;
    residual[6] = p[CardPose::kBend] / kBend_u_mm;
    return true;
  }
};

struct Fit {
  CardPose::Vector parameters;
  CardPose::Matrix covariance;
  std::vector<double> distance_px;  // of every corner, also of those left out
  double rss_px2 = 0;
  double cost = 0;  // prior included: tells the two mirrored poses of a plane apart
};

}  // namespace

struct PoseSolver {
  const CardSighting& sighting;
  const CameraPrior& prior;
  PrintScale scale;

  double middle_mm() const {
    return sighting.card->columns * sighting.card->square_mm / 2 * scale.x;
  }

  std::vector<CardPose::Vector> start_values() const {
    std::vector<cv::Point3d> object;
    std::vector<cv::Point2d> image;
    const CameraModel& m = prior.model;
    for (const SightedCorner& c : sighting.corners) {
      object.emplace_back(c.card_mm.x * scale.x, c.card_mm.y * scale.y, 0);
      double u = 0, v = 0;
      m.direction(c.photo_px, u, v);
      image.emplace_back(u, v);
    }
    std::vector<CardPose::Vector> starts;
    const auto add = [&](const cv::Mat& r, const cv::Mat& t) {
      CardPose::Vector p;
      p << r.at<double>(0), r.at<double>(1), r.at<double>(2), t.at<double>(0), t.at<double>(1),
          t.at<double>(2), m.focal_px, m.centre_x_px, m.centre_y_px, m.k1, m.k2, 0, 0;
      // A planar solver may answer with NaN on exact points.
      if (p.allFinite() && p[5] > 0) starts.push_back(p);
    };
    std::vector<cv::Mat> rotations, translations;
    cv::solvePnPGeneric(object, image, cv::Matx33d::eye(), cv::noArray(), rotations, translations,
                        false, cv::SOLVEPNP_IPPE);
    for (std::size_t i = 0; i < rotations.size(); ++i) add(rotations[i], translations[i]);
    if (starts.empty()) {
      cv::Mat r, t;
      if (cv::solvePnP(object, image, cv::Matx33d::eye(), cv::noArray(), r, t, false,
                       cv::SOLVEPNP_ITERATIVE))
        add(r, t);
    }
    return starts;
  }

  Fit fit(const CardPose::Vector& start, double noise_px, const std::vector<char>& use) const {
    Fit result;
    result.parameters = start;
    double* p = result.parameters.data();
    ceres::Problem problem;
    for (std::size_t i = 0; i < sighting.corners.size(); ++i) {
      if (!use[i]) continue;
      const SightedCorner& c = sighting.corners[i];
      problem.AddResidualBlock(
          new ceres::AutoDiffCostFunction<CornerResidual, 2, kP>(
              new CornerResidual{c.card_mm.x * scale.x, c.card_mm.y * scale.y, middle_mm(),
                                 c.photo_px.x, c.photo_px.y, 1 / noise_px}),
          nullptr, p);
    }
    problem.AddResidualBlock(
        new ceres::AutoDiffCostFunction<PriorResidual, 7, kP>(
            new PriorResidual{prior, aspect_uncertainty(scale.standard_uncertainty)}),
        nullptr, p);
    ceres::Solver::Options options;
    options.linear_solver_type = ceres::DENSE_QR;
    options.max_num_iterations = 40;
    options.function_tolerance = 1e-9;
    options.num_threads = 1;
    options.logging_type = ceres::SILENT;
    ceres::Solver::Summary summary;
    ceres::Solve(options, &problem, &summary);
    result.cost = summary.final_cost;

    ceres::CRSMatrix jacobian;
    problem.Evaluate({}, nullptr, nullptr, nullptr, &jacobian);
    Eigen::MatrixXd dense = Eigen::MatrixXd::Zero(jacobian.num_rows, kP);
    for (int row = 0; row < jacobian.num_rows; ++row)
      for (int k = jacobian.rows[static_cast<std::size_t>(row)];
           k < jacobian.rows[static_cast<std::size_t>(row) + 1]; ++k)
        dense(row, jacobian.cols[static_cast<std::size_t>(k)]) =
            jacobian.values[static_cast<std::size_t>(k)];
    // Residuals are in units of their noise, so the covariance is (J^T J)^-1.
    result.covariance = (dense.transpose() * dense).ldlt().solve(CardPose::Matrix::Identity());

    for (std::size_t i = 0; i < sighting.corners.size(); ++i) {
      const SightedCorner& c = sighting.corners[i];
      double off[2];
      CornerResidual{c.card_mm.x * scale.x, c.card_mm.y * scale.y, middle_mm(),
                     c.photo_px.x,          c.photo_px.y,          1}(p, off);
      result.distance_px.push_back(std::hypot(off[0], off[1]));
      if (use[i]) result.rss_px2 += result.distance_px.back() * result.distance_px.back();
    }
    return result;
  }

  PoseSolution solve() const {
    PoseSolution solution;
    std::vector<char> use(sighting.corners.size(), 1);
    std::optional<Fit> best;
    for (const CardPose::Vector& start : start_values()) {
      // A tight noise, so that a mirrored pose cannot hide behind a shifted principal point.
      Fit candidate = fit(start, 0.1, use);
      if (!best || candidate.cost < best->cost) best = std::move(candidate);
    }
    if (!best || !best->parameters.allFinite() || best->parameters[5] <= 0) {
      solution.checks.push_back({"card_pose_unsolved", Severity::stop,
                                 "The card's position could not be worked out. Show more of the "
                                 "card, flat and sharp, and take the photo again."});
      return solution;
    }
    double noise = 0.1;
    for (int round = 0; round < 2; ++round) {
      std::vector<double> sorted = best->distance_px;
      std::nth_element(sorted.begin(), sorted.begin() + static_cast<long>(sorted.size() / 2),
                       sorted.end());
      // The median distance of a two-axis normal error is 1.1774 sigma.
      const double spread = std::max(0.05, sorted[sorted.size() / 2] / 1.1774);
      std::size_t used = 0;
      for (std::size_t i = 0; i < use.size(); ++i) {
        use[i] = best->distance_px[i] < 4.5 * spread;
        used += static_cast<std::size_t>(use[i]);
      }
      if (used < 8) std::fill(use.begin(), use.end(), 1);
      noise = std::max({0.03, spread, sighting.corner_noise_px});
      *best = fit(best->parameters, noise, use);
    }
    const auto used = std::count(use.begin(), use.end(), 1);
    // The corners fix the eight numbers of a plane's map; the priors hold the rest.
    const double dof = std::max(1.0, 2.0 * static_cast<double>(used) - 8);
    CardPose pose(best->parameters);
    pose.noise_px_ = std::sqrt(best->rss_px2 / dof);
    pose.residual_px_ = std::sqrt(best->rss_px2 / (2.0 * static_cast<double>(used)));
    // The fit's noise was the robust spread; what was left in makes the covariance honest.
    pose.widening_ = std::max(1.0, std::pow(pose.noise_px_ / noise, 2));
    pose.covariance_ = best->covariance * pose.widening_;
    pose.corners_ = static_cast<int>(used);
    pose.scale_x_ = scale.x;
    pose.scale_y_ = scale.y;
    for (std::size_t i = 0; i < use.size(); ++i)
      if (!use[i]) solution.outliers.push_back(i);
    solution.pose = pose;
    return solution;
  }
};

PoseSolution solve_card_pose(const CardSighting& sighting, const CameraPrior& prior,
                             const PrintScale& scale) {
  return PoseSolver{sighting, prior, scale}.solve();
}

}  // namespace scantling
