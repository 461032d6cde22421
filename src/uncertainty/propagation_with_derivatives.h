#pragma once

#include <ceres/jet.h>

#include <array>
#include <stdexcept>

#include "uncertainty/propagation.h"

namespace scantling {

/// propagate() with sensitivities by automatic differentiation, exact to rounding. `model` takes a
/// std::span<const T> for T = double and for dual numbers; N is the number of inputs.
/// @throws std::invalid_argument where N differs from the number of inputs.
template <int N, class TemplatedModel>
Propagated propagate_with_derivatives(const InputQuantities& inputs, const TemplatedModel& model) {
  using Dual = ceres::Jet<double, N>;
  if (inputs.size() != static_cast<std::size_t>(N))
    throw std::invalid_argument("the model takes another number of inputs");
  std::array<Dual, N> x;
  for (int i = 0; i < N; ++i) {
    const std::size_t place = static_cast<std::size_t>(i);
    x[place] = Dual(inputs.distribution(place).mean(), i);
  }
  const Dual y = model(std::span<const Dual>(x));
  return propagate(inputs, y.a, std::span<const double>(y.v.data(), static_cast<std::size_t>(N)));
}

}  // namespace scantling
