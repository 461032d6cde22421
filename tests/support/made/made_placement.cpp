#include "made_placement.h"

#include <cmath>
#include <numbers>

namespace scantling::made {

namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kTrackCard_mm = 0.25;  // thickness
constexpr double kGroundSheet_mm = 0.1;

Eigen::Matrix3d about(const Vec3& axis, double degrees) {
  return Eigen::AngleAxisd(degrees * kDegree, axis).toRotationMatrix();
}

Eigen::Matrix3d columns(const Vec3& x, const Vec3& y, const Vec3& z) {
  Eigen::Matrix3d m;
  m << x, y, z;
  return m;
}

/// Puts a sheet so that its nominal place (u, v) lies at `at`.
PlacedSheet pinned(const Scene& scene, const char* card, double u, double v, const Vec3& at,
                   const Eigen::Matrix3d& axes) {
  PlacedSheet sheet{card, Vec3::Zero(), axes, scene.card.scale_x, scene.card.scale_y};
  sheet.origin = at - sheet.world(u, v);
  return sheet;
}

/// On the ground, its middle at the world's origin, its top away from the viewer.
PlacedSheet ground_sheet(const Scene& scene) {
  return pinned(scene, "ground", 120, 82.5, {0, -kGroundSheet_mm, 0},
                columns({1, 0, 0}, {0, 0, -1}, {0, 1, 0}));
}

PlacedSheet on_track(const Scene& scene) {
  const auto& disc = scene.disc;
  const Vec3 far_side(disc.card_aside_mm, -kTrackCard_mm, -disc.card_gap_mm);
  return pinned(scene, "track", 20, -3, far_side,
                about({0, 1, 0}, -disc.card_yaw_deg) * columns({1, 0, 0}, {0, 0, -1}, {0, 1, 0}));
}

/// Flat on a worn face of the upright disc, near the ground.
PlacedSheet on_face(const Scene& scene, bool inboard) {
  const auto& disc = scene.disc;
  const Placed place = disc_place(scene);
  const double side = inboard ? -1 : 1;
  const double height = side * (track_height_mm(disc, inboard) + kTrackCard_mm);
  const Vec3 at = place.world({0, height, disc.card_radius_mm});
  // Seen from its own side: z into the face, y down along the disc.
  const Vec3 z = -side * place.axes.col(1), y = place.axes.col(2), x = y.cross(z);
  return pinned(scene, inboard ? "track_b" : "track", 20, 12.5, at,
                about(z, disc.card_turn_deg) * columns(x, y, z));
}

PlacedSheet on_pad(const Scene& scene) {
  const PadShape pad(scene);
  const Placed place = pad_place(scene);
  const double middle = scene.part.depth_mm / 2, reach = 10;
  const auto top = [&](double u) { return place.world(pad.world(u, pad.overall_mm(u), middle)); };
  const Vec3 along = (top(reach) - top(-reach)).normalized();
  const Vec3 inwards = place.axes * Vec3(0, 0, 1);  // of the pad view's world
  const Vec3 z = along.cross(-inwards), y = -inwards;
  return pinned(scene, "track", 20, 12.5, top(0) - kTrackCard_mm * z,
                about(z, scene.pile.card_yaw_deg) * columns(along, y, z));
}

}  // namespace

double track_height_mm(const DiscSettings& disc, bool inboard) {
  return disc.rim_thickness_mm / 2 - (inboard ? disc.lip_inboard_mm : disc.lip_outboard_mm);
}

double wall_top_radius_mm(const DiscSettings& disc) {
  return disc.radius_mm - disc.lip_width_mm;
}

double wall_foot_radius_mm(const DiscSettings& disc) {
  return wall_top_radius_mm(disc) - disc.wall_run_mm;
}

bool shows_disc(const Scene& scene) {
  return scene.view == "rim" || scene.view == "lip" || scene.view == "faces";
}

bool shows_pad(const Scene& scene) {
  return scene.part.present && (scene.view == "pad" || scene.view == "pile");
}

