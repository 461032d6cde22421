// The pad view's whole chain by Monte Carlo (JCGM 101) beside its first-order budget, on drawn
// photos: corners and pose by their covariance, edges, depths, offset and scale drawn through the
// same model.

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <cstdio>

#include "accuracy/accuracy_trial.h"
#include "support/drawn_file.h"
#include "uncertainty/size_chain.h"

namespace scantling::accuracy {
namespace {

class PadMonteCarlo : public testing::TestWithParam<unsigned> {};

TEST_P(PadMonteCarlo, AgreesWithFirstOrderOrSaysWhyItIsNotUsed) {
  const drawn::DrawnScene scene = drawn::random_scene(GetParam(), 4, drawn::Difficulty::easy);
  PhotoLoad load;
  load.photo = drawn::as_photo(scene, drawn::draw(scene));
  const Measurement m = Analysis::run(std::move(load), options_for(scene)).measurement();
  ASSERT_EQ(m.dimensions.size(), 4u);
  for (const Dimension& d : m.dimensions) {
    ASSERT_TRUE(d.chain) << d.name;
    // One model: the chain's own first order is the budget that is shown.
    const Quantity by_chain = d.chain->first_order();
    EXPECT_NEAR(by_chain.value_mm, d.quantity.value_mm, 1e-9) << d.name;
    EXPECT_NEAR(by_chain.standard_uncertainty_mm / d.quantity.standard_uncertainty_mm, 1, 0.002)
        << d.name;
    EXPECT_EQ(by_chain.budget.front().source, d.quantity.budget.front().source) << d.name;

    const auto start = std::chrono::steady_clock::now();
    const ChainCheck c = check_by_monte_carlo(*d.chain, 7);
    const double seconds =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    std::printf(
        "seed %2u %-20s first order u %.4f [%.4f, %.4f]  Monte Carlo u %.4f [%.4f, %.4f]  ends "
        "apart %.4f %.4f, tolerance %.4f: %s (%zu draws, %.1f s)\n",
        GetParam(), d.name.c_str(), by_chain.standard_uncertainty_mm, c.first_order_95.low,
        c.first_order_95.high, c.drawn.standard_uncertainty, c.drawn.symmetric.low,
        c.drawn.symmetric.high, c.check.low_apart, c.check.high_apart, c.check.tolerance,
        c.first_order_holds ? "agree" : "first order not used", c.drawn.trials, seconds);
    EXPECT_EQ(c.first_order_holds, c.check.agrees);
    EXPECT_EQ(c.first_order_holds, c.sentence.find("is not used") == std::string::npos);
    // Whatever is said, the two must be near: a wrong model would be far off.
    EXPECT_LT(c.check.low_apart, 0.10 * d.quantity.expanded_95_mm()) << d.name;
    EXPECT_LT(c.check.high_apart, 0.10 * d.quantity.expanded_95_mm()) << d.name;
  }
}

INSTANTIATE_TEST_SUITE_P(Seed, PadMonteCarlo, testing::Values(1u, 4u, 9u));

}  // namespace
}  // namespace scantling::accuracy
