// A few fixed drawn discs through the whole engine: sizes must be right, or the program must ask.

#include <gtest/gtest.h>

#include <cmath>

#include "accuracy/disc_trial.h"

namespace scantling::accuracy {
namespace {

void expect_right_or_asked(const DiscTrial& trial, double usual_mm) {
  for (std::size_t k = 0; k < trial.sizes.size(); ++k) {
    const SizeTrial& size = trial.sizes[k];
    ASSERT_TRUE(size.found) << size.name;
    EXPECT_GT(size.standard_uncertainty_mm, 0.005) << size.name;
    if (trial.flagged[k]) continue;
    const double error = std::abs(size.error_mm());
    EXPECT_LE(error, 1.5 * size.expanded_95_mm)
        << size.name << ' ' << size.value_mm << ", true " << size.truth_mm;
    EXPECT_LE(error, usual_mm) << size.name << ' ' << size.value_mm << ", true " << size.truth_mm;
  }
}

class RimAccuracy : public testing::TestWithParam<unsigned> {};
TEST_P(RimAccuracy, IsWithinItsIntervalOrAsksToLook) {
  expect_right_or_asked(run_rim_trial(GetParam(), 2.5, drawn::Difficulty::easy), 0.6);
}
INSTANTIATE_TEST_SUITE_P(Seed, RimAccuracy, testing::Values(1u, 2u, 3u, 4u, 5u));

class LipAccuracy : public testing::TestWithParam<unsigned> {};
TEST_P(LipAccuracy, IsWithinItsIntervalOrAsksToLook) {
  expect_right_or_asked(run_lip_trial(GetParam(), 2.5, drawn::Difficulty::easy), 0.3);
}
INSTANTIATE_TEST_SUITE_P(Seed, LipAccuracy, testing::Values(1u, 2u, 3u));

}  // namespace
}  // namespace scantling::accuracy
