#include "sorting/piece_stance.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "camera/card_pose.h"
#include "card/card_definition.h"
#include "unit/sorting/made_sights.h"

namespace scantling {
namespace {

CardPose pose(const Eigen::Vector3d& turn, const Eigen::Vector3d& at) {
  CardPose::Vector parameters = CardPose::Vector::Zero();
  parameters.head<3>() = turn;
  parameters.segment<3>(3) = at;
  parameters[6] = 3000;
  return CardPose(parameters);
}

TEST(PieceStance, ACardLyingLevelOverTheSheetTellsItsHeight) {
  // Sheet square to the camera, 400 mm away; the card 12 mm nearer, its middle on the axis.
  const CardDefinition& card = track_card();
  const double half_x = card.columns * card.square_mm / 2, half_y = card.rows * card.square_mm / 2;
  const CardPose sheet = pose({0, 0, 0}, {-100, -80, 400});
  const PieceStance stance = stance_on_sheet(sheet, pose({0, 0, 0}, {-half_x, -half_y, 388}), card);
  EXPECT_NEAR(height_over_sheet_mm(stance), 12, 1e-9);
  EXPECT_NEAR(stance.centre_mm.x, 100, 1e-9);
  EXPECT_NEAR(stance.centre_mm.y, 80, 1e-9);
  EXPECT_NEAR(tilt_on_sheet_deg(stance), 0, 1e-6);
}

TEST(PieceStance, DoesNotDependOnWhereTheCameraStands) {
  const Eigen::Vector3d turn(0.3, -0.5, 0.2);
  const Eigen::AngleAxisd camera(turn.norm(), turn.normalized());
  const Eigen::Vector3d shift(20, -30, 350);
  const CardDefinition& card = track_card_b();
  // The card upright on the sheet, seen square and then slantwise.
  const Eigen::AngleAxisd upright(std::numbers::pi / 2, Eigen::Vector3d::UnitX());
  const Eigen::Vector3d foot(60, 90, -5);
  const PieceStance square = stance_on_sheet(
      pose({0, 0, 0}, {0, 0, 400}),
      pose(Eigen::Vector3d::UnitX() * std::numbers::pi / 2, foot + Eigen::Vector3d(0, 0, 400)),
      card);
  const Eigen::AngleAxisd both(camera * upright);
  const PieceStance slant = stance_on_sheet(
      pose(turn, shift), pose(both.angle() * both.axis(), camera * foot + shift), card);
  EXPECT_LT(distance_mm(square.centre_mm, slant.centre_mm), 1e-9);
  EXPECT_NEAR(tilt_on_sheet_deg(square), 90, 1e-6);
  EXPECT_TRUE(same_set_up(square, slant));
}

TEST(PieceStance, AMovedOrTurnedCardIsAnotherSetUp) {
  const PieceStance a = made_stance({50, 60, -20}, {0, 1, 0});
  PieceStance b = a;
  b.centre_mm.x += 1;
  EXPECT_TRUE(same_set_up(a, b));
  b.centre_mm.x += 20;
  EXPECT_FALSE(same_set_up(a, b));
  b = a;
  b.into = {0, std::cos(0.2), std::sin(0.2)};  // 11 degrees
  EXPECT_FALSE(same_set_up(a, b));
}

TEST(PieceStance, TheSameStandIsATighterMatter) {
  const PieceStance a = made_stance({0, 0, -300}, {0, 0, 1});
  PieceStance b = a;
  b.centre_mm.x += 4;
  EXPECT_TRUE(same_stand(a, b));
  b.centre_mm.x += 6;
  EXPECT_FALSE(same_stand(a, b));
}

}  // namespace
}  // namespace scantling
