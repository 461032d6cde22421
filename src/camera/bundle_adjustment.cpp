#include "camera/bundle_adjustment.h"

#include <ceres/ceres.h>
#include <ceres/rotation.h>

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>

namespace scantling {
namespace {

constexpr int kCamera = 5, kSheet = 4, kView = 7, kShared = kCamera + kSheet;

/// Focal length and centre in units of the start's focal length, so that all numbers are near one.
struct Scale {
  double focal, centre_x, centre_y;
};

/// One corner in units of its noise. camera: focal - 1, centre x, y, k1, k2. sheet: aspect, shape.
/// view: rotation, translation, focus.
struct CornerResidual {
  double x_mm, y_mm;     // nominal
  double along, across;  // from the sheet's middle, -1..1
  double px, py, weight;
  Scale scale;

  template <typename T>
  bool operator()(const T* camera, const T* sheet, const T* view, T* residual) const {
    const T place[3] = {
        x_mm * (1.0 - 0.5 * sheet[0]), y_mm * (1.0 + 0.5 * sheet[0]),
        sheet[1] * (along * along) + sheet[2] * (along * across) + sheet[3] * (across * across)};
    T c[3];
    ceres::AngleAxisRotatePoint(view, place, c);
    for (int k = 0; k < 3; ++k) c[k] += view[3 + k];
    const T u = c[0] / c[2], v = c[1] / c[2];
    const T r2 = u * u + v * v;
    const T focal = scale.focal * (1.0 + camera[0]) * (1.0 + view[6]) *
                    (1.0 + camera[3] * r2 + camera[4] * r2 * r2);
    residual[0] = weight * (focal * u + scale.focal * camera[1] + scale.centre_x - px);
    residual[1] = weight * (focal * v + scale.focal * camera[2] + scale.centre_y - py);
    return true;
  }
};

template <int N>
struct Belief {
  std::array<double, N> mean, u;
  template <typename T>
  bool operator()(const T* p, T* residual) const {
    for (std::size_t k = 0; k < N; ++k) residual[k] = (p[k] - mean[k]) / u[k];
    return true;
  }
};

struct FocusBelief {
  double u;
  template <typename T>
  bool operator()(const T* view, T* residual) const {
    residual[0] = view[6] / u;
    return true;
  }
};

class Bundle {
 public:
  Bundle(const std::vector<BundleView>& views, const CardDefinition& card,
         const BundleBeliefs& beliefs)
      : views_(views),
        card_(card),
        beliefs_(beliefs),
        scale_{beliefs.start.focal_px, beliefs.start.centre_x_px, beliefs.start.centre_y_px},
        camera_{0, 0, 0, beliefs.start.k1, beliefs.start.k2} {
    for (const BundleView& view : views) {
      std::array<double, kView> start{};
      std::copy(view.start.data(), view.start.data() + 6, start.begin());
      poses_.push_back(start);
      use_.emplace_back(view.corners.size(), 1);
    }
  }

  bool solve() {
    double noise = 0.3;
    for (int round = 0; round < 3; ++round) {
      if (!fit(noise, true)) return false;
      noise = std::max(0.02, spread());
      drop_strangers(noise);
    }
    for (int round = 0; round < 2; ++round) {
      if (!fit(noise, false)) return false;
      noise = std::max(1e-4, std::sqrt(rss() / degrees_of_freedom()));
    }
    noise_ = noise;
    return work_out_covariance();
  }

  BundleSolution solution() const {
    BundleSolution s;
    s.model = {scale_.focal * (1 + camera_[0]), scale_.centre_x + scale_.focal * camera_[1],
               scale_.centre_y + scale_.focal * camera_[2], camera_[3], camera_[4]};
    const Eigen::Matrix<double, kCamera, 1> unit(scale_.focal, scale_.focal, scale_.focal, 1, 1);
    s.covariance = unit.asDiagonal() * covariance_ * unit.asDiagonal();
    s.aspect = sheet_[0];
    for (int k = 0; k < 3; ++k) s.sheet_mm[k] = sheet_[static_cast<std::size_t>(k + 1)];
    s.noise_px = noise_;
    s.corners = used();
    s.residual_px = std::sqrt(rss() / (2.0 * s.corners));
    for (std::size_t v = 0; v < views_.size(); ++v) {
      BundleViewResult result;
      std::copy(poses_[v].begin(), poses_[v].begin() + 6, result.pose.data());
      result.focus = poses_[v][6];
      double square = 0;
      int count = 0;
      for (std::size_t i = 0; i < views_[v].corners.size(); ++i) {
        const Eigen::Vector2d r = residual(v, i);
        result.residuals_px.push_back(r);
        if (use_[v][i]) {
          square += r.squaredNorm();
          ++count;
        } else {
          result.outliers.push_back(i);
        }
      }
      result.residual_px = std::sqrt(square / std::max(1, 2 * count));
      s.views.push_back(std::move(result));
    }
    return s;
  }

