#pragma once

#include <cmath>
#include <vector>

namespace scantling {

/// What pixels one sample wide record of a step at `place`, blurred by a Gaussian: the exact mean
/// over each pixel of Phi((x - place) / blur).
inline double pixel_of_step(double x, double place, double blur) {
  const auto integral = [blur](double d) {
    const double z = d / blur;
    return d * 0.5 * std::erfc(-z * M_SQRT1_2) + blur * 0.3989422804014327 * std::exp(-z * z / 2);
  };
  return integral(x + 0.5 - place) - integral(x - 0.5 - place);
}

inline std::vector<float> step_profile(int size, double place, double blur, double low,
                                       double high) {
  std::vector<float> values;
  for (int i = 0; i < size; ++i)
    values.push_back(static_cast<float>(low + (high - low) * pixel_of_step(i, place, blur)));
  return values;
}

}  // namespace scantling
