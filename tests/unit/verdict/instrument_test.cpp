#include "verdict/instrument.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

namespace scantling {
namespace {

TEST(Instrument, HasTheErrorLimitOfItsStandard) {
  const Instrument& micrometer = *instrument_named("micrometer");
  EXPECT_DOUBLE_EQ(permissible_error_mm(micrometer, 22), 0.004);
  EXPECT_DOUBLE_EQ(permissible_error_mm(micrometer, 50.01), 0.005);
  EXPECT_DOUBLE_EQ(permissible_error_mm(micrometer, 299), 0.009);
  EXPECT_DOUBLE_EQ(permissible_error_mm(*instrument_named("digital calliper"), 22), 0.020);
  EXPECT_DOUBLE_EQ(permissible_error_mm(*instrument_named("digital calliper"), 150), 0.030);
  EXPECT_DOUBLE_EQ(permissible_error_mm(*instrument_named("vernier calliper, 0.05 mm"), 22), 0.050);
  EXPECT_NEAR(permissible_error_mm(*instrument_named("steel rule"), 22), 0.7, 1e-12);
  EXPECT_EQ(instrument_named("laser"), nullptr);
}

TEST(Instrument, IsNeverBelievedBelowItsFloor) {
  EXPECT_DOUBLE_EQ(standard_uncertainty_mm(*instrument_named("micrometer"), 22), 0.01);
  EXPECT_DOUBLE_EQ(standard_uncertainty_mm(*instrument_named("digital calliper"), 22), 0.03);
}

TEST(Instrument, CombinesErrorLimitAndStepWhereTheyExceedTheFloor) {
  // 0.05 vernier: sqrt(28.87^2 + 14.43^2) um = 32.3 um.
  EXPECT_NEAR(standard_uncertainty_mm(*instrument_named("vernier calliper, 0.05 mm"), 22), 0.03227,
              1e-5);
  EXPECT_NEAR(standard_uncertainty_mm(*instrument_named("steel rule"), 22),
              std::hypot(0.7, 0.25) / std::sqrt(3.0), 1e-12);
}

TEST(Instrument, RefusesARuleClassThatDoesNotExist) {
  EXPECT_THROW(rule_error_mm(0, 0.1, false), std::invalid_argument);
  EXPECT_THROW(rule_error_mm(4, 0.1, false), std::invalid_argument);
  EXPECT_THROW(rule_error_mm(1, -0.1, false), std::invalid_argument);
}

}  // namespace
}  // namespace scantling
