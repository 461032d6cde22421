// What comes out of the printer: the drawn sheets are rendered and measured like photos.

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <iterator>
#include <map>
#include <opencv2/core.hpp>
#include <sstream>

#include "card/card_sighting.h"
#include "card/draw_sheet.h"
#include "support/rendered_pdf.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

constexpr double kDpi = 600;
constexpr double kPx_per_mm = kDpi / 25.4;

cv::Mat luma_of(const cv::Mat& rgb) {
  cv::Mat luma;
  cv::transform(rgb, luma, cv::Matx13f(0.299f, 0.587f, 0.114f));
  return luma;
}

/// Finds every card and compares each of its corners with its place in the layout.
void expect_corners_in_place(const SheetLayout& layout, const std::vector<cv::Mat>& pages,
                             const std::string& source) {
  for (const PlacedCard& placed : layout.cards) {
    SCOPED_TRACE(source + ", " + placed.card->name);
    const CardSearch search = find_card(pages[placed.page], *placed.card);
    ASSERT_TRUE(search.sighting);
    EXPECT_FALSE(any_stop(search.checks));
    std::size_t present = 0;
    for (const CardCorner& corner : placed.card->corners)
      present += corner.state == CutState::present;
    EXPECT_EQ(search.sighting->corners.size(), present);
    double worst_mm = 0;
    for (const SightedCorner& corner : search.sighting->corners) {
      const double x_mm = (corner.photo_px.x + 0.5) / kPx_per_mm;
      const double y_mm = (corner.photo_px.y + 0.5) / kPx_per_mm;
      worst_mm = std::max(worst_mm, std::hypot(x_mm - placed.origin.x - corner.card_mm.x,
                                               y_mm - placed.origin.y - corner.card_mm.y));
    }
    EXPECT_LT(worst_mm, 0.02);
  }
}

std::string committed(Paper paper) {
  return std::string(SCANTLING_SOURCE_DIR) + "/assets/sheets/scantling-cards-" +
         (paper == Paper::a4 ? "a4" : "letter") + ".pdf";
}

std::vector<cv::Mat> rendered_pages(const std::string& pdf) {
  return {rendered_pdf(pdf, 1, kDpi), rendered_pdf(pdf, 2, kDpi)};
}

std::map<std::string, int> words_of(const std::string& pdf) {
  std::istringstream text(run_program({"pdftotext", pdf, "-"}).output);
  std::map<std::string, int> words;
  for (std::string word; text >> word;) ++words[word];
  return words;
}

class DrawnSheet : public ::testing::TestWithParam<Paper> {
 protected:
  const SheetLayout layout = sheet_layout(GetParam());
};

TEST_P(DrawnSheet, EveryCornerIsInPlaceOnTheDrawing) {
  const Document sheet = draw_sheet(GetParam());
  expect_corners_in_place(
      layout, {luma_of(sheet.picture(0, kDpi)), luma_of(sheet.picture(1, kDpi))}, "drawing");
}

TEST_P(DrawnSheet, EveryCornerIsInPlaceInThePdf) {
  const TemporaryFolder folder;
  const std::string path = (folder / "sheet.pdf").string();
  draw_sheet(GetParam()).save_pdf(path);
  expect_corners_in_place(layout, rendered_pages(path), "pdf");
}

TEST_P(DrawnSheet, CommittedSheetIsTheOneTheProgramDraws) {
  // Bytes would differ with another release of Cairo, and lines of text with another face.
  expect_corners_in_place(layout, rendered_pages(committed(GetParam())), "committed");
  const TemporaryFolder folder;
  const std::string path = (folder / "sheet.pdf").string();
  draw_sheet(GetParam()).save_pdf(path);
  EXPECT_EQ(words_of(committed(GetParam())), words_of(path))
      << "write it again: scantling sheet --paper ... --out assets/sheets/...";
}

