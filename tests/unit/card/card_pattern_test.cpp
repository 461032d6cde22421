#include "card/card_pattern.h"

#include <gtest/gtest.h>

#include <cmath>

#include "card/draw_card.h"
#include "print/document.h"

namespace scantling {
namespace {

TEST(CardPattern, SaysWhatTheDrawingShows) {
  constexpr double kPx_per_mm = 16;
  for (const CardDefinition* card :
       {&notch_card(), &track_card(), &track_card_b(), &ground_sheet()}) {
    Document document({card->name, "", ""});
    const double margin = card->margin_mm;
    const double width = card->columns * card->square_mm, height = card->rows * card->square_mm;
    Page& page = document.add_page({width + 2 * margin, height + 2 * margin});
    draw_card(page, {margin, margin}, *card);
    const cv::Mat seen = document.picture(0, kPx_per_mm * 25.4);
    const CardPattern pattern(*card);
    int black = 0, white = 0;
    // A prime step, so that places fall everywhere in the cells.
    for (double y = -margin + 0.1; y < height + margin - 0.1; y += 0.37) {
      for (double x = -margin + 0.1; x < width + margin - 0.1; x += 0.37) {
        const PrintedTone tone = pattern.around({x, y}, 0.08);
        if (tone == PrintedTone::none) continue;
        const int grey = seen.at<cv::Vec3b>(static_cast<int>((y + margin) * kPx_per_mm),
                                            static_cast<int>((x + margin) * kPx_per_mm))[0];
        ASSERT_EQ(tone == PrintedTone::white, grey > 127) << card->name << " " << x << " " << y;
        ++(tone == PrintedTone::white ? white : black);
      }
    }
    EXPECT_GT(black, 500) << card->name;
    EXPECT_GT(white, 500) << card->name;
  }
}

TEST(CardPattern, KnowsWhereThereIsNothing) {
  const CardPattern pattern(notch_card());
  EXPECT_EQ(pattern.at({64, 50}), PrintedTone::none) << "in the notch";
  EXPECT_EQ(pattern.at({-7, 10}), PrintedTone::none) << "off the sheet";
  EXPECT_EQ(pattern.at({-5, 10}), PrintedTone::white) << "in the margin";
  EXPECT_EQ(pattern.at({4, 4}), PrintedTone::black);
  EXPECT_EQ(pattern.at({std::nan(""), 4}), PrintedTone::none);
}

TEST(CardPattern, AroundSeesAChangeNearby) {
  const CardPattern pattern(ground_sheet());
  EXPECT_EQ(pattern.around({7.5, 7.5}, 7), PrintedTone::black);
  EXPECT_EQ(pattern.around({14.5, 7.5}, 0.4), PrintedTone::black);
  EXPECT_EQ(pattern.around({14.5, 7.5}, 0.6), PrintedTone::none);
}

}  // namespace
}  // namespace scantling
