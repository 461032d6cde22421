#include "dimension/pose_inputs.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "dimension/better_input.h"

namespace scantling {

namespace {

CardPose::Vector gradient_of(const CardPose& pose,
                             const std::function<double(const CardPose&)>& size) {
  const CardPose::Matrix& covariance = pose.covariance();
  CardPose::Vector gradient;
  for (int k = 0; k < CardPose::kParameters; ++k) {
    const double step = std::max(0.5 * std::sqrt(std::max(0.0, covariance(k, k))), 1e-9);
    CardPose::Vector up = pose.parameters(), down = up;
    up[k] += step;
    down[k] -= step;
    gradient[k] = (size(CardPose(up)) - size(CardPose(down))) / (2 * step);
  }
  return gradient;
}

PoseShare share_of(const CardPose::Matrix& covariance, const CardPose::Vector& gradient) {
  const CardPose::Vector pull = covariance * gradient;
  const double total = std::max(0.0, gradient.dot(pull));
  const double variance = covariance(CardPose::kAspect, CardPose::kAspect);
  const double aspect =
      variance > 0 ? std::min(total, std::pow(pull[CardPose::kAspect], 2) / variance) : 0;
  return {std::sqrt(total - aspect), std::sqrt(aspect)};
}

}  // namespace

PoseShares pose_shares(const CardPose& pose, const CameraPrior& prior, double scale_u,
                       const std::function<double(const CardPose&)>& size) {
  const CardPose::Vector gradient = gradient_of(pose, size);
  PoseShares shares;
  shares.now = shares.scale_checked = shares.lens_known = share_of(pose.covariance(), gradient);
  if (!(prior.model.focal_px > 0 && prior.centre_u_px > 0)) return shares;
  const double aspect_u = aspect_uncertainty(scale_u);
  const double checked_u = std::min(aspect_u, aspect_uncertainty(kCheckedScale_u));
  shares.scale_checked =
      share_of(pose.covariance_with(prior, prior, aspect_u, checked_u), gradient);
  const double diagonal_px = 2 * std::hypot(prior.model.centre_x_px, prior.model.centre_y_px);
  shares.lens_known =
      share_of(pose.covariance_with(prior, usual_profile_prior(prior.model, diagonal_px), aspect_u,
                                    aspect_u),
               gradient);
  return shares;
}

PoseInputs::PoseInputs(const CardPose& pose, SizeChain::Source aspect, SizeChain::Source corners,
                       SizeChain& chain)
    : mean_(pose.parameters()) {
  const CardPose::Matrix& covariance = pose.covariance();
  const double variance = covariance(CardPose::kAspect, CardPose::kAspect);
  per_aspect_ = CardPose::Vector::Zero();
  if (variance > 0) per_aspect_ = covariance.col(CardPose::kAspect) / variance;
  // What is left of the covariance once the aspect is known.
  const CardPose::Matrix rest = covariance - per_aspect_ * per_aspect_.transpose() * variance;
  // Parameters differ by many orders of magnitude: scaled to correlations before they are split.
  CardPose::Vector scale = rest.diagonal().cwiseMax(0).cwiseSqrt();
  CardPose::Vector inverse = scale.unaryExpr([](double s) { return s > 0 ? 1 / s : 0.0; });
  const CardPose::Matrix correlations = inverse.asDiagonal() * rest * inverse.asDiagonal();
  const Eigen::SelfAdjointEigenSolver<CardPose::Matrix> solver(correlations);
  factor_ = scale.asDiagonal() * solver.eigenvectors() *
            solver.eigenvalues().cwiseMax(0).cwiseSqrt().asDiagonal();
  aspect_input_ =
      chain.add_input(aspect, Distribution::normal(0, std::sqrt(std::max(0.0, variance))));
  for (int k = 0; k < CardPose::kParameters; ++k) {
    const std::size_t place = chain.add_input(corners, Distribution::normal(0, 1));
    if (k == 0) first_input_ = place;
  }
}

CardPose PoseInputs::at(std::span<const double> x) const {
  const Eigen::Map<const CardPose::Vector> z(x.data() + first_input_);
  return CardPose(mean_ + per_aspect_ * x[aspect_input_] + factor_ * z);
}

}  // namespace scantling
