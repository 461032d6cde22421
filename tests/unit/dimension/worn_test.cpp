#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "dimension/worn.h"

namespace scantling {
namespace {

Measurement with(View view, const char* name, double value_mm, double own_u_mm, double scale_u_mm) {
  Measurement m;
  m.view = view;
  Dimension d;
  d.name = name;
  d.quantity = combine_independent(value_mm, {{"placing the edge", own_u_mm, 30, ""},
                                              {"print scale of the sheet", scale_u_mm, 1e9, ""}});
  d.confidence = 0.9;
  m.dimensions.push_back(d);
  return m;
}

TEST(Worn, IsTheRimLessBothLips) {
  const Measurement rim = with(View::rim, "rim_thickness", 22.0, 0.04, 0.05);
  const Measurement out = with(View::lip, "lip_height", 0.6, 0.03, 0.002);
  const Measurement in = with(View::lip, "lip_height", 0.9, 0.03, 0.003);
  const WornThickness worn = worn_thickness(rim, &out, &in);
  ASSERT_TRUE(worn.worn);
  EXPECT_NEAR(worn.worn->quantity.value_mm, 20.5, 1e-9);
  EXPECT_FALSE(worn.one_face_assumed);
  // The scale's errors are one and the same: they subtract. Own errors add in squares, and the
  // clock position's 0.05 with them.
  EXPECT_NEAR(worn.worn->quantity.standard_uncertainty_mm,
              std::sqrt(0.04 * 0.04 + 2 * 0.03 * 0.03 + 0.045 * 0.045 + 0.05 * 0.05), 1e-6);
  EXPECT_EQ(worn.lip_out->name, "lip_height_out");
  EXPECT_EQ(worn.lip_in->name, "lip_height_in");
}

TEST(Worn, AMissingFaceWidensVisibly) {
  const Measurement rim = with(View::rim, "rim_thickness", 22.0, 0.04, 0.05);
  const Measurement out = with(View::lip, "lip_height", 0.6, 0.03, 0.002);
  const Measurement in = with(View::lip, "lip_height", 0.6, 0.03, 0.002);
  const WornThickness both = worn_thickness(rim, &out, &in);
  const WornThickness one = worn_thickness(rim, &out, nullptr);
  ASSERT_TRUE(one.worn);
  EXPECT_TRUE(one.one_face_assumed);
  EXPECT_NEAR(one.worn->quantity.value_mm, both.worn->quantity.value_mm, 1e-9);
  EXPECT_GT(one.worn->quantity.standard_uncertainty_mm,
            3 * both.worn->quantity.standard_uncertainty_mm);
  ASSERT_EQ(one.checks.size(), 1u);
  EXPECT_EQ(one.checks[0].id, "one_face_assumed");
}

// T = rim - 2 h: the known lip's error is in it twice, the same error both times.
TEST(Worn, AnAssumedFaceTakesTheKnownLipsErrorTwice) {
  const Measurement rim = with(View::rim, "rim_thickness", 22.0, 0.04, 0.05);
  const Measurement out = with(View::lip, "lip_height", 0.6, 0.2, 0.002);
  const Quantity worn = worn_thickness(rim, &out, nullptr).worn->quantity;
  const auto line = [&](const std::string& source) {
    for (const BudgetLine& l : worn.budget)
      if (l.source == source) return l.standard_uncertainty_mm;
    return 0.0;
  };
  EXPECT_NEAR(worn.value_mm, 20.8, 1e-9);
  EXPECT_NEAR(line("outboard lip: placing the edge"), 0.4, 1e-9);
  EXPECT_NEAR(line("print scale of the sheet"), 0.05 - 2 * 0.002, 1e-9);
  const double allowance = std::hypot(0.15, 0.6 * 0.6);
  EXPECT_NEAR(line("inboard lip, taken to be like the other"), allowance, 1e-9);
  EXPECT_NEAR(
      worn.standard_uncertainty_mm,
      std::sqrt(0.04 * 0.04 + 0.4 * 0.4 + 0.046 * 0.046 + 0.05 * 0.05 + allowance * allowance),
      1e-9);
}

TEST(Worn, TheRimAloneIsNoWornThickness) {
  const Measurement rim = with(View::rim, "rim_thickness", 22.0, 0.04, 0.05);
  const WornThickness worn = worn_thickness(rim, nullptr, nullptr);
  EXPECT_FALSE(worn.worn);
  EXPECT_TRUE(worn.rim);
  EXPECT_TRUE(any_stop(worn.checks));
  const Measurement nothing;
  EXPECT_FALSE(worn_thickness(nothing, &rim, &rim).worn);
}

}  // namespace
}  // namespace scantling
