#pragma once

#include <vector>

#include "support/drawn_math.h"

namespace scantling::drawn {

/// A square piece of texture that repeats without a seam; mean 1.
class Tile {
 public:
  Tile(int side, double step_mm);

  int side() const { return side_; }
  float& at(int x, int y) { return values_[index(x, y)]; }
  /// The value at a place in mm, between texels by bilinear interpolation.
  double sample(double x_mm, double y_mm) const;
  /// Moves and stretches the values to mean 1 and this relative standard deviation; keeps them
  /// above `lowest`.
  void normalise(double contrast, double lowest = 0.15);
  /// Adds smooth noise, from waves of `coarsest_mm` down to the texel, each octave `fall` times the
  /// coarser one; `stretch` makes the waves longer along x.
  void add_noise(Random& random, double coarsest_mm, double fall, double weight, int stretch = 1);
  /// Adds round spots, `density` to the square millimetre.
  void add_spots(Random& random, double density, double smallest_mm, double largest_mm,
                 double weight);

 private:
  std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y & (side_ - 1)) * static_cast<std::size_t>(side_) +
           static_cast<std::size_t>(x & (side_ - 1));
  }
  int side_;  ///< a power of two
  double step_mm_;
  std::vector<float> values_;
};

Tile friction_tile(std::uint32_t seed, double contrast);
Tile noise_tile(std::uint32_t seed, int side, double step_mm, double coarsest_mm, double fall,
                double contrast, int stretch = 1);

}  // namespace scantling::drawn
