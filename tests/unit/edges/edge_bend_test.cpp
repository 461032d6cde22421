#include "edges/edge_bend.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace scantling {
namespace {

/// Blocks every 3 mm over 54 mm about a line of slope 0.02, off it by `off(along)`.
template <class Off>
EdgeFit edge_off_line(Off off) {
  EdgeFit edge;
  edge.valid = true;
  edge.line.valid = true;
  edge.line.height = 12;
  edge.line.slope = 0.02;
  for (double along = -27; along <= 27; along += 3) {
    edge.along_mm.push_back(along);
    edge.across_mm.push_back(edge.line.at(along) + off(along));
  }
  return edge;
}

TEST(EdgeBend, FindsAParabola) {
  const auto bend = edge_bend(edge_off_line([](double x) { return 7e-4 * x * x - 0.2; }));
  ASSERT_TRUE(bend);
  EXPECT_NEAR(bend->bend_per_mm, 7e-4, 1e-12);
  EXPECT_NEAR(bend->standard_uncertainty, 0, 1e-9);
}

TEST(EdgeBend, OfAStraightEdgeIsWithinItsUncertainty) {
  std::mt19937 random(7);
  std::normal_distribution<double> noise(0, 0.02);
  double squares = 0;
  constexpr int kTimes = 400;
  for (int i = 0; i < kTimes; ++i) {
    const auto bend = edge_bend(edge_off_line([&](double) { return noise(random); }));
    squares += std::pow(bend->bend_per_mm / bend->standard_uncertainty, 2);
  }
  // Student t with 16 degrees of freedom has the variance 16 / 14.
  EXPECT_NEAR(squares / kTimes, 16.0 / 14, 0.3);
}

TEST(EdgeBend, LeavesOutWhatIsSomethingElse) {
  const auto bend =
      edge_bend(edge_off_line([](double x) { return std::abs(x - 9) < 1 ? 2.5 : 3e-4 * x * x; }));
  ASSERT_TRUE(bend);
  EXPECT_NEAR(bend->bend_per_mm, 3e-4, 1e-12);
}

TEST(EdgeBend, NeedsFiveBlocks) {
  EdgeFit edge = edge_off_line([](double) { return 0; });
  edge.along_mm.resize(4);
  edge.across_mm.resize(4);
  EXPECT_FALSE(edge_bend(edge));
  edge = edge_off_line([](double) { return 0; });
  edge.valid = false;
  EXPECT_FALSE(edge_bend(edge));
}

}  // namespace
}  // namespace scantling