 private:
  CornerResidual corner(std::size_t v, std::size_t i, double weight) const {
    const SightedCorner& c = views_[v].corners[i];
    const double half_x = card_.columns * card_.square_mm / 2;
    const double half_y = card_.rows * card_.square_mm / 2;
    return {c.card_mm.x,
            c.card_mm.y,
            c.card_mm.x / half_x - 1,
            c.card_mm.y / half_y - 1,
            c.photo_px.x,
            c.photo_px.y,
            weight,
            scale_};
  }

  Eigen::Vector2d residual(std::size_t v, std::size_t i) const {
    Eigen::Vector2d r;
    corner(v, i, 1)(camera_.data(), sheet_.data(), poses_[v].data(), r.data());
    return r;
  }

  int used() const {
    int count = 0;
    for (const auto& view : use_)
      count += static_cast<int>(std::count(view.begin(), view.end(), char{1}));
    return count;
  }

  double rss() const {
    double sum = 0;
    for (std::size_t v = 0; v < views_.size(); ++v)
      for (std::size_t i = 0; i < views_[v].corners.size(); ++i)
        if (use_[v][i]) sum += residual(v, i).squaredNorm();
    return sum;
  }

  double degrees_of_freedom() const {
    return std::max(1.0, 2.0 * used() - kShared - 6.0 * static_cast<double>(views_.size()));
  }

  /// The median distance of a two-axis normal error is 1.1774 sigma.
  double spread() const {
    std::vector<double> lengths;
    for (std::size_t v = 0; v < views_.size(); ++v)
      for (std::size_t i = 0; i < views_[v].corners.size(); ++i)
        lengths.push_back(residual(v, i).norm());
    const auto middle = lengths.begin() + static_cast<long>(lengths.size() / 2);
    std::nth_element(lengths.begin(), middle, lengths.end());
    return *middle / 1.1774;
  }

  void drop_strangers(double noise) {
    for (std::size_t v = 0; v < views_.size(); ++v) {
      std::size_t kept = 0;
      for (std::size_t i = 0; i < use_[v].size(); ++i) {
        use_[v][i] = residual(v, i).norm() < 5 * noise;
        kept += static_cast<std::size_t>(use_[v][i]);
      }
      // A photo that fits nowhere is judged as a photo, not corner by corner.
      if (kept < use_[v].size() / 2) std::fill(use_[v].begin(), use_[v].end(), char{1});
    }
  }

  void build(ceres::Problem& problem, double noise, bool robust) {
    const BundleBeliefs& b = beliefs_;
    for (std::size_t v = 0; v < views_.size(); ++v) {
      for (std::size_t i = 0; i < views_[v].corners.size(); ++i) {
        if (!use_[v][i] && !robust) continue;
        problem.AddResidualBlock(
            new ceres::AutoDiffCostFunction<CornerResidual, 2, kCamera, kSheet, kView>(
                new CornerResidual(corner(v, i, 1 / noise))),
            robust ? new ceres::HuberLoss(2) : nullptr, camera_.data(), sheet_.data(),
            poses_[v].data());
      }
      problem.AddResidualBlock(
          new ceres::AutoDiffCostFunction<FocusBelief, 1, kView>(new FocusBelief{b.focus_u}),
          nullptr, poses_[v].data());
    }
    const double centre_u = b.centre_relative_u * b.diagonal_px / scale_.focal;
    problem.AddResidualBlock(
        new ceres::AutoDiffCostFunction<Belief<kCamera>, kCamera, kCamera>(
            new Belief<kCamera>{{0, 0, 0, b.start.k1, b.start.k2},
                                {b.focal_relative_u, centre_u, centre_u, b.k1_u, b.k2_u}}),
        nullptr, camera_.data());
    problem.AddResidualBlock(
        new ceres::AutoDiffCostFunction<Belief<kSheet>, kSheet, kSheet>(new Belief<kSheet>{
            {0, 0, 0, 0}, {b.aspect_u, b.sheet_u_mm, b.sheet_u_mm, b.sheet_u_mm}}),
        nullptr, sheet_.data());
  }

