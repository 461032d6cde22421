#include "card/sheet_layout.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

namespace scantling {
namespace {

struct Area {
  std::string what;
  std::size_t page;
  PageBox box;
};

PageBox round_points(const std::vector<PagePoint>& points) {
  PagePoint low = points[0], high = points[0];
  for (const PagePoint& p : points) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  return {low.x, low.y, high.x - low.x, high.y - low.y};
}

/// Everything that must keep clear of everything else, the cards with their white margins.
std::vector<Area> areas(const SheetLayout& layout) {
  std::vector<Area> all{{"title", 0, layout.title},
                        {"form", 0, layout.form},
                        {"instructions", 0, layout.instructions},
                        {"ground title", 1, layout.ground_title}};
  for (const PlacedCard& placed : layout.cards) {
    const Rectangle_mm& sheet = placed.card->sheet;
    all.push_back({placed.card->name,
                   placed.page,
                   {placed.origin.x + sheet.x_min, placed.origin.y + sheet.y_min,
                    sheet.x_max - sheet.x_min, sheet.y_max - sheet.y_min}});
  }
  for (const CheckBar& bar : layout.bars) {
    // Ticks reach 2.5 mm to both sides.
    const PagePoint end = bar.at(bar.length_mm);
    const double across = bar.along_x ? 0 : 2.5, along = bar.along_x ? 2.5 : 0;
    all.push_back({bar.along_x ? "x bar" : "y bar", bar.page,
                   round_points({{bar.start.x - across, bar.start.y - along},
                                 {end.x + across, end.y + along}})});
  }
  for (const StandFin& fin : layout.fins)
    all.push_back({std::string(fin.words) + " fin", 0, round_points(fin.outline)});
  return all;
}

class SheetLayoutTest : public ::testing::TestWithParam<Paper> {
 protected:
  const SheetLayout layout = sheet_layout(GetParam());
};

TEST_P(SheetLayoutTest, KeepsFiveMillimetresFromThePaperEdge) {
  for (const Area& area : areas(layout)) {
    const PageSize size = layout.pages[area.page];
    // The white round the ground sheet's squares needs no ink.
    const double edge = area.what == "ground" ? 5 - ground_sheet().margin_mm : 5;
    EXPECT_GE(area.box.x, edge) << area.what;
    EXPECT_GE(area.box.y, edge) << area.what;
    EXPECT_LE(area.box.right(), size.width_mm - edge) << area.what;
    EXPECT_LE(area.box.bottom(), size.height_mm - edge) << area.what;
  }
}

TEST_P(SheetLayoutTest, NothingOverlaps) {
  const std::vector<Area> all = areas(layout);
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t j = i + 1; j < all.size(); ++j) {
      if (all[i].page != all[j].page) continue;
      const PageBox &a = all[i].box, &b = all[j].box;
      const bool apart = a.right() <= b.x + 1e-9 || b.right() <= a.x + 1e-9 ||
                         a.bottom() <= b.y + 1e-9 || b.bottom() <= a.y + 1e-9;
      EXPECT_TRUE(apart) << all[i].what << " and " << all[j].what;
    }
  }
}

TEST_P(SheetLayoutTest, HoldsTheFourPiecesOnce) {
  ASSERT_EQ(layout.pages.size(), 2u);
  ASSERT_EQ(layout.cards.size(), 4u);
  const auto page_of = [&](const CardDefinition& card) {
    const auto found = std::find_if(layout.cards.begin(), layout.cards.end(),
                                    [&](const PlacedCard& p) { return p.card == &card; });
    return found == layout.cards.end() ? 99u : found->page;
  };
  EXPECT_EQ(page_of(notch_card()), 0u);
  EXPECT_EQ(page_of(track_card()), 0u);
  EXPECT_EQ(page_of(track_card_b()), 0u);
  EXPECT_EQ(page_of(ground_sheet()), 1u);
}

TEST_P(SheetLayoutTest, EachPageHasALongBarBothWays) {
  for (std::size_t page = 0; page < 2; ++page) {
    for (const bool along_x : {true, false}) {
      const auto bar = std::find_if(layout.bars.begin(), layout.bars.end(), [&](const CheckBar& b) {
        return b.page == page && b.along_x == along_x;
      });
      ASSERT_NE(bar, layout.bars.end());
      EXPECT_GE(bar->length_mm, 180);
      EXPECT_LT(bar->inner_mm, 150) << "must be within a 150 mm calliper";
      EXPECT_GT(bar->inner_mm, 100);
    }
  }
}

TEST_P(SheetLayoutTest, AFinStandsTheCardSquareAndClearOfTheTable) {
  ASSERT_EQ(layout.fins.size(), 2u);
  for (const StandFin& fin : layout.fins) {
    const PagePoint fold{fin.fold_foot.x - fin.fold_top.x, fin.fold_foot.y - fin.fold_top.y};
    const PagePoint foot{fin.foot_end.x - fin.fold_foot.x, fin.foot_end.y - fin.fold_foot.y};
    EXPECT_NEAR(fold.x * foot.x + fold.y * foot.y, 0, 1e-9) << "foot square to fold";
    EXPECT_GT(std::abs(foot.x), 30);
    EXPECT_LT(fold.y, notch_card().sheet.y_max - notch_card().sheet.y_min);
    double lowest_of_strip = 0, widest = 0;
    for (const PagePoint& p : fin.glue_strip) {
      lowest_of_strip = std::max(lowest_of_strip, p.y);
      widest = std::max(widest, std::abs(p.x - fin.fold_top.x));
    }
    EXPECT_LT(lowest_of_strip, fin.fold_foot.y - 1) << "only the foot may touch the table";
    // The strip must not reach into the notch.
    EXPECT_LT(widest, notch_card().notch->x_min - notch_card().sheet.x_min);
  }
  EXPECT_LT((layout.fins[0].foot_end.x - layout.fins[0].fold_foot.x) *
                (layout.fins[1].foot_end.x - layout.fins[1].fold_foot.x),
            0)
      << "one is the mirror image of the other";
}

INSTANTIATE_TEST_SUITE_P(Paper, SheetLayoutTest, ::testing::Values(Paper::a4, Paper::letter),
                         [](const auto& one) { return one.param == Paper::a4 ? "A4" : "Letter"; });

TEST(PaperNamed, KnowsTwoPapersInAnyCase) {
  EXPECT_EQ(paper_named("a4"), Paper::a4);
  EXPECT_EQ(paper_named("A4"), Paper::a4);
  EXPECT_EQ(paper_named("Letter"), Paper::letter);
  EXPECT_FALSE(paper_named("a5"));
  EXPECT_FALSE(paper_named(""));
  EXPECT_FALSE(paper_named("a4 "));
}

}  // namespace
}  // namespace scantling
