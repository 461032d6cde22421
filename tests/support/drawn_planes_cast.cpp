#include "support/drawn_planes_cast.h"

#include <algorithm>
#include <cmath>

#include "card/card_definition.h"

namespace scantling::drawn {
namespace {

constexpr Vec3 kLamp{-0.35, 0.25, -0.9};  ///< towards the light

double shade(Vec3 normal) {
  const double lit = dot(unit(normal), unit(kLamp));
  return 0.55 + 0.45 * std::abs(lit);
}

/// Slow, weak texture.
double mottle(double x, double y) {
  return 1 + 0.12 * std::sin(0.21 * x + 0.4 * std::sin(0.13 * y)) * std::cos(0.17 * y);
}

}  // namespace

const CardDefinition& definition(const PlacedPiece& piece) {
  return *printed_pieces()[static_cast<std::size_t>(piece.piece)];
}

double piece_depth(const PlacedPiece& piece, double u, double v) {
  if (piece.piece != PlanePiece::ground) return piece.bend_mm * (u * u - 1.0 / 3);
  const auto& s = piece.curl_mm;
  return u * u * (s[0] + u * s[3] + v * s[4]) + u * v * s[1] + v * v * (s[2] + u * s[5] + v * s[6]);
}

PlaneLens::PlaneLens(const PlaneCamera& camera) {
  frame_.origin = camera.place;
  frame_.c = unit(camera.target - camera.place);
  const Vec3 right = unit(cross(frame_.c, {0, 0, -1}));
  const Vec3 down = cross(frame_.c, right);
  const double roll = radians(camera.roll_deg);
  frame_.a = std::cos(roll) * right + std::sin(roll) * down;
  frame_.b = cross(frame_.c, frame_.a);
  model_ = {camera.focal_px, (camera.width_px - 1) / 2.0 + camera.centre_dx_px,
            (camera.height_px - 1) / 2.0 + camera.centre_dy_px, camera.k1, camera.k2};
}

Point_px PlaneLens::project(Vec3 world) const {
  const Vec3 p = frame_.in(world);
  Point_px seen;
  model_.project_direction(p.x / p.z, p.y / p.z, seen.x, seen.y);
  return seen;
}

Ray PlaneLens::ray(double x_px, double y_px) const {
  double u = 0, v = 0;
  model_.direction({x_px, y_px}, u, v);
  return {frame_.origin, unit(frame_.direction_out({u, v, 1}))};
}

PlanesCast::PlanesCast(const PlanesScene& scene)
    : scene_(scene), sheet_pattern_(definition(scene.sheet)) {
  for (const PlacedPiece& card : scene.cards) card_patterns_.emplace_back(definition(card));
}

void PlanesCast::piece(const PlacedPiece& piece, const CardPattern& pattern, const Ray& ray,
                       CastHit& hit) const {
  const CardDefinition& card = definition(piece);
  const double half_x = card.columns * card.square_mm / 2, half_y = card.rows * card.square_mm / 2;
  const Vec3 z = piece.z();
  const double towards = dot(ray.direction, z);
  if (std::abs(towards) < 1e-9) return;
  double depth = 0, x = 0, y = 0, t = 0;
  for (int i = 0; i < 6; ++i) {
    t = (depth + dot(piece.middle - ray.origin, z)) / towards;
    const Vec3 at = ray.origin + t * ray.direction - piece.middle;
    x = dot(at, piece.x) / piece.scale_x;
    y = dot(at, piece.y) / piece.scale_y;
    const double next = piece_depth(piece, x / half_x, y / half_y);
    if (std::abs(next - depth) < 1e-7) break;
    depth = next;
  }
  if (!(t > 0 && t < hit.t)) return;
  const Point_mm place{x + half_x, y + half_y};
  if (piece.rolled_mm > 0 && place.x > 2 * half_x - piece.rolled_mm) {
    if (place.x > card.sheet.x_max) return;
    hit = {t, 0.6};  // the folded-back strip shows its blank side
    return;
  }
  const PrintedTone tone = pattern.at(place);
  if (tone == PrintedTone::none) return;
  // From behind a card is blank paper.
  const bool front = towards > 0;
  hit = {t, shade(z) * (front && tone == PrintedTone::black ? 0.035 : 0.72)};
}

void PlanesCast::disc(const Ray& ray, CastHit& hit) const {
  const PlacedDisc& d = *scene_.disc;
  const Vec3 from = ray.origin - d.middle;
  const double along = dot(ray.direction, d.axis), start = dot(from, d.axis);
  for (const double side : {-d.thickness_mm / 2, d.thickness_mm / 2}) {
    if (std::abs(along) < 1e-9) continue;
    const double t = (side - start) / along;
    if (!(t > 0 && t < hit.t)) continue;
    const Vec3 at = from + t * ray.direction - side * d.axis;
    const double r = std::sqrt(dot(at, at));
    if (r < d.radius_mm && r > 30) hit = {t, 0.26 * shade(d.axis) * (1 + 0.05 * std::sin(3 * r))};
  }
  const Vec3 w = ray.direction - along * d.axis, f = from - start * d.axis;
  const double a = dot(w, w), b = dot(w, f), c = dot(f, f) - d.radius_mm * d.radius_mm;
  const double root = b * b - a * c;
  if (root < 0) return;
  const double t = (-b - std::sqrt(root)) / a;
  if (t > 0 && t < hit.t && std::abs(start + t * along) <= d.thickness_mm / 2) hit = {t, 0.14};
}

void PlanesCast::box(const Ray& ray, CastHit& hit) const {
  const PlacedBox& b = *scene_.box;
  const double a = radians(b.turn_deg), c = std::cos(a), s = std::sin(a);
  const Vec3 o{c * (ray.origin.x - b.x_mm) + s * (ray.origin.y - b.y_mm),
               -s * (ray.origin.x - b.x_mm) + c * (ray.origin.y - b.y_mm), ray.origin.z};
  const Vec3 d{c * ray.direction.x + s * ray.direction.y,
               -s * ray.direction.x + c * ray.direction.y, ray.direction.z};
  const double low[3] = {-b.half_x_mm, -b.half_y_mm, -b.height_mm};
  const double high[3] = {b.half_x_mm, b.half_y_mm, 0};
  const double from[3] = {o.x, o.y, o.z}, way[3] = {d.x, d.y, d.z};
  double enter = 0, leave = 1e9;
  int axis = 2;
  for (int i = 0; i < 3; ++i) {
    if (std::abs(way[i]) < 1e-12) {
      if (from[i] < low[i] || from[i] > high[i]) return;
      continue;
    }
    const double t0 = (low[i] - from[i]) / way[i], t1 = (high[i] - from[i]) / way[i];
    if (std::min(t0, t1) > enter) {
      enter = std::min(t0, t1);
      axis = i;
    }
    leave = std::min(leave, std::max(t0, t1));
  }
  if (enter >= leave || enter <= 0 || enter >= hit.t) return;
  const Vec3 at = o + enter * d;
  hit = {enter, (axis == 2 ? 0.11 : 0.07) * (1 + 0.3 * std::sin(5 * at.x) * std::sin(4 * at.y))};
}

CastHit PlanesCast::first(const Ray& ray) const {
  CastHit hit;
  // The table just under the sheet.
  if (ray.direction.z > 1e-9) {
    const double t = (2.0 - ray.origin.z) / ray.direction.z;
    const Vec3 at = ray.origin + t * ray.direction;
    hit = {t, 0.3 * mottle(at.x, at.y)};
  }
  if (hit.t > 5000) hit = {1e9, 0.45};
  piece(scene_.sheet, sheet_pattern_, ray, hit);
  if (scene_.disc) disc(ray, hit);
  if (scene_.box) box(ray, hit);
  for (std::size_t i = 0; i < scene_.cards.size(); ++i)
    piece(scene_.cards[i], card_patterns_[i], ray, hit);
  return hit;
}

}  // namespace scantling::drawn
