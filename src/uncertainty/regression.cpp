#include "uncertainty/regression.h"

#include <Eigen/Core>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "uncertainty/coverage.h"

namespace scantling {

double LineFit::at(double x) const {
  return intercept + slope * x;
}

double LineFit::line_uncertainty_at(double x) const {
  return residual_deviation * std::sqrt(1 / points + (x - mean_x) * (x - mean_x) / sxx);
}

double LineFit::observation_uncertainty_at(double x) const {
  return std::hypot(residual_deviation, line_uncertainty_at(x));
}

Interval LineFit::prediction_interval(double x, double coverage) const {
  const double half = coverage_factor(coverage, degrees_of_freedom) * observation_uncertainty_at(x);
  return {at(x) - half, at(x) + half};
}

LineFit fit_line(std::span<const double> x, std::span<const double> y) {
  if (x.size() != y.size()) throw std::invalid_argument("x and y differ in length");
  if (x.size() < 3) throw std::invalid_argument("a line with its uncertainty needs three points");
  LineFit fit;
  fit.points = static_cast<double>(x.size());
  fit.mean_x = std::accumulate(x.begin(), x.end(), 0.0) / fit.points;
  const double mean_y = std::accumulate(y.begin(), y.end(), 0.0) / fit.points;
  double sxy = 0;
  double syy = 0;
  double sum_x2 = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    fit.sxx += (x[i] - fit.mean_x) * (x[i] - fit.mean_x);
    sxy += (x[i] - fit.mean_x) * (y[i] - mean_y);
    syy += (y[i] - mean_y) * (y[i] - mean_y);
    sum_x2 += x[i] * x[i];
  }
  if (!(fit.sxx > 0)) throw std::invalid_argument("all x are the same: no line can be fitted");
  fit.slope = sxy / fit.sxx;
  fit.intercept = mean_y - fit.slope * fit.mean_x;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double residual = y[i] - mean_y - fit.slope * (x[i] - fit.mean_x);
    fit.residual_sum_of_squares += residual * residual;
  }
  fit.degrees_of_freedom = fit.points - 2;
  fit.residual_deviation = std::sqrt(fit.residual_sum_of_squares / fit.degrees_of_freedom);
  fit.slope_uncertainty = fit.residual_deviation / std::sqrt(fit.sxx);
  fit.intercept_uncertainty = fit.line_uncertainty_at(0);
  fit.correlation = sum_x2 > 0 ? -fit.mean_x / std::sqrt(sum_x2 / fit.points) : 0;
  fit.r_squared = syy > 0 ? 1 - fit.residual_sum_of_squares / syy : 1;
  return fit;
}

LinearFit fit_linear(const std::vector<std::vector<double>>& rows, std::span<const double> y,
                     bool intercept) {
  using Matrix = Eigen::Matrix<long double, Eigen::Dynamic, Eigen::Dynamic>;
  using Vector = Eigen::Matrix<long double, Eigen::Dynamic, 1>;
  if (rows.empty() || rows.size() != y.size())
    throw std::invalid_argument("rows and observations differ in number");
  const Eigen::Index n = static_cast<Eigen::Index>(rows.size());
  const Eigen::Index first = intercept ? 1 : 0;
  const Eigen::Index p = static_cast<Eigen::Index>(rows.front().size()) + first;
  if (p == 0 || n <= p) throw std::invalid_argument("more observations than coefficients needed");

  Matrix x(n, p);
  Vector observed(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const std::vector<double>& row = rows[static_cast<std::size_t>(i)];
    if (static_cast<Eigen::Index>(row.size()) + first != p)
      throw std::invalid_argument("rows of unequal length");
    if (intercept) x(i, 0) = 1;
    for (Eigen::Index j = first; j < p; ++j) x(i, j) = row[static_cast<std::size_t>(j - first)];
    observed(i) = y[static_cast<std::size_t>(i)];
  }
  const Eigen::ColPivHouseholderQR<Matrix> qr(x);
  if (qr.rank() < p) throw std::invalid_argument("the regressors depend on each other");
  const Vector b = qr.solve(observed);
  const long double residual_squares = (observed - x * b).squaredNorm();
  const long double total_squares =
      intercept ? (observed.array() - observed.mean()).square().sum() : observed.squaredNorm();
  // (X'X)^-1 = P R^-1 R^-T P': its diagonal is the row norms of P R^-1.
  const Matrix r = qr.matrixQR().topLeftCorner(p, p).template triangularView<Eigen::Upper>();
  const Matrix inverse =
      qr.colsPermutation() *
      Matrix(r.template triangularView<Eigen::Upper>().solve(Matrix::Identity(p, p)));

  LinearFit fit;
  fit.degrees_of_freedom = static_cast<double>(n - p);
  const long double s = std::sqrt(residual_squares / static_cast<long double>(n - p));
  for (Eigen::Index j = 0; j < p; ++j) {
    fit.coefficients.push_back(static_cast<double>(b(j)));
    fit.uncertainties.push_back(static_cast<double>(s * inverse.row(j).norm()));
  }
  fit.residual_deviation = static_cast<double>(s);
  fit.residual_sum_of_squares = static_cast<double>(residual_squares);
  fit.r_squared = total_squares > 0 ? static_cast<double>(1 - residual_squares / total_squares) : 1;
  return fit;
}

}  // namespace scantling
