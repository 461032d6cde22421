#include "app/focus_order.h"

#include <gmock/gmock.h>

namespace scantling {
namespace {

using testing::ElementsAre;

constexpr unsigned kLeft = 100, kRight = 200;

struct FocusOrderTest : testing::Test {
  FocusOrderTest() {
    for (const FocusStop& stop : {FocusStop{1, kLeft}, FocusStop{7, kRight}, FocusStop{2, kLeft},
                                  FocusStop{3, kLeft}, FocusStop{2, kLeft}})
      order.add(stop);
  }
  unsigned beside(unsigned panel, unsigned id, int step) const {
    const auto stop = order.beside(panel, id, step);
    return stop ? stop->id : 0;
  }
  FocusOrder order;
};

TEST_F(FocusOrderTest, GoesThroughOnePanelInTheOrderDrawnAndRoundItsEnds) {
  EXPECT_EQ(beside(kLeft, 1, 1), 2u);
  EXPECT_EQ(beside(kLeft, 2, 1), 3u);
  EXPECT_EQ(beside(kLeft, 3, 1), 1u);
  EXPECT_EQ(beside(kLeft, 1, -1), 3u);
  EXPECT_EQ(beside(kRight, 7, 1), 7u);
}

TEST_F(FocusOrderTest, BeginsAtTheEndOneComesFrom) {
  EXPECT_EQ(beside(kLeft, 0, 1), 1u);
  EXPECT_EQ(beside(kLeft, 0, -1), 3u);
  EXPECT_EQ(beside(kLeft, 7, 1), 1u) << "another panel's control";
}

TEST_F(FocusOrderTest, APanelWithoutControlsHasNone) {
  EXPECT_FALSE(order.beside(300, 1, 1));
  EXPECT_THAT(order.panels(), ElementsAre(kLeft, kRight));
  order.clear();
  EXPECT_THAT(order.panels(), ElementsAre());
}

}  // namespace
}  // namespace scantling