std::vector<PlacedSheet> sheets_of(const Scene& scene) {
  if (scene.view == "rim")
    return {pinned(scene, "notch", 64, 78, Vec3::Zero(), Eigen::Matrix3d::Identity())};
  if (scene.view == "lip") return {on_track(scene)};
  if (scene.view == "faces")
    return {ground_sheet(scene), on_face(scene, false), on_face(scene, true)};
  if (scene.view == "pile") return {ground_sheet(scene), on_pad(scene)};
  if (scene.view == "sheet") return {ground_sheet(scene)};
  return {};
}

Placed disc_place(const Scene& scene) {
  const auto& disc = scene.disc;
  Placed place;
  if (scene.view == "rim") {
    const double back = std::sqrt(disc.radius_mm * disc.radius_mm - disc.shift_mm * disc.shift_mm);
    place.origin = {disc.shift_mm, -(disc.raise_mm + disc.rim_thickness_mm / 2),
                    disc.offset_mm + back};
    place.axes = columns({1, 0, 0}, {0, -1, 0}, {0, 0, -1});
  } else if (scene.view == "lip") {
    // The origin lies on the wall's foot behind the card, at the track's height.
    const double up = disc.inboard_up ? 1 : -1;
    place.origin = {0, track_height_mm(disc, disc.inboard_up), -wall_foot_radius_mm(disc)};
    place.axes = columns({up, 0, 0}, {0, up, 0}, {0, 0, 1});
  } else {
    place.axes = about({0, 1, 0}, disc.yaw_deg) * about({0, 0, 1}, disc.lean_deg) *
                 columns({0, 0, 1}, {1, 0, 0}, {0, 1, 0});
    // The lowest place of the rim stands on the sheet.
    const double lean = std::abs(disc.lean_deg) * kDegree;
    const double low = disc.radius_mm * std::cos(lean) +
                       (disc.rim_thickness_mm / 2 - disc.edge_mm) * std::sin(lean);
    place.origin = {0, -(low + kGroundSheet_mm), 0};
  }
  if (scene.view != "faces") place.axes = place.axes * about({0, 1, 0}, disc.turn_deg);
  return place;
}

Placed pad_place(const Scene& scene) {
  const auto& card = scene.card;
  Placed place;
  place.axes = about({0, 1, 0}, scene.pile.pad_yaw_deg);
  const Vec3 middle(64 * card.scale_x, 78 * card.scale_y,
                    scene.part.offset_mm + scene.part.depth_mm / 2);
  place.origin = Vec3(0, -kGroundSheet_mm, 0) - place.axes * middle;
  return place;
}

double ground_mm(const Scene& scene) {
  const auto& disc = scene.disc;
  if (scene.view == "pad") return 78 * scene.card.scale_y;
  if (scene.view != "lip") return 0;
  // Lying on the other face, or on the bell.
  const double middle = track_height_mm(disc, disc.inboard_up);
  const double under = disc.inboard_up ? std::max(disc.rim_thickness_mm / 2,
                                                  track_height_mm(disc, false) + disc.bell_mm)
                                       : disc.rim_thickness_mm / 2;
  return middle + under + disc.raise_mm;
}

std::vector<Vec3> points_of_interest(const Scene& scene) {
  std::vector<Vec3> points;
  for (const PlacedSheet& sheet : sheets_of(scene)) {
    const bool ground = sheet.card == "ground";
    const bool lip = scene.view == "lip", rim = scene.view == "rim";
    const double beside = lip ? 24 : rim ? 15 : 6, beyond = lip ? 13 : 6, before = lip ? 8 : 6;
    const double right = ground ? 248 : sheet.card == "notch" ? 134 : 43;
    const double down = ground ? 173 : sheet.card == "notch" ? 78 : 28;
    const double edge = ground ? 8 : sheet.card == "notch" ? 6 : 3;
    for (const double x : {-edge - beside, right + beside})
      for (const double y : {-edge - beyond, down + before}) points.push_back(sheet.world(x, y));
  }
  return points;
}

}  // namespace scantling::made