TEST_P(DrawnSheet, MarginsRoundTheSquaresAreWhite) {
  const Document sheet = draw_sheet(GetParam());
  const cv::Mat pages[] = {luma_of(sheet.picture(0, 254)), luma_of(sheet.picture(1, 254))};
  for (const PlacedCard& placed : layout.cards) {
    const CardDefinition& card = *placed.card;
    const auto at = [&](double x, double y) {
      return pages[placed.page].at<uchar>(static_cast<int>((placed.origin.y + y) * 10),
                                          static_cast<int>((placed.origin.x + x) * 10));
    };
    // Up to the cut line, which takes half its width.
    const double out = card.margin_mm - 0.2;
    const double width = card.columns * card.square_mm, height = card.rows * card.square_mm;
    int dark = 0;
    for (double x = -out; x < width + out; x += 0.1)
      for (double d = 0.15; d < out; d += 0.1) dark += at(x, -d) < 250;
    for (double y = -out; y < height + out; y += 0.1)
      for (double d = 0.15; d < out; d += 0.1) dark += (at(-d, y) < 250) + (at(width + d, y) < 250);
    EXPECT_EQ(dark, 0) << card.name;
  }
}

TEST_P(DrawnSheet, NoInkWithinFiveMillimetresOfThePaperEdge) {
  const Document sheet = draw_sheet(GetParam());
  for (std::size_t page = 0; page < 2; ++page) {
    cv::Mat luma = luma_of(sheet.picture(page, 254));
    luma(cv::Rect(50, 50, luma.cols - 100, luma.rows - 100)).setTo(255);
    double darkest = 0;
    cv::minMaxLoc(luma, &darkest);
    EXPECT_GT(darkest, 250) << "page " << page + 1;
  }
}

/// The centre of a tick's ink along the bar, read 2 mm beside the bar's line.
double tick_mm(const cv::Mat& page, const CheckBar& bar, double along_mm) {
  const PagePoint tick = bar.at(along_mm);
  double weight = 0, moment = 0;
  for (int d = -20; d <= 20; ++d) {
    const int x =
        static_cast<int>((tick.x + (bar.along_x ? 0 : 2)) * kPx_per_mm) + (bar.along_x ? d : 0);
    const int y =
        static_cast<int>((tick.y - (bar.along_x ? 2 : 0)) * kPx_per_mm) + (bar.along_x ? 0 : d);
    const double ink = 255 - page.at<uchar>(y, x);
    weight += ink;
    moment += ink * ((bar.along_x ? x : y) + 0.5);
  }
  EXPECT_GT(weight, 255) << "no tick";
  return moment / weight / kPx_per_mm;
}

void expect_bars_in_place(const SheetLayout& layout, const std::vector<cv::Mat>& pages,
                          double tolerance_mm) {
  for (const CheckBar& bar : layout.bars) {
    SCOPED_TRACE(std::string(bar.along_x ? "x" : "y") + " bar, page " +
                 std::to_string(bar.page + 1));
    const double start = tick_mm(pages[bar.page], bar, 0);
    EXPECT_NEAR(tick_mm(pages[bar.page], bar, bar.length_mm) - start, bar.length_mm, tolerance_mm);
  }
}

TEST_P(DrawnSheet, CheckBarsHaveTheirLength) {
  const Document sheet = draw_sheet(GetParam());
  expect_bars_in_place(layout, {luma_of(sheet.picture(0, kDpi)), luma_of(sheet.picture(1, kDpi))},
                       0.005);
  const TemporaryFolder folder;
  const std::string path = (folder / "sheet.pdf").string();
  sheet.save_pdf(path);
  // Poppler works in quarters of a pixel: 0.011 mm at each end.
  expect_bars_in_place(layout, rendered_pages(path), 0.025);
}

INSTANTIATE_TEST_SUITE_P(Paper, DrawnSheet, ::testing::Values(Paper::a4, Paper::letter),
                         [](const auto& one) { return one.param == Paper::a4 ? "A4" : "Letter"; });

TEST(DrawSheet, IsTheSameEveryTime) {
  EXPECT_EQ(draw_sheet(Paper::a4).pdf(), draw_sheet(Paper::a4).pdf());
}

}  // namespace
}  // namespace scantling
