#include "support/drawn_planes.h"

#include <algorithm>
#include <cmath>

#include "camera/camera_prior.h"
#include "support/drawn_planes_cast.h"

namespace scantling::drawn {
namespace {

Vec3 turned(Vec3 v, double about_z_deg) {
  const double a = radians(about_z_deg);
  return {v.x * std::cos(a) - v.y * std::sin(a), v.x * std::sin(a) + v.y * std::cos(a), v.z};
}

/// From a place outside towards it: level direction turned, then raised.
Vec3 direction(Vec3 level, double azimuth_deg, double elevation_deg) {
  // Seen from the camera's side, right is a turn to the left about z, which points down.
  const Vec3 flat = turned(level, -azimuth_deg);
  const double e = radians(elevation_deg);
  return std::cos(e) * flat + Vec3{0, 0, -std::sin(e)};
}

double half(const CardDefinition& card, bool along_x) {
  return (along_x ? card.columns : card.rows) * card.square_mm / 2;
}

int written_f35(const PlaneCamera& c) {
  return static_cast<int>(
      std::lround(c.f35_factor * c.focal_px * 43.2666 / std::hypot(c.width_px, c.height_px)));
}

}  // namespace

Vec3 placed(const PlacedPiece& piece, double x_mm, double y_mm) {
  const CardDefinition& card = definition(piece);
  const double u = x_mm / half(card, true), v = y_mm / half(card, false);
  const double depth = piece_depth(piece, u, v);
  return piece.middle + x_mm * piece.scale_x * piece.x + y_mm * piece.scale_y * piece.y +
         depth * piece.z();
}

PlanesScene faces_scene(double thickness_mm, double card_mm) {
  PlanesScene scene;
  constexpr double kYaw_deg = 4, kHigh_mm = 38;
  const Vec3 axis = turned({0, 1, 0}, kYaw_deg);
  const Vec3 along = turned({1, 0, 0}, kYaw_deg);
  PlacedDisc disc;
  disc.middle = {0, 0, -disc.radius_mm};
  disc.axis = axis;
  disc.thickness_mm = thickness_mm;
  scene.disc = disc;
  const double out = thickness_mm / 2 + card_mm;
  const Vec3 down{0, 0, 1}, high{0, 0, -kHigh_mm};
  scene.cards.push_back({PlanePiece::card_a, high + out * axis + 3.0 * along, along, down});
  scene.cards.push_back({PlanePiece::card_b, high + -out * axis + -2.0 * along, -1 * along, down});
  return scene;
}

PlanesScene pile_scene(double height_mm, bool both, double taper_mm, double card_mm) {
  PlanesScene scene;
  PlacedBox box;
  box.height_mm = height_mm;
  box.turn_deg = 7;
  scene.box = box;
  const Vec3 along = turned({1, 0, 0}, box.turn_deg), across = turned({0, 1, 0}, box.turn_deg);
  const double apart = 54;
  const Vec3 lean = unit(apart * along + Vec3{0, 0, -taper_mm});
  const auto add = [&](PlanePiece piece, double place, double height) {
    scene.cards.push_back({piece, place * along + Vec3{0, 0, -(height + card_mm)}, lean, across});
  };
  if (both) {
    add(PlanePiece::card_a, -apart / 2, height_mm - taper_mm / 2);
    add(PlanePiece::card_b, apart / 2, height_mm + taper_mm / 2);
  } else {
    add(PlanePiece::card_a, 0, height_mm);
  }
  return scene;
}

PlaneCamera faces_camera(PlanePiece side, double azimuth_deg, double elevation_deg,
                         double distance_mm) {
  PlaneCamera camera;
  const double sign = side == PlanePiece::card_b ? -1 : 1;
  const Vec3 card{0, 10 * sign, -38};
  camera.place = card + distance_mm * direction({0, sign, 0}, azimuth_deg, elevation_deg);
  camera.target = {0, 34 * sign, -16};
  return camera;
}

PlaneCamera pile_camera(double azimuth_deg, double elevation_deg, double distance_mm) {
  PlaneCamera camera;
  camera.place = Vec3{0, 0, -14} + distance_mm * direction({0, 1, 0}, azimuth_deg, elevation_deg);
  camera.target = {0, 0, -8};
  return camera;
}

Point_px seen_at(const PlaneCamera& camera, Vec3 world) {
  return PlaneLens(camera).project(world);
}

PlanePhoto sighted(const PlanesScene& scene, const PlaneCamera& camera, double noise_px,
                   Random& random) {
  PlanePhoto photo;
  photo.name = camera.name;
  photo.width_px = camera.width_px;
  photo.height_px = camera.height_px;
  photo.exif_orientation = camera.exif_orientation;
  photo.tags.make = camera.make;
  photo.tags.model = camera.model;
  photo.tags.taken_at = camera.taken_at;
  // Not rounded: the sweep sets the error itself.
  photo.tags.focal_length_35mm = camera.f35_factor * camera.focal_px * 43.266615 /
                                 std::hypot(camera.width_px, camera.height_px);
  photo.prior = camera_prior(photo.tags, camera.width_px, camera.height_px);
  photo.camera_key = camera.make + camera.model + std::to_string(camera.width_px);
  const PlaneLens lens(camera);
  const PlanesCast cast(scene);
  const auto add = [&](const PlacedPiece& piece) {
    const CardDefinition& card = definition(piece);
    CardSighting sighting;
    sighting.card = &card;
    for (const CardCorner& corner : card.corners) {
      const Vec3 world =
          placed(piece, corner.at.x - half(card, true), corner.at.y - half(card, false));
      const Point_px p = lens.project(world);
      if (!(p.x > 15 && p.y > 15 && p.x < camera.width_px - 16 && p.y < camera.height_px - 16))
        continue;
      const Vec3 way = world - camera.place;
      const double far = std::sqrt(dot(way, way));
      if (cast.first({camera.place, (1 / far) * way}).t < far - 0.02) continue;
      if (dot(unit(way), piece.z()) < 0.2) continue;  // too flat to be read
      if (piece.rolled_mm > 0 && corner.at.x > 2 * half(card, true) - piece.rolled_mm) continue;
      sighting.corners.push_back(
          {corner.id,
           corner.at,
           {p.x + noise_px * random.normal(), p.y + noise_px * random.normal()}});
    }
    if (sighting.corners.size() < 8) return;
    const Vec3 middle = piece.middle;
    sighting.px_per_mm = distance_px(lens.project(middle), lens.project(middle + piece.x));
    sighting.markers_found = static_cast<int>(sighting.corners.size()) / 2;
    photo.pieces.push_back(std::move(sighting));
  };
  add(scene.sheet);
  for (const PlacedPiece& card : scene.cards) add(card);
  return photo;
}

int written_focal_length_35mm(const PlaneCamera& camera) {
  return written_f35(camera);
}

}  // namespace scantling::drawn
