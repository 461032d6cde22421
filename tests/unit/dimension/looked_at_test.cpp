// What changes once somebody has looked at a rim's edges, on a drawn photo.

#include "dimension/looked_at.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "dimension/analysis.h"
#include "dimension/better_input.h"
#include "dimension/size_budget.h"
#include "support/drawn_disc.h"
#include "support/drawn_file.h"
#include "uncertainty/size_chain.h"

namespace scantling {
namespace {

const Analysis& rim() {
  static const Analysis analysis = [] {
    const drawn::DrawnDiscScene scene = drawn::random_rim_scene(3, 3, drawn::Difficulty::easy);
    PhotoLoad load;
    load.photo = drawn::as_photo(scene.camera, drawn::draw(scene));
    MeasureOptions options;
    options.view = View::rim;
    return Analysis::run(std::move(load), options);
  }();
  return analysis;
}

const Quantity& thickness(const Measurement& measurement) {
  return measurement.dimension("rim_thickness")->quantity;
}

double line_mm(const Quantity& size, const std::string& source) {
  for (const BudgetLine& line : size.budget)
    if (line.source == source) return line.standard_uncertainty_mm;
  return 0;
}

const std::vector<std::string> kBoth{"face_a", "face_b"};

TEST(LookedAt, OnlyTheEdgesThatWereLookedAtAreSurer) {
  const Measurement& found = rim().measurement();
  ASSERT_TRUE(found.usable());
  ASSERT_GT(line_mm(thickness(found), mistaken_source("face_a")), 0.05);
  ASSERT_GT(line_mm(thickness(found), mistaken_source("face_b")), 0.05);
  const Measurement one = looked_at(found, std::vector<std::string>{"face_a"});
  EXPECT_EQ(line_mm(thickness(one), mistaken_source("face_a")), 0);
  EXPECT_EQ(line_mm(thickness(one), mistaken_source("face_b")),
            line_mm(thickness(found), mistaken_source("face_b")));
  const Measurement both = looked_at(found, kBoth);
  EXPECT_LT(thickness(both).standard_uncertainty_mm, thickness(one).standard_uncertainty_mm);
  EXPECT_LT(thickness(one).standard_uncertainty_mm, thickness(found).standard_uncertainty_mm);
  EXPECT_EQ(thickness(both).value_mm, thickness(found).value_mm);
  EXPECT_EQ(both.edge("face_a")->points_px.front().y, found.edge("face_a")->points_px.front().y);
}

TEST(LookedAt, IsWhatLookingWasForetoldToBring) {
  const Measurement& found = rim().measurement();
  EXPECT_DOUBLE_EQ(thickness(looked_at(found, kBoth)).standard_uncertainty_mm,
                   with_better_input(thickness(found), kEdgesLookedAt).standard_uncertainty_mm);
}

// Two ways to say the same: confirm the lines, or put them by hand where they are.
TEST(LookedAt, IsWhatPlacingTheSameLinesByHandGives) {
  const Measurement& found = rim().measurement();
  std::vector<MovedEdge> moved;
  for (const MeasuredEdge& edge : found.edges)
    moved.push_back({edge.name, {edge.points_px.front(), edge.points_px.back()}});
  const Measurement placed = rim().with_edges(moved);
  EXPECT_NEAR(thickness(placed).value_mm, thickness(found).value_mm, 1e-9);
  EXPECT_NEAR(thickness(placed).standard_uncertainty_mm,
              thickness(looked_at(found, kBoth)).standard_uncertainty_mm, 1e-9);
}

TEST(LookedAt, TheChainForMonteCarloFollows) {
  const Measurement both = looked_at(rim().measurement(), kBoth);
  const Dimension& size = *both.dimension("rim_thickness");
  ASSERT_TRUE(size.chain);
  const Quantity by_chain = size.chain->first_order();
  EXPECT_NEAR(by_chain.value_mm, size.quantity.value_mm, 1e-9);
  EXPECT_NEAR(by_chain.standard_uncertainty_mm / size.quantity.standard_uncertainty_mm, 1, 0.02);
  for (const std::string& edge : kBoth) EXPECT_EQ(line_mm(by_chain, mistaken_source(edge)), 0);
}

TEST(LookedAt, ASecondLookAndOtherEdgesChangeNothing) {
  const Measurement both = looked_at(rim().measurement(), kBoth);
  EXPECT_EQ(thickness(looked_at(both, kBoth)).standard_uncertainty_mm,
            thickness(both).standard_uncertainty_mm);
  EXPECT_EQ(thickness(looked_at(rim().measurement(), std::vector<std::string>{"plate_outer"}))
                .standard_uncertainty_mm,
            thickness(rim().measurement()).standard_uncertainty_mm);
}

}  // namespace
}  // namespace scantling
