#include "sorting/piece_stance.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "camera/card_pose.h"
#include "card/card_definition.h"

namespace scantling {
namespace {

Eigen::Matrix3d rotation_of(const CardPose& pose) {
  const Eigen::Vector3d turn = pose.parameters().head<3>();
  const double angle = turn.norm();
  if (angle < 1e-12) return Eigen::Matrix3d::Identity();
  return Eigen::AngleAxisd(angle, turn / angle).toRotationMatrix();
}

Point3_mm point_of(const Eigen::Vector3d& v) {
  return {v.x(), v.y(), v.z()};
}

double length(const Point3_mm& v) {
  return std::hypot(v.x, v.y, v.z);
}

}  // namespace

PieceStance stance_on_sheet(const CardPose& sheet, const CardPose& card,
                            const CardDefinition& definition) {
  const Eigen::Matrix3d sheet_from_camera = rotation_of(sheet).transpose();
  const Eigen::Matrix3d camera_from_card = rotation_of(card);
  const Eigen::Vector3d middle(definition.columns * definition.square_mm / 2,
                               definition.rows * definition.square_mm / 2, 0);
  const Eigen::Vector3d card_at = card.parameters().segment<3>(3);
  const Eigen::Vector3d sheet_at = sheet.parameters().segment<3>(3);
  return {point_of(sheet_from_camera * (camera_from_card * middle + card_at - sheet_at)),
          point_of(sheet_from_camera * camera_from_card.col(2)),
          point_of(sheet_from_camera * camera_from_card.col(0))};
}

PieceStance camera_stance(const CardPose& card) {
  const Eigen::Matrix3d card_from_camera = rotation_of(card).transpose();
  const Eigen::Vector3d card_at = card.parameters().segment<3>(3);
  return {point_of(-(card_from_camera * card_at)), point_of(card_from_camera.col(2)),
          point_of(card_from_camera.col(0))};
}

double angle_deg(const Point3_mm& a, const Point3_mm& b) {
  const double cosine =
      (a.x * b.x + a.y * b.y + a.z * b.z) / std::max(1e-12, length(a) * length(b));
  return std::acos(std::clamp(cosine, -1.0, 1.0)) * 180 / std::numbers::pi;
}

double distance_mm(const Point3_mm& a, const Point3_mm& b) {
  return std::hypot(a.x - b.x, a.y - b.y, a.z - b.z);
}

double tilt_on_sheet_deg(const PieceStance& card) {
  return angle_deg(card.into, {0, 0, 1});
}

double height_over_sheet_mm(const PieceStance& card) {
  return -card.centre_mm.z;  // z points into the sheet
}

bool same_set_up(const PieceStance& a, const PieceStance& b) {
  // One photo tells the stance to half a millimetre and a degree; a part set down anew lies some
  // millimetres or degrees off.
  constexpr double kMoved_mm = 2.5, kTurned_deg = 2.5;
  return distance_mm(a.centre_mm, b.centre_mm) < kMoved_mm &&
         angle_deg(a.into, b.into) < kTurned_deg && angle_deg(a.along, b.along) < kTurned_deg;
}

bool same_stand(const PieceStance& a, const PieceStance& b) {
  constexpr double kShare = 0.02, kTurned_deg = 1.5;
  return distance_mm(a.centre_mm, b.centre_mm) < kShare * length(a.centre_mm) &&
         angle_deg(a.into, b.into) < kTurned_deg && angle_deg(a.along, b.along) < kTurned_deg;
}

}  // namespace scantling
