// Student t quantiles. Worked out elsewhere; agree to the digits shown there with the table of
// upper critical values in the NIST/SEMATECH e-Handbook, 1.3.6.7.2.

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "uncertainty/coverage.h"
#include "uncertainty/quantity.h"

namespace scantling {
namespace {

struct Row {
  double nu, t95, t975, t99, t995, k9545;
};

constexpr std::array<Row, 19> kRows{{
    {1, 6.313752, 12.706205, 31.820516, 63.656741, 13.9678},
    {2, 2.919986, 4.302653, 6.964557, 9.924843, 4.5266},
    {3, 2.353363, 3.182446, 4.540703, 5.840909, 3.3068},
    {4, 2.131847, 2.776445, 3.746947, 4.604095, 2.8693},
    {5, 2.015048, 2.570582, 3.364930, 4.032143, 2.6487},
    {6, 1.943180, 2.446912, 3.142668, 3.707428, 2.5165},
    {7, 1.894579, 2.364624, 2.997952, 3.499483, 2.4288},
    {8, 1.859548, 2.306004, 2.896459, 3.355387, 2.3664},
    {9, 1.833113, 2.262157, 2.821438, 3.249836, 2.3198},
    {10, 1.812461, 2.228139, 2.763769, 3.169273, 2.2837},
    {12, 1.782288, 2.178813, 2.680998, 3.054540, 2.2314},
    {15, 1.753050, 2.131450, 2.602480, 2.946713, 2.1812},
    {16, 1.745884, 2.119905, 2.583487, 2.920782, 2.1689},
    {20, 1.724718, 2.085963, 2.527977, 2.845340, 2.1330},
    {25, 1.708141, 2.059539, 2.485107, 2.787436, 2.1051},
    {30, 1.697261, 2.042272, 2.457262, 2.749996, 2.0868},
    {50, 1.675905, 2.008559, 2.403272, 2.677793, 2.0513},
    {100, 1.660234, 1.983972, 2.364217, 2.625891, 2.0253},
    {kUnlimitedDegreesOfFreedom, 1.644854, 1.959964, 2.326348, 2.575829, 2.0000},
}};

TEST(TTable, Quantiles) {
  for (const Row& row : kRows) {
    EXPECT_NEAR(t_quantile(0.95, row.nu), row.t95, 1e-6) << row.nu;
    EXPECT_NEAR(t_quantile(0.975, row.nu), row.t975, 1e-6) << row.nu;
    EXPECT_NEAR(t_quantile(0.99, row.nu), row.t99, 1e-6) << row.nu;
    EXPECT_NEAR(t_quantile(0.995, row.nu), row.t995, 1e-6) << row.nu;
    EXPECT_NEAR(coverage_factor(0.9545, row.nu), row.k9545, 1e-4) << row.nu;
    EXPECT_NEAR(t_probability_below(row.t99, row.nu), 0.99, 1e-7) << row.nu;
  }
}

TEST(TTable, ClosedForms) {
  for (const double p : {0.6, 0.9, 0.975, 0.9995}) {
    EXPECT_NEAR(t_quantile(p, 1) / std::tan(std::numbers::pi * (p - 0.5)), 1, 1e-9);
    EXPECT_NEAR(t_quantile(p, 2) / ((2 * p - 1) * std::sqrt(2 / (4 * p * (1 - p)))), 1, 1e-9);
  }
}

TEST(TTable, ExpandedUncertaintyOfAQuantity) {
  EXPECT_NEAR((Quantity{22, 0.05, 9.7, {}}.expanded_95_mm()), 2.262157 * 0.05, 1e-7);
  EXPECT_NEAR((Quantity{22, 0.05, kUnlimitedDegreesOfFreedom, {}}.expanded_95_mm()), 0.0979982,
              1e-7);
}

TEST(TTable, RefusesWhatIsNoProbability) {
  EXPECT_THROW(t_quantile(0, 5), std::invalid_argument);
  EXPECT_THROW(t_quantile(1, 5), std::invalid_argument);
  EXPECT_THROW(t_quantile(0.5, 0), std::invalid_argument);
  EXPECT_THROW(t_quantile(0.5, std::nan("")), std::invalid_argument);
  EXPECT_THROW(trapezoid_coverage_factor(0.95, 1.1), std::invalid_argument);
}

}  // namespace
}  // namespace scantling
