#include "support/drawn_texture.h"

#include <algorithm>

namespace scantling::drawn {

Tile::Tile(int side, double step_mm)
    : side_(side),
      step_mm_(step_mm),
      values_(static_cast<std::size_t>(side) * static_cast<std::size_t>(side), 0.0f) {}

double Tile::sample(double x_mm, double y_mm) const {
  const double x = x_mm / step_mm_, y = y_mm / step_mm_;
  const double fx = std::floor(x), fy = std::floor(y);
  const int ix = static_cast<int>(fx), iy = static_cast<int>(fy);
  const double tx = x - fx, ty = y - fy;
  const double a = values_[index(ix, iy)], b = values_[index(ix + 1, iy)];
  const double c = values_[index(ix, iy + 1)], d = values_[index(ix + 1, iy + 1)];
  return (a + tx * (b - a)) * (1 - ty) + (c + tx * (d - c)) * ty;
}

void Tile::normalise(double contrast, double lowest) {
  double mean = 0, square = 0;
  for (float v : values_) mean += v;
  mean /= static_cast<double>(values_.size());
  for (float v : values_) square += (v - mean) * (v - mean);
  const double spread = std::sqrt(square / static_cast<double>(values_.size()));
  for (float& v : values_)
    v = static_cast<float>(std::max(lowest, 1 + (v - mean) * contrast / std::max(spread, 1e-9)));
}

void Tile::add_noise(Random& random, double coarsest_mm, double fall, double weight, int stretch) {
  int cell = 1;
  while (cell * 2 * step_mm_ <= coarsest_mm && cell * 2 * stretch <= side_ / 2) cell *= 2;
  for (; cell >= 1; cell /= 2, weight *= fall) {
    const int cell_x = cell * stretch, nx = side_ / cell_x, ny = side_ / cell;
    std::vector<float> knots(static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny));
    for (float& knot : knots) knot = static_cast<float>(weight * (random.uniform() * 2 - 1));
    const auto knot = [&](int x, int y) {
      return knots[static_cast<std::size_t>(y % ny) * static_cast<std::size_t>(nx) +
                   static_cast<std::size_t>(x % nx)];
    };
    for (int y = 0; y < side_; ++y) {
      const float v = static_cast<float>(y % cell) / static_cast<float>(cell);
      const float sv = v * v * (3 - 2 * v);
      for (int x = 0; x < side_; ++x) {
        const float u = static_cast<float>(x % cell_x) / static_cast<float>(cell_x);
        const float su = u * u * (3 - 2 * u);
        const int kx = x / cell_x, ky = y / cell;
        const float top = knot(kx, ky) + su * (knot(kx + 1, ky) - knot(kx, ky));
        const float low = knot(kx, ky + 1) + su * (knot(kx + 1, ky + 1) - knot(kx, ky + 1));
        at(x, y) += top + sv * (low - top);
      }
    }
  }
}

void Tile::add_spots(Random& random, double density, double smallest_mm, double largest_mm,
                     double weight) {
  const double area = side_ * step_mm_ * side_ * step_mm_;
  const int count = static_cast<int>(density * area);
  for (int i = 0; i < count; ++i) {
    const double size = random.log_between(smallest_mm, largest_mm) / 2 / step_mm_;
    const double flat = random.between(0.4, 1), turn = random.between(0, std::numbers::pi);
    const double x0 = random.uniform() * side_, y0 = random.uniform() * side_;
    const double c = std::cos(turn), s = std::sin(turn);
    const float strength = static_cast<float>(weight * random.between(0.4, 1));
    const int reach = static_cast<int>(size) + 1;
    for (int dy = -reach; dy <= reach; ++dy)
      for (int dx = -reach; dx <= reach; ++dx) {
        const double a = (c * dx + s * dy) / size, b = (c * dy - s * dx) / (size * flat);
        if (a * a + b * b <= 1)
          at(static_cast<int>(x0) + dx, static_cast<int>(y0) + dy) += strength;
      }
  }
}

Tile friction_tile(std::uint32_t seed, double contrast) {
  Random random(seed * 131ull + 7);
  Tile tile(1024, 0.05);
  // Binder and filler in several sizes, metal flecks, pores.
  tile.add_noise(random, 3.2, 0.95, 0.3);
  tile.add_spots(random, 2.5, 0.1, 1.2, 0.4);
  tile.add_spots(random, 2.5, 0.1, 1.2, -0.4);
  tile.add_spots(random, random.between(0.2, 1.2), 0.08, 0.6, random.between(0.8, 2.5));
  tile.add_spots(random, 0.8, 0.1, 0.9, -random.between(0.4, 1.0));
  tile.normalise(contrast);
  return tile;
}

Tile noise_tile(std::uint32_t seed, int side, double step_mm, double coarsest_mm, double fall,
                double contrast, int stretch) {
  Random random(seed * 257ull + 11);
  Tile tile(side, step_mm);
  tile.add_noise(random, coarsest_mm, fall, 1, stretch);
  tile.normalise(contrast);
  return tile;
}

}  // namespace scantling::drawn