  bool fit(double noise, bool robust) {
    ceres::Problem problem;
    build(problem, noise, robust);
    ceres::Solver::Options options;
    options.linear_solver_type = ceres::DENSE_SCHUR;
    options.linear_solver_ordering = std::make_shared<ceres::ParameterBlockOrdering>();
    for (auto& pose : poses_) options.linear_solver_ordering->AddElementToGroup(pose.data(), 0);
    options.linear_solver_ordering->AddElementToGroup(camera_.data(), 1);
    options.linear_solver_ordering->AddElementToGroup(sheet_.data(), 1);
    options.max_num_iterations = 60;
    options.function_tolerance = 1e-8;
    options.num_threads = 1;
    options.logging_type = ceres::SILENT;
    ceres::Solver::Summary summary;
    ceres::Solve(options, &problem, &summary);
    return summary.IsSolutionUsable() && std::isfinite(summary.final_cost);
  }

  /// The shared block of (J^T J)^-1: the views are eliminated one by one (Schur's complement).
  bool work_out_covariance() {
    ceres::Problem problem;
    build(problem, noise_, false);
    ceres::Problem::EvaluateOptions options;
    options.parameter_blocks = {camera_.data(), sheet_.data()};
    for (auto& pose : poses_) options.parameter_blocks.push_back(pose.data());
    ceres::CRSMatrix j;
    if (!problem.Evaluate(options, nullptr, nullptr, nullptr, &j)) return false;
    const auto n = static_cast<Eigen::Index>(kShared + kView * views_.size());
    Eigen::MatrixXd h = Eigen::MatrixXd::Zero(n, n);
    for (std::size_t row = 0; row < static_cast<std::size_t>(j.num_rows); ++row)
      for (int a = j.rows[row]; a < j.rows[row + 1]; ++a)
        for (int b = j.rows[row]; b < j.rows[row + 1]; ++b)
          h(j.cols[static_cast<std::size_t>(a)], j.cols[static_cast<std::size_t>(b)]) +=
              j.values[static_cast<std::size_t>(a)] * j.values[static_cast<std::size_t>(b)];
    Eigen::Matrix<double, kShared, kShared> shared = h.topLeftCorner<kShared, kShared>();
    for (Eigen::Index v = kShared; v < n; v += kView) {
      const Eigen::Matrix<double, kView, kView> own = h.block<kView, kView>(v, v);
      const Eigen::Matrix<double, kView, kShared> mixed = h.block<kView, kShared>(v, 0);
      shared -= mixed.transpose() * own.fullPivLu().solve(mixed);
    }
    covariance_ = shared.fullPivLu().inverse().topLeftCorner<kCamera, kCamera>();
    covariance_ = ((covariance_ + covariance_.transpose()) / 2).eval();
    return covariance_.allFinite() && (covariance_.diagonal().array() > 0).all();
  }

  const std::vector<BundleView>& views_;
  const CardDefinition& card_;
  BundleBeliefs beliefs_;
  Scale scale_;
  std::array<double, kCamera> camera_;
  std::array<double, kSheet> sheet_{};
  std::vector<std::array<double, kView>> poses_;
  std::vector<std::vector<char>> use_;
  double noise_ = 0;
  Eigen::Matrix<double, kCamera, kCamera> covariance_;
};

}  // namespace

std::optional<BundleSolution> adjust_bundle(const std::vector<BundleView>& views,
                                            const CardDefinition& card,
                                            const BundleBeliefs& beliefs) {
  Bundle bundle(views, card, beliefs);
  if (!bundle.solve()) return std::nullopt;
  BundleSolution solution = bundle.solution();
  for (const BundleViewResult& view : solution.views)
    if (!(view.pose[5] > 0)) return std::nullopt;
  return solution;
}

}  // namespace scantling
