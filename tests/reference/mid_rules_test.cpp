// Directive 2014/32/EU (MID), annex X (MI-008), chapter I, material measures of length: error limit
// a + b L, L in metres rounded up. The factors were read in the primary text; vectors worked out.

#include <gtest/gtest.h>

#include <array>

#include "verdict/instrument.h"

namespace scantling {
namespace {

struct Row {
  int accuracy_class;
  double length_m, between_marks_mm, from_the_edge_mm;
};

TEST(Mid, ErrorLimitsOfRules) {
  constexpr std::array<Row, 6> kRows{{{1, 0.3, 0.2, 0.3},
                                      {2, 0.3, 0.5, 0.7},
                                      {3, 0.3, 1.0, 1.3},
                                      {1, 2.0, 0.3, 0.4},
                                      {2, 2.0, 0.7, 0.9},
                                      {3, 2.0, 1.4, 1.7}}};
  for (const Row& row : kRows) {
    EXPECT_NEAR(rule_error_mm(row.accuracy_class, row.length_m, false), row.between_marks_mm,
                1e-12);
    EXPECT_NEAR(rule_error_mm(row.accuracy_class, row.length_m, true), row.from_the_edge_mm, 1e-12);
  }
}

TEST(Mid, LengthIsRoundedUp) {
  EXPECT_EQ(rule_error_mm(2, 0.1, false), rule_error_mm(2, 1.0, false));
  EXPECT_NEAR(rule_error_mm(2, 1.001, false), 0.7, 1e-12);
}

}  // namespace
}  // namespace scantling
