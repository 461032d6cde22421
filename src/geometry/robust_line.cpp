#include "geometry/robust_line.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace scantling {
namespace {

double median(std::vector<double> v) {
  const auto middle = v.begin() + static_cast<long>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

}  // namespace

double RobustLine::u_at(double x) const {
  return std::hypot(height_u, slope_u * (x - middle));
}

RobustLine fit_robust_line(std::span<const double> x, std::span<const double> y,
                           std::span<const double> weight, double least_spread) {
  RobustLine line;
  const std::size_t n = x.size();
  line.inlier.assign(n, 0);
  if (n < 3 || y.size() != n) return line;
  const auto w = [&](std::size_t i) { return weight.empty() ? 1.0 : weight[i]; };

  // Start: every pair at least a third of the span apart, thinned; least median of |residual|.
  double best = std::numeric_limits<double>::infinity();
  double slope = 0, at_zero = 0;
  const double span = x.back() - x.front();
  const std::size_t stride = std::max<std::size_t>(1, n / 24);
  std::vector<double> residual(n);
  for (std::size_t i = 0; i < n; i += stride) {
    for (std::size_t j = i + 1; j < n; j += stride) {
      if (x[j] - x[i] < span / 3) continue;
      const double m = (y[j] - y[i]) / (x[j] - x[i]);
      const double b = y[i] - m * x[i];
      for (std::size_t k = 0; k < n; ++k) residual[k] = std::abs(y[k] - b - m * x[k]);
      const double score = median(residual);
      if (score < best) {
        best = score;
        slope = m;
        at_zero = b;
      }
    }
  }
  if (!std::isfinite(best)) return line;

  double spread = std::max(least_spread, 1.4826 * best);
  double sw = 0, mx = 0, my = 0, sxx = 0;
  for (int iteration = 0; iteration < 12; ++iteration) {
    sw = mx = my = sxx = 0;
    double sxy = 0;
    std::vector<double> tukey(n);
    for (std::size_t k = 0; k < n; ++k) {
      const double z = (y[k] - at_zero - slope * x[k]) / (4.685 * spread);
      tukey[k] = std::abs(z) < 1 ? std::pow(1 - z * z, 2) * w(k) : 0;
      sw += tukey[k];
      mx += tukey[k] * x[k];
      my += tukey[k] * y[k];
    }
    if (!(sw > 0)) return line;
    mx /= sw;
    my /= sw;
    for (std::size_t k = 0; k < n; ++k) {
      sxx += tukey[k] * (x[k] - mx) * (x[k] - mx);
      sxy += tukey[k] * (x[k] - mx) * (y[k] - my);
    }
    if (!(sxx > 0)) return line;
    slope = sxy / sxx;
    at_zero = my - slope * mx;
    std::vector<double> inside;
    for (std::size_t k = 0; k < n; ++k) {
      const double r = std::abs(y[k] - at_zero - slope * x[k]);
      if (r < 4.685 * spread) inside.push_back(r);
    }
    if (inside.size() < 3) return line;
    spread = std::max(least_spread, 1.4826 * median(inside));
  }

  double rss = 0, count = 0;
  std::vector<double> kept;
  for (std::size_t k = 0; k < n; ++k) {
    const double r = y[k] - at_zero - slope * x[k];
    line.inlier[k] = std::abs(r) < 3 * spread + 1e-12;
    if (!line.inlier[k]) continue;
    rss += r * r;
    kept.push_back(r);
    ++count;
  }
  if (count < 3) return line;
  line.spread = std::max(least_spread, std::sqrt(rss / std::max(1.0, count - 2)));
  // Neighbouring scans share texture and waviness: fewer independent points than scans.
  double correlation = 0;
  for (std::size_t lag = 1; lag < std::min<std::size_t>(kept.size() / 4, 20); ++lag) {
    double c = 0;
    for (std::size_t k = 0; k + lag < kept.size(); ++k) c += kept[k] * kept[k + lag];
    c /= rss;
    if (c < 0.1) break;
    correlation += c;
  }
  line.effective_points = std::max(3.0, count / (1 + 2 * correlation));
  line.inlier_share = count / static_cast<double>(n);
  line.middle = mx;
  line.height = my;
  line.slope = slope;
  double spread_x2 = 0;
  for (std::size_t k = 0; k < n; ++k)
    if (line.inlier[k]) spread_x2 += (x[k] - mx) * (x[k] - mx) / count;
  line.height_u = line.spread / std::sqrt(line.effective_points);
  line.slope_u = spread_x2 > 0 ? line.height_u / std::sqrt(spread_x2) : 0;
  line.valid = true;
  return line;
}

}  // namespace scantling
