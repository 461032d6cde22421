#include "planes/bundle_information.h"

#include <ceres/crs_matrix.h>

#include <Eigen/Cholesky>

#include "planes/bundle_problem.h"

namespace scantling {

PlaneBundleInformation::PlaneBundleInformation(const PlaneBundle& bundle,
                                               const PlaneBundleSolution& solution, bool surface) {
  PlaneBundleState state = solution.state;
  PlaneBundleWish wish;
  wish.surface = surface;
  PlaneBundleProblem made = make_problem(bundle, state, wish);
  ceres::Problem::EvaluateOptions options;
  options.apply_loss_function = false;
  options.parameter_blocks = made.blocks;
  options.residual_blocks = made.residuals;
  ceres::CRSMatrix jacobian;
  made.problem.Evaluate(options, nullptr, nullptr, nullptr, &jacobian);

  cameras_ = PlaneBundleState::kPhoto * static_cast<Eigen::Index>(state.photos.size());
  scales_ = cameras_ + PlaneBundleState::kCamera * static_cast<Eigen::Index>(state.cameras.size());
  pieces_ = scales_ + PlaneBundleState::kScales;
  const Eigen::Index end =
      pieces_ + PlaneBundleState::kPiece * static_cast<Eigen::Index>(state.pieces.size());
  if (surface) surface_ = end;

  Eigen::MatrixXd normal = Eigen::MatrixXd::Zero(jacobian.num_cols, jacobian.num_cols);
  std::size_t row = 0;
  for (std::size_t block = 0; block < made.rows.size(); ++block) {
    for (int k = 0; k < made.rows[block]; ++k, ++row) {
      Row kept{made.group[block], {}};
      for (int i = jacobian.rows[row]; i < jacobian.rows[row + 1]; ++i) {
        const auto place = static_cast<std::size_t>(i);
        if (jacobian.values[place] != 0)
          kept.entries.emplace_back(jacobian.cols[place], jacobian.values[place]);
      }
      for (const auto& [i, a] : kept.entries)
        for (const auto& [j, b] : kept.entries) normal(i, j) += a * b;
      rows_.push_back(std::move(kept));
    }
  }
  // Unknowns of px, mm and radians side by side: bring them to one size before inverting.
  const Eigen::VectorXd size = normal.diagonal().cwiseMax(1e-30).cwiseSqrt().cwiseInverse();
  normal = size.asDiagonal() * normal * size.asDiagonal();
  covariance_ = size.asDiagonal() *
                normal.ldlt().solve(Eigen::MatrixXd::Identity(normal.rows(), normal.cols())) *
                size.asDiagonal();
}

double PlaneBundleInformation::variance(const Eigen::VectorXd& gradient) const {
  return gradient.dot(covariance_ * gradient);
}

double PlaneBundleInformation::variance_with_scales(
    const Eigen::VectorXd& gradient, const std::array<double, PlaneBundleState::kScales>& used,
    const std::array<double, PlaneBundleState::kScales>& instead) const {
  // More information on a few unknowns: Sherman, Morrison and Woodbury's formula.
  const Eigen::VectorXd lever = covariance_ * gradient;
  std::vector<Eigen::Index> better;
  std::vector<double> added;
  for (std::size_t i = 0; i < used.size(); ++i)
    if (instead[i] < used[i]) {
      better.push_back(scales_ + static_cast<Eigen::Index>(i));
      added.push_back(1 / (instead[i] * instead[i]) - 1 / (used[i] * used[i]));
    }
  const auto n = static_cast<Eigen::Index>(better.size());
  if (n == 0) return gradient.dot(lever);
  Eigen::MatrixXd inner(n, n);
  Eigen::VectorXd pull(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const auto a = static_cast<std::size_t>(i);
    pull[i] = lever[better[a]];
    for (Eigen::Index j = 0; j < n; ++j)
      inner(i, j) = covariance_(better[a], better[static_cast<std::size_t>(j)]);
    inner(i, i) += 1 / added[a];
  }
  return gradient.dot(lever) - pull.dot(inner.ldlt().solve(pull));
}

std::array<double, kRowGroups> PlaneBundleInformation::shares(
    const Eigen::VectorXd& gradient) const {
  const Eigen::VectorXd lever = covariance_ * gradient;
  std::array<double, kRowGroups> shares{};
  for (const Row& row : rows_) {
    double effect = 0;
    for (const auto& [column, value] : row.entries) effect += lever[column] * value;
    shares[static_cast<std::size_t>(row.group)] += effect * effect;
  }
  return shares;
}

Eigen::MatrixXd PlaneBundleInformation::shared_information() const {
  // Eliminating the photos from J^T J leaves the inverse of the shared part of the covariance.
  const Eigen::Index count = size() - cameras_;
  const Eigen::MatrixXd part = covariance_.bottomRightCorner(count, count);
  const Eigen::VectorXd scale = part.diagonal().cwiseMax(1e-30).cwiseSqrt().cwiseInverse();
  const Eigen::MatrixXd even = scale.asDiagonal() * part * scale.asDiagonal();
  return scale.asDiagonal() * even.ldlt().solve(Eigen::MatrixXd::Identity(count, count)) *
         scale.asDiagonal();
}

}  // namespace scantling
