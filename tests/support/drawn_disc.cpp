#include "support/drawn_disc.h"

#include "card/card_definition.h"
#include "support/drawn_card.h"
#include "support/drawn_disc_world.h"

namespace scantling::drawn {
namespace {

/// Turned about x by `tilt`, then about z by `roll`.
Vec3 turned(Vec3 p, double tilt, double roll) {
  const double ct = std::cos(tilt), st = std::sin(tilt);
  const Vec3 q{p.x, ct * p.y - st * p.z, st * p.y + ct * p.z};
  const double cr = std::cos(roll), sr = std::sin(roll);
  return {cr * q.x - sr * q.y, sr * q.x + cr * q.y, q.z};
}

}  // namespace

Frame disc_frame(const DrawnDiscScene& scene) {
  const DrawnDisc& disc = scene.disc;
  if (scene.view == DiscView::lip) {
    const double track = disc.rim_thickness_mm / 2 - disc.lip_rise_mm - disc.lip_a_mm;
    return {{0, track, -disc.wall_foot_radius_mm()}, {-1, 0, 0}, {0, -1, 0}, {0, 0, 1}};
  }
  const double tilt = radians(disc.tilt_deg), roll = radians(disc.roll_deg);
  const double back = std::sqrt(disc.radius_mm * disc.radius_mm - disc.shift_mm * disc.shift_mm);
  const Vec3 touch{64, disc.middle_mm, disc.offset_mm};
  return {touch + turned({disc.shift_mm, 0, back}, tilt, roll), turned({1, 0, 0}, tilt, roll),
          turned({0, -1, 0}, tilt, roll), turned({0, 0, -1}, tilt, roll)};
}

CardSurface disc_card(const DrawnDiscScene& scene) {
  if (scene.view == DiscView::rim) return CardSurface(scene.card, Vec3{});
  const CardDefinition& card = track_card();
  const DrawnDisc& disc = scene.disc;
  const double yaw = radians(disc.card_yaw_deg), c = std::cos(yaw), s = std::sin(yaw);
  const Frame frame{
      {disc.card_aside_mm, -(card.thickness_mm + disc.card_lift_mm), -disc.card_gap_mm},
      {c, 0, s},
      {s, 0, -c},
      {0, 1, 0}};
  const Point_mm far_side{(card.sheet.x_min + card.sheet.x_max) / 2, card.sheet.y_min};
  return CardSurface(card, scene.card, far_side, frame);
}

cv::Mat cast_light(const DrawnDiscScene& scene) {
  return cast_light(Camera(scene.camera), scene.camera, DiscWorld(scene),
                    scene.seed + 101u * static_cast<std::uint32_t>(scene.shot));
}

cv::Mat draw(const DrawnDiscScene& scene) {
  return develop(scene.camera, scene.seed + 101u * static_cast<std::uint32_t>(scene.shot),
                 cast_light(scene));
}

}  // namespace scantling::drawn
