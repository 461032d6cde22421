// Common practice, worked examples as trade texts give them.

#include <gtest/gtest.h>

#include <cstdio>
#include <vector>

#include "uncertainty/propagation.h"
#include "verdict/forecast.h"

namespace scantling {
namespace {

// A pad of 11.4 mm overall on a 6.4 mm plate has 5.0 mm of friction material left.
TEST(CommonPractice, FrictionMaterialIsOverallLessPlate) {
  InputQuantities inputs;
  inputs.add("overall", Distribution::normal(11.4, 0.03));
  inputs.add("plate", Distribution::normal(6.4, 0.03));
  const Model friction = [](std::span<const double> x) { return x[0] - x[1]; };
  std::printf("11.4 mm overall on a 6.4 mm plate: %.1f mm left\n",
              propagate(inputs, friction).value);
  EXPECT_NEAR(propagate(inputs, friction).value, 5.0, 1e-12);
  EXPECT_NEAR(propagate(inputs, friction).standard_uncertainty, 0.0424264, 1e-7);
  // One sheet's scale moves both alike: what they share cancels in the difference.
  inputs.correlate(0, 1, 1);
  EXPECT_NEAR(propagate(inputs, friction).standard_uncertainty, 0, 1e-9);
}

// A disc from 26.2 mm to 23.1 mm in 80 000 km wears 0.039 mm per 1 000 km.
TEST(CommonPractice, WearOfADisc) {
  const std::vector<WearPoint> points{{0, 26.2, 0.01}, {80'000, 23.1, 0.01}};
  std::printf("26.2 to 23.1 mm in 80 000 km: %.3f mm per 1 000 km\n",
              forecast_wear(points, 22).wear_mm_per_1000_km);
  EXPECT_NEAR(forecast_wear(points, 22).wear_mm_per_1000_km, 0.039, 0.0005);
}

}  // namespace
}  // namespace scantling
