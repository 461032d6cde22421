#include "camera/lens_pattern.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace scantling {
namespace {

constexpr int kColumns = 8, kRows = 6;
constexpr int kFewest = 8;
/// Half a pixel on twelve megapixels moves a size by 0.05 mm at 10 px/mm.
constexpr double kMatters = 1e-4;  // of the diagonal

struct Cell {
  Eigen::Vector2d sum = Eigen::Vector2d::Zero();
  int count = 0;
};

std::string place_words(int column, int row) {
  const char* across = column < kColumns / 3               ? "left"
                       : column >= kColumns - kColumns / 3 ? "right"
                                                           : "";
  const char* down = row < kRows / 3 ? "upper" : row >= kRows - kRows / 3 ? "lower" : "";
  if (!*across && !*down) return "the picture's middle";
  if (!*across) return std::string("the picture's ") + down + " edge";
  if (!*down) return std::string("the picture's ") + across + " edge";
  return std::string("the picture's ") + down + " " + across + " corner";
}

}  // namespace

LensPattern find_lens_pattern(const std::vector<BundleView>& views, const BundleSolution& solution,
                              PictureSize sensor) {
  std::array<Cell, kColumns * kRows> cells;
  for (std::size_t v = 0; v < views.size(); ++v) {
    std::vector<char> use(views[v].corners.size(), 1);
    for (const std::size_t i : solution.views[v].outliers) use[i] = 0;
    for (std::size_t i = 0; i < use.size(); ++i) {
      if (!use[i]) continue;
      const Point_px p = views[v].corners[i].photo_px;
      const int column =
          std::clamp(static_cast<int>(p.x / sensor.width_px * kColumns), 0, kColumns - 1);
      const int row = std::clamp(static_cast<int>(p.y / sensor.height_px * kRows), 0, kRows - 1);
      Cell& cell = cells[static_cast<std::size_t>(row * kColumns + column)];
      cell.sum += solution.views[v].residuals_px[i];
      ++cell.count;
    }
  }
  LensPattern pattern;
  double chi_square = 0, weighted = 0;
  int used = 0, corners = 0;
  for (int k = 0; k < kColumns * kRows; ++k) {
    const Cell& cell = cells[static_cast<std::size_t>(k)];
    if (cell.count < kFewest) continue;
    const Eigen::Vector2d mean = cell.sum / cell.count;
    chi_square += cell.count * mean.squaredNorm() / std::pow(solution.noise_px, 2);
    weighted += cell.count * mean.squaredNorm();
    corners += cell.count;
    ++used;
    if (mean.norm() > pattern.worst_px) {
      pattern.worst_px = mean.norm();
      pattern.where = place_words(k % kColumns, k / kColumns);
    }
  }
  if (used < 6) return pattern;
  const double freedom = 2.0 * used;
  const double ratio = chi_square / freedom;
  pattern.rms_px = std::sqrt(
      std::max(0.0, (weighted - freedom * std::pow(solution.noise_px, 2)) / (2.0 * corners)));
  // Four standard deviations of a chi-square: noise alone hardly ever does that.
  const bool certain = ratio > 1 + 4 * std::sqrt(2 / freedom);
  if (certain) pattern.variance_factor = ratio;
  pattern.significant =
      certain && pattern.worst_px > kMatters * std::hypot(sensor.width_px, sensor.height_px);
  return pattern;
}

}  // namespace scantling
