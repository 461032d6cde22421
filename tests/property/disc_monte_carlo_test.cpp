// A disc's sizes by first order and by drawing (JCGM 101), one model for both.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "dimension/analysis.h"
#include "dimension/lip_sizes.h"
#include "dimension/worn.h"
#include "support/drawn_disc.h"
#include "support/drawn_file.h"
#include "uncertainty/size_chain.h"

namespace scantling {
namespace {

Measurement measure(const drawn::DrawnDiscScene& scene, View view) {
  PhotoLoad load;
  load.photo = drawn::as_photo(scene.camera, drawn::draw(scene));
  MeasureOptions options;
  options.view = view;
  options.sheet_scale = {scene.declared.scale_x, scene.declared.scale_y, scene.declared.scale_u,
                         true};
  options.part_offset = {scene.declared.offset_mm, scene.declared.offset_u};
  return Analysis::run(std::move(load), options).measurement();
}

/// `apart`: by how much the budget that is shown may state more than the drawn model's first order.
void expect_agreement(const Dimension& d, const char* what, double apart = 0.01) {
  ASSERT_TRUE(d.chain) << what;
  EXPECT_GT(d.chain->inputs().size(), 10u) << what << " is drawn through its photos' own models";
  const Quantity by_chain = d.chain->first_order();
  EXPECT_NEAR(by_chain.value_mm, d.quantity.value_mm, 1e-9) << what;
  const double share = by_chain.standard_uncertainty_mm / d.quantity.standard_uncertainty_mm;
  EXPECT_LT(share, 1.01) << what;
  EXPECT_GT(share, 1 - apart) << what;
  const ChainCheck c = check_by_monte_carlo(*d.chain, 11, 300'000);
  std::printf(
      "%-24s (stated u %.4f) first order u %.4f [%.4f, %.4f]  Monte Carlo u %.4f [%.4f, %.4f]  "
      "ends apart %.4f "
      "%.4f, tolerance %.4f: %s\n",
      what, d.quantity.standard_uncertainty_mm, by_chain.standard_uncertainty_mm,
      c.first_order_95.low, c.first_order_95.high, c.drawn.standard_uncertainty,
      c.drawn.symmetric.low, c.drawn.symmetric.high, c.check.low_apart, c.check.high_apart,
      c.check.tolerance, c.first_order_holds ? "agree" : "first order not used");
  EXPECT_EQ(c.first_order_holds, c.sentence.find("is not used") == std::string::npos);
  // Whatever is said, the two must be near: a wrong model would be far off.
  EXPECT_LT(c.check.low_apart, 0.12 * d.quantity.expanded_95_mm()) << what;
  EXPECT_LT(c.check.high_apart, 0.12 * d.quantity.expanded_95_mm()) << what;
}

TEST(DiscMonteCarlo, AgreesWithFirstOrderOrSaysWhyItIsNotUsed) {
  const Measurement rim =
      measure(drawn::random_rim_scene(3, 3, drawn::Difficulty::easy), View::rim);
  ASSERT_EQ(rim.dimensions.size(), 1u);
  expect_agreement(rim.dimensions[0], "rim");

  std::vector<Measurement> lips;
  for (const drawn::DrawnDiscScene& scene :
       drawn::random_lip_scenes(2, 3, drawn::Difficulty::easy, 2))
    lips.push_back(measure(scene, View::lip));
  for (const Measurement& lip : lips) {
    ASSERT_EQ(lip.dimensions.size(), 1u);
    expect_agreement(lip.dimensions[0], "lip, one photo");
  }
  const Measurement joint = solve_lip_together(lips);
  ASSERT_EQ(joint.dimensions.size(), 2u);
  // The joint budget takes what the photos share by the worse of them, and as a run of the wall,
  // so that it states a little more than the model has.
  expect_agreement(joint.dimensions[0], "lip, two photos", 0.15);
  expect_agreement(joint.dimensions[1], "its wall's run", 0.3);
  const WornThickness worn = worn_thickness(rim, &joint, nullptr);
  ASSERT_TRUE(worn.worn);
  expect_agreement(*worn.worn, "worn, one face assumed", 0.03);
  const WornThickness both = worn_thickness(rim, &joint, &joint);
  ASSERT_TRUE(both.worn);
  expect_agreement(*both.worn, "worn", 0.03);
}

}  // namespace
}  // namespace scantling
