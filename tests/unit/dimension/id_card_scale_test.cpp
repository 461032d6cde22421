// Pictures made by tracing rays onto a printed ground sheet of known scale with a card lying on it.

#include "dimension/id_card_scale.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <random>

#include "support/made_sheet_photo.h"

namespace scantling {
namespace {

using test::MadeSheetPhoto;
using ::testing::AllOf;
using ::testing::HasSubstr;

IdCardScale measured(const MadeSheetPhoto& made) {
  CameraTags tags;
  // f35 = f_px * 43.27 / diagonal
  tags.focal_length_35mm = std::round(made.focal_px * 43.27 / std::hypot(made.width, made.height));
  return scale_from_id_card(made_sheet_photo(made), tags);
}

void expect_scale(const IdCardScale& found, double x, double y) {
  for (const Check& check : found.checks)
    EXPECT_NE(check.severity, Severity::stop) << check.id << ": " << check.message;
  ASSERT_TRUE(found.scale);
  // The card and the sheet are exact here; what is left is finding.
  EXPECT_NEAR(found.scale->x / x, 1, 0.0003);
  EXPECT_NEAR(found.scale->y / y, 1, 0.0003);
  EXPECT_GT(found.scale->x_uncertainty, 0.001);
  EXPECT_LT(found.scale->x_uncertainty, 0.0025);
  EXPECT_GT(found.scale->y_uncertainty, 0.001);
  EXPECT_LT(found.scale->y_uncertainty, 0.0025);
}

TEST(IdCardScale, TruePrint) {
  expect_scale(measured({}), 1, 1);
}

TEST(IdCardScale, PrintOffDifferentlyBothWays) {
  MadeSheetPhoto made;
  made.scale_x = 0.985;
  made.scale_y = 1.006;
  expect_scale(measured(made), 0.985, 1.006);
}

TEST(IdCardScale, CardUprightOnTheSheet) {
  MadeSheetPhoto made;
  made.scale_x = 1.004;
  made.scale_y = 0.993;
  made.card->turn_deg = 96;
  expect_scale(measured(made), 1.004, 0.993);
}

TEST(IdCardScale, MiddlingCardWithADarkBarAndALens) {
  MadeSheetPhoto made;
  made.card->light = 0.25;
  made.card->printed = true;
  made.card->turn_deg = -9;
  made.k1 = 0.03;
  made.scale_y = 0.988;
  expect_scale(measured(made), 1, 0.988);
}

// A light card under a wide lamp: on white ground two sides end in a soft shadow, not in a step.
TEST(IdCardScale, ALightCardWithItsOwnSoftShadowAtTwoSides) {
  MadeSheetPhoto made;
  made.scale_x = 1.004;
  made.shadow = test::MadeShadow{2.5, 1.8, 0.8};
  expect_scale(measured(made), 1.004, 1);
}

TEST(IdCardScale, AThickerOrLargerCardShowsInTheUncertainty) {
  // The standard's own limits must stay within three standard uncertainties.
  MadeSheetPhoto made;
  made.card->width_mm = 85.72;
  made.card->height_mm = 53.92;
  made.card->thick_mm = 0.84;
  const IdCardScale found = measured(made);
  ASSERT_TRUE(found.scale);
  EXPECT_LT(std::abs(found.scale->x - 1), 3 * found.scale->x_uncertainty);
  EXPECT_LT(std::abs(found.scale->y - 1), 3 * found.scale->y_uncertainty);
  EXPECT_LT(found.scale->x, 1) << "a larger card makes the print seem smaller";
}

TEST(IdCardScale, BudgetAddsUpAndNamesMoistureFirst) {
  const IdCardScale found = measured({});
  ASSERT_TRUE(found.scale);
  double x = 0, y = 0;
  for (const ScaleBudgetLine& line : found.budget) {
    x += line.x * line.x;
    y += line.y * line.y;
  }
  EXPECT_NEAR(std::sqrt(x), found.scale->x_uncertainty, 1e-9);
  EXPECT_NEAR(std::sqrt(y), found.scale->y_uncertainty, 1e-9);
  EXPECT_EQ(found.budget.front().source, "paper moisture");
}

TEST(IdCardScale, AnyReasonablePlacementMeasuresRightOrSaysNo) {
  std::mt19937 random(2024);
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  constexpr int kPhotos = 6;
  int measured_photos = 0;
  for (int i = 0; i < kPhotos; ++i) {
    MadeSheetPhoto made;
    made.scale_x = between(0.98, 1.02);
    made.scale_y = between(0.98, 1.02);
    made.card->centre_x = between(95, 145);
    made.card->centre_y = between(65, 100);
    made.card->turn_deg = between(-12, 12) + (i % 3 == 0 ? 90 : 0);
    made.card->light = between(0.2, 0.9);
    made.card->printed = i % 2 == 0;
    made.camera_x = made.card->centre_x + between(-20, 20);
    made.camera_y = made.card->centre_y + between(-15, 15);
    made.tilt_x = between(-0.1, 0.1);
    made.tilt_y = between(-0.1, 0.1);
    made.k1 = between(-0.03, 0.03);
    const IdCardScale found = measured(made);
    SCOPED_TRACE(i);
    if (!found.scale) {
      EXPECT_TRUE(any_stop(found.checks));
      continue;
    }
    ++measured_photos;
    EXPECT_NEAR(found.scale->x / made.scale_x, 1, 0.0005);
    EXPECT_NEAR(found.scale->y / made.scale_y, 1, 0.0005);
  }
  EXPECT_GE(measured_photos, kPhotos - 1);
}

// What is seen there may as well be the printed line.
TEST(IdCardScale, ASideAlongALineBetweenSquaresIsNamedWithWhatToDo) {
  MadeSheetPhoto made;
  made.card->turn_deg = 0;
  for (const auto& [left_mm, side] : {std::pair{75.0, "left"}, std::pair{150.0 - 85.6, "right"}}) {
    made.card->centre_x = left_mm + made.card->width_mm / 2;
    const IdCardScale found = measured(made);
    EXPECT_FALSE(found.scale);
    ASSERT_FALSE(found.checks.empty());
    EXPECT_EQ(found.checks.back().id, "id_card_sides");
    EXPECT_EQ(found.checks.back().severity, Severity::stop);
    EXPECT_THAT(
        found.checks.back().message,
        AllOf(HasSubstr(std::string(side) + " side in the photo"), HasSubstr("half a square")));
  }
}

struct Trouble {
  const char* name;
  std::function<void(MadeSheetPhoto&)> make;
  const char* check;
};

class IdCardTrouble : public ::testing::TestWithParam<Trouble> {};

TEST_P(IdCardTrouble, EndsInAStopThatSaysWhy) {
  MadeSheetPhoto made;
  GetParam().make(made);
  const IdCardScale found = measured(made);
  EXPECT_FALSE(found.scale);
  ASSERT_TRUE(any_stop(found.checks));
  const auto named = std::any_of(found.checks.begin(), found.checks.end(),
                                 [](const Check& c) { return c.id == GetParam().check; });
  EXPECT_TRUE(named) << found.checks.back().id << ": " << found.checks.back().message;
}

INSTANTIATE_TEST_SUITE_P(
    Photo, IdCardTrouble,
    ::testing::Values(
        Trouble{"NoCard", [](MadeSheetPhoto& m) { m.card.reset(); }, "id_card_missing"},
        Trouble{"ABookInstead",
                [](MadeSheetPhoto& m) {
                  m.card->width_mm = 120;
                  m.card->height_mm = 80;
                },
                "id_card_missing"},
        // White ground is only to be had in narrow strips: a dark card asks for too much.
        Trouble{"DarkCard", [](MadeSheetPhoto& m) { m.card->light = 0.04; }, "id_card_missing"},
        Trouble{"Askew", [](MadeSheetPhoto& m) { m.card->turn_deg = 38; }, "id_card_turned"},
        Trouble{"SeenFromTheSide",
                [](MadeSheetPhoto& m) {
                  m.camera_x = 330;
                  m.tilt_y = -0.6;
                },
                "id_card_from_the_side"},
        Trouble{"NoSheet", [](MadeSheetPhoto& m) { m.camera_x = 2000; }, "card_missing"}),
    [](const auto& one) { return std::string(one.param.name); });

}  // namespace
}  // namespace scantling
