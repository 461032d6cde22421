// A few fixed drawn pads through the whole engine: sizes must be right, or the program must ask.

#include <gtest/gtest.h>

#include <cmath>

#include "accuracy/accuracy_trial.h"

namespace scantling::accuracy {
namespace {

class PadAccuracy : public testing::TestWithParam<unsigned> {};

TEST_P(PadAccuracy, IsWithinItsIntervalOrAsksToLook) {
  const Trial trial = run_trial(drawn::random_scene(GetParam(), 4, drawn::Difficulty::easy));
  ASSERT_FALSE(trial.stopped());
  ASSERT_EQ(trial.sizes.size(), 4u);
  for (const SizeTrial& size : trial.sizes) {
    ASSERT_TRUE(size.found) << size.name;
    EXPECT_GT(size.standard_uncertainty_mm, 0.005) << size.name;
    if (trial.flagged()) continue;
    EXPECT_LT(size.expanded_95_mm, 0.8) << size.name;
    const double error = std::abs(size.error_mm());
    EXPECT_LE(error, 1.5 * size.expanded_95_mm)
        << size.name << ' ' << size.value_mm << ", true " << size.truth_mm;
    // The plate's two broken edges leave more open than the friction material's one.
    EXPECT_LE(error, size.name.starts_with("friction") ? 0.25 : 0.5)
        << size.name << ' ' << size.value_mm << ", true " << size.truth_mm;
  }
}

INSTANTIATE_TEST_SUITE_P(Seed, PadAccuracy,
                         testing::Values(1u, 2u, 3u, 4u, 5u, 6u, 7u, 8u, 9u, 10u, 11u, 12u));

// A worn pad from above: its outer edge hardly shows and the line taken for it is the pad's far
// side, in front of a striped background in which a far side of its own is always found. It would
// pass 2.2 mm for 11.3 mm.
TEST(PadFarSide, AmongStripesAsksToLook) {
  const Trial trial = run_trial(drawn::random_scene(1018, 4, drawn::Difficulty::hard));
  ASSERT_FALSE(trial.stopped());
  for (const SizeTrial& size : trial.sizes)
    if (size.name == "friction_thickness" &&
        std::abs(size.error_mm()) > 1.5 * size.expanded_95_mm) {
      EXPECT_TRUE(trial.flagged());
      EXPECT_LT(size.confidence, kConfirmBelow);
    }
}

}  // namespace
}  // namespace scantling::accuracy
