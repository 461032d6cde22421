#include "edges/step_fit.h"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace scantling {
namespace {

constexpr int kMostSteps = 4;
constexpr int kMostParameters = 2 * kMostSteps + 3;
using Vector = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, kMostParameters, 1>;
using Matrix =
    Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, kMostParameters, kMostParameters>;

struct NormalCurve {
  double integral = 0;
  double density = 0;
};

/// Both from one exponential: M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions
/// (1964), 26.2.17; the integral is off by less than 7.5e-8, far below any photo's noise.
NormalCurve normal_curve(double z) {
  const double size = std::abs(z);
  if (size > 8) return {z > 0 ? 1.0 : 0.0, 0.0};
  const double density = 0.3989422804014327 * std::exp(-0.5 * z * z);
  const double t = 1 / (1 + 0.2316419 * size);
  const double tail =
      density * t *
      (0.319381530 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return {z > 0 ? 1 - tail : tail, density};
}

/// Parameters: level, blur, slope, then (place, height) a step.
struct Model {
  std::size_t steps;
  double middle;
  bool free_blur, free_slope;

  Eigen::Index size() const { return static_cast<Eigen::Index>(3 + 2 * steps); }

  double value(double x, const Vector& p, Vector* derivative) const {
    const double blur = p[1];
    double sum = p[0] + p[2] * (x - middle);
    if (derivative) {
      derivative->setZero(size());
      (*derivative)[0] = 1;
      (*derivative)[2] = free_slope ? x - middle : 0;
    }
    for (std::size_t j = 0; j < steps; ++j) {
      const auto at = static_cast<Eigen::Index>(3 + 2 * j);
      const double z = (x - p[at]) / blur;
      const auto [phi, bell] = normal_curve(z);
      sum += p[at + 1] * phi;
      if (derivative) {
        const double density = bell / blur;
        (*derivative)[at] = -p[at + 1] * density;
        (*derivative)[at + 1] = phi;
        if (free_blur) (*derivative)[1] -= p[at + 1] * density * z;
      }
    }
    return sum;
  }
};

double median(std::vector<double>& v) {
  const auto middle = v.begin() + static_cast<long>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

}  // namespace

StepFit fit_steps(std::span<const float> values, std::span<const double> start_places,
                  const StepFitOptions& options) {
  StepFit fit;
  const std::size_t steps = start_places.size();
  std::vector<double> x, y;
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (!std::isfinite(values[i])) continue;
    x.push_back(static_cast<double>(i));
    y.push_back(values[i]);
  }
  if (steps == 0 || steps > kMostSteps || x.size() < 2 * steps + 5) return fit;

  const Model model{steps, (x.front() + x.back()) / 2, options.free_blur, options.free_slope};
  Vector p = Vector::Zero(model.size());
  p[1] = options.blur_start;
  for (std::size_t j = 0; j < steps; ++j) p[static_cast<Eigen::Index>(3 + 2 * j)] = start_places[j];
  // The linear parameters follow from the start places by least squares.
  {
    Matrix a = Matrix::Zero(model.size(), model.size());
    Vector b = Vector::Zero(model.size()), d;
    Vector unit = p;
    for (std::size_t j = 0; j < steps; ++j) unit[static_cast<Eigen::Index>(4 + 2 * j)] = 1;
    for (std::size_t i = 0; i < x.size(); ++i) {
      model.value(x[i], unit, &d);
      d[1] = 0;
      for (std::size_t j = 0; j < steps; ++j) d[static_cast<Eigen::Index>(3 + 2 * j)] = 0;
      a += d * d.transpose();
      b += d * y[i];
    }
    a.diagonal().array() += 1e-9;
    const Vector linear = a.ldlt().solve(b);
    for (Eigen::Index k = 0; k < model.size(); ++k)
      if (k != 1 && !(k >= 3 && (k - 3) % 2 == 0)) p[k] = linear[k];
  }

  std::vector<double> residual(x.size()), magnitude(x.size()), weight(x.size(), 1.0);
  double prior_weight = 0;  // residual variance over the prior's variance
  const auto prior_pull = [&](const Vector& q, std::size_t j) {
    return start_places[j] - q[static_cast<Eigen::Index>(3 + 2 * j)];
  };
  const auto cost_at = [&](const Vector& q) {  // from the residuals as they stand
    double cost = 0;
    for (std::size_t i = 0; i < x.size(); ++i) cost += weight[i] * residual[i] * residual[i];
    for (std::size_t j = 0; j < steps; ++j)
      cost += prior_weight * prior_pull(q, j) * prior_pull(q, j);
    return cost;
  };
  const auto evaluate = [&](const Vector& q) {
    for (std::size_t i = 0; i < x.size(); ++i) residual[i] = y[i] - model.value(x[i], q, nullptr);
    return cost_at(q);
  };
  double lambda = 1e-3;
  Matrix normal;
  double cost = evaluate(p);  // an accepted trial leaves its residuals and its cost
  for (int iteration = 0; iteration < 30; ++iteration) {
    if (iteration % 3 == 0) {
      for (std::size_t i = 0; i < x.size(); ++i) magnitude[i] = std::abs(residual[i]);
      const double spread = std::max(1e-6, 1.4826 * median(magnitude));
      for (std::size_t i = 0; i < x.size(); ++i) {
        const double z = std::abs(residual[i]) / spread;
        weight[i] = z <= options.huber ? 1 : options.huber / z;
      }
      if (options.place_prior_u > 0)
        prior_weight = spread * spread / (options.place_prior_u * options.place_prior_u);
      cost = cost_at(p);
    }
    normal.setZero(model.size(), model.size());
    Vector gradient = Vector::Zero(model.size()), d;
    for (std::size_t i = 0; i < x.size(); ++i) {
      model.value(x[i], p, &d);
      for (Eigen::Index k = 0; k < d.size(); ++k) {
        const double weighted = weight[i] * d[k];
        gradient[k] += weighted * residual[i];
        for (Eigen::Index l = 0; l <= k; ++l) normal(k, l) += weighted * d[l];
      }
    }
    normal.triangularView<Eigen::StrictlyUpper>() = normal.transpose();
    for (std::size_t j = 0; j < steps; ++j) {
      const auto at = static_cast<Eigen::Index>(3 + 2 * j);
      normal(at, at) += prior_weight;
      gradient[at] += prior_weight * prior_pull(p, j);
    }
    bool better = false;
    double moved = 0;
    for (int attempt = 0; attempt < 6 && !better; ++attempt) {
      Matrix damped = normal;
      for (Eigen::Index k = 0; k < model.size(); ++k) damped(k, k) += lambda * normal(k, k) + 1e-12;
      Vector step = damped.ldlt().solve(gradient);
      for (std::size_t j = 0; j < steps; ++j) {
        double& s = step[static_cast<Eigen::Index>(3 + 2 * j)];
        s = std::clamp(s, -1.5, 1.5);
      }
      Vector trial = p + step;
      trial[1] = std::clamp(trial[1], options.blur_least, options.blur_most);
      if (!trial.allFinite()) return fit;
      if (const double reached = evaluate(trial); reached <= cost) {
        cost = reached;
        moved = 0;
        for (std::size_t j = 0; j < steps; ++j)
          moved = std::max(moved, std::abs(trial[static_cast<Eigen::Index>(3 + 2 * j)] -
                                           p[static_cast<Eigen::Index>(3 + 2 * j)]));
        moved = std::max(moved, std::abs(trial[1] - p[1]));
        p = trial;
        lambda = std::max(1e-9, lambda / 5);
        better = true;
      } else {
        lambda *= 6;
      }
    }
    if (!better || (moved < options.tolerance && iteration >= 2)) break;
  }

  cost = evaluate(p);
  const double dof =
      std::max(1.0, static_cast<double>(x.size()) - 2.0 * static_cast<double>(steps) - 1 -
                        (options.free_blur ? 1 : 0) - (options.free_slope ? 1 : 0));
  fit.noise = std::sqrt(cost / dof);
  fit.level = p[0] - p[2] * model.middle;
  fit.slope = p[2];
  fit.blur = p[1];
  Matrix regular = normal;
  for (Eigen::Index k = 0; k < model.size(); ++k)
    if (regular(k, k) < 1e-15) regular(k, k) = 1;  // a held parameter
  const Matrix inverse = regular.ldlt().solve(Matrix::Identity(model.size(), model.size()));
  fit.converged = true;
  for (std::size_t j = 0; j < steps; ++j) {
    const auto at = static_cast<Eigen::Index>(3 + 2 * j);
    fit.place.push_back(p[at]);
    fit.height.push_back(p[at + 1]);
    fit.place_u.push_back(fit.noise * std::sqrt(std::max(0.0, inverse(at, at))));
    if (!(p[at] > x.front() && p[at] < x.back())) fit.converged = false;
    if (j > 0 && !(fit.place[j] > fit.place[j - 1])) fit.converged = false;
  }
  return fit;
}

double fit_shift(std::span<const float> values, const StepFit& model, double most_shift) {
  const auto shape = [&](double x, double& slope) {
    double value = 0;
    slope = model.slope;
    value = model.slope * x;
    for (std::size_t j = 0; j < model.place.size(); ++j) {
      const auto [phi, bell] = normal_curve((x - model.place[j]) / model.blur);
      value += model.height[j] * phi;
      slope += model.height[j] * bell / model.blur;
    }
    return value;
  };
  double shift = 0;
  std::vector<double> weight(values.size(), 1.0), residual;
  for (int iteration = 0; iteration < 12; ++iteration) {
    // Unknowns: offset, gain, shift.
    Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
    Eigen::Vector3d right = Eigen::Vector3d::Zero();
    residual.clear();
    Eigen::Vector3d linear(0, 1, 0);
    {
      Eigen::Matrix2d a = Eigen::Matrix2d::Zero();
      Eigen::Vector2d b = Eigen::Vector2d::Zero();
      for (std::size_t i = 0; i < values.size(); ++i) {
        if (!std::isfinite(values[i])) continue;
        double slope = 0;
        const Eigen::Vector2d row(1, shape(static_cast<double>(i) - shift, slope));
        a += weight[i] * row * row.transpose();
        b += weight[i] * row * double{values[i]};
      }
      if (!(std::abs(a.determinant()) > 1e-14)) return NAN;
      linear.head<2>() = a.inverse() * b;
    }
    if (!(linear[1] > 0.15)) return NAN;
    for (std::size_t i = 0; i < values.size(); ++i) {
      if (!std::isfinite(values[i])) continue;
      double slope = 0;
      const double value = shape(static_cast<double>(i) - shift, slope);
      const double r = values[i] - linear[0] - linear[1] * value;
      residual.push_back(std::abs(r));
      const Eigen::Vector3d row(1, value, -linear[1] * slope);
      normal += weight[i] * row * row.transpose();
      right += weight[i] * row * r;
    }
    if (residual.size() < 6) return NAN;
    const double spread = std::max(1e-6, 1.4826 * median(residual));
    for (std::size_t i = 0; i < values.size(); ++i) {
      if (!std::isfinite(values[i])) continue;
      double slope = 0;
      const double r = std::abs(values[i] - linear[0] -
                                linear[1] * shape(static_cast<double>(i) - shift, slope)) /
                       spread;
      weight[i] = r <= 2.5 ? 1 : 2.5 / r;
    }
    normal.diagonal().array() += 1e-12;
    const double move = std::clamp(normal.ldlt().solve(right)[2], -1.0, 1.0);
    if (!std::isfinite(move)) return NAN;
    shift = std::clamp(shift + move, -most_shift, most_shift);
    if (std::abs(move) < 1e-4) break;
  }
  return shift;
}

}  // namespace scantling
