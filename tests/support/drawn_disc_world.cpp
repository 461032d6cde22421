#include "support/drawn_disc_world.h"

#include <algorithm>

namespace scantling::drawn {
namespace {

enum Thing { kNothing, kCard, kGround, kWall, kInk, kCardSide, kDisc = 16, kVent = 40 };

double fade(double distance, double reach) {
  return std::exp(-std::max(0.0, distance) / reach);
}

Tile rim_tile(const DrawnDiscScene& scene) {
  const double contrast = scene.disc.texture;
  switch (scene.disc.finish) {
    case DiscFinish::rust:
      return noise_tile(scene.seed + 21, 1024, 0.1, 5, 0.85, contrast, 2);
    case DiscFinish::bare:
      return noise_tile(scene.seed + 21, 1024, 0.1, 1.2, 0.9, contrast, 32);
    case DiscFinish::coated:
      break;
  }
  return noise_tile(scene.seed + 21, 1024, 0.1, 3, 0.6, 0.4 * contrast, 4);
}

Tile dirt_tile(std::uint32_t seed) {
  Random random(seed * 613ull + 3);
  Tile tile(1024, 0.08);
  tile.add_noise(random, 6, 0.7, 0.35);
  tile.add_spots(random, 2.5, 0.16, 0.9, 0.8);
  tile.normalise(0.5, 0);
  return tile;
}

Tile ground_tile(const DrawnDiscScene& scene) {
  if (scene.place.table == Table::wood)
    return noise_tile(scene.seed + 4, 1024, 0.15, 2.4, 0.8, 0.12, 32);
  return noise_tile(scene.seed + 4, 1024, 0.15, 12, 0.85, 0.12);
}

}  // namespace

DiscWorld::DiscWorld(const DrawnDiscScene& scene)
    : scene_(scene),
      card_(disc_card(scene)),
      disc_(scene.disc),
      frame_(disc_frame(scene)),
      foot_(scene.disc.wall_foot_radius_mm()),
      near_(foot_ - 6),
      rim_(rim_tile(scene)),
      track_(noise_tile(scene.seed + 22, 1024, 0.08, 1.6, 0.9, scene.disc.grooves, 32)),
      dirt_(dirt_tile(scene.seed)),
      ground_(ground_tile(scene)),
      clutter_(noise_tile(scene.seed + 5, 64, 12, 200, 0.6, scene.place.clutter)) {
  const double a = radians(scene.place.sun_azimuth_deg), e = radians(scene.place.sun_elevation_deg);
  sun_ = {std::sin(a) * std::cos(e), -std::sin(e), -std::cos(a) * std::cos(e)};
  sun_a_ = unit(cross(sun_, std::abs(sun_.y) < 0.9 ? Vec3{0, 1, 0} : Vec3{1, 0, 0}));
  sun_b_ = cross(sun_, sun_a_);
  sun_size_ = std::tan(radians(scene.place.sun_radius_deg));
  // Light is counted so that the card's face gets 1 where nothing shades it.
  const Vec3 face = scene.view == DiscView::lip ? Vec3{0, -1, 0} : Vec3{0, 0, -1};
  const double on_card = std::max(0.0, dot(face, sun_));
  sun_light_ = scene.place.sun_share / std::max(0.3, on_card);
  sky_light_ = (1 - scene.place.sun_share) / sky(face);
  const double full = sun_light_ * on_card + sky_light_ * sky(face);
  gain_ = scene.camera.paper_level / (scene.card.paper * full);
}

DiscWorld::Spot DiscWorld::nearest(const Ray& ray) const {
  Spot spot;
  const Vec3 o = ray.origin, d = ray.direction;
  if (d.z > 0) spot = {(scene_.place.wall_mm - o.z) / d.z, kWall, {0, 0, -1}};
  if (d.y != 0) {
    const double t = (scene_.ground_mm - o.y) / d.y;
    if (t > 0 && t < spot.t && o.z + t * d.z > scene_.place.table_front_mm)
      spot = {t, kGround, {0, d.y > 0 ? -1.0 : 1.0, 0}};
  }
  if (scene_.card.present)
    if (const auto hit = card_.hit(o, d); hit && hit->t < spot.t) {
      spot = {hit->t, kCard, hit->normal};
      spot.black = hit->black;
    }
  const Vec3 po = frame_.in(o), pd = frame_.direction_in(d);
  if (const auto hit = disc_.enter(po, pd); hit && hit->t < spot.t) {
    spot = {hit->t,
            kDisc + static_cast<int>(hit->part),
            frame_.direction_out(hit->normal),
            hit->part,
            hit->inside_mm,
            false};
    if (hit->inside_mm > 0) spot.thing = kVent;
    // The card's own thickness shows as a strip of paper under its near side.
    else if (scene_.view == DiscView::lip && scene_.card.present && hit->part == DiscPart::track &&
             card_.blocks(o + hit->t * d, {0, -1, 0}))
      spot.thing = kCardSide;
  }
  return spot;
}

Colour DiscWorld::disc_albedo(const Spot& spot, Vec3 q) const {
  const DrawnDisc& disc = scene_.disc;
  const double r = std::hypot(q.x, q.z), round = std::atan2(q.x, q.z);
  const double along = round * disc.radius_mm;
  const auto rusty = [&](double value, double share) {
    return value * Colour{1 + 0.55 * share, 1 - 0.05 * share, 1 - 0.4 * share};
  };
  const double rust = disc.finish == DiscFinish::rust ? 0.8 : 0.15;
  switch (spot.part) {
    case DiscPart::track: {
      double value = disc.track_albedo * track_.sample(along, r);
      value *= 0.8 + 0.2 * track_.sample(0.05 * along, 0.21 * r + 17);  // broad rings
      const double speck = dirt_.sample(along, r);
      const double near_wall = foot_ - r;
      const double ragged = disc.rust_edge_mm * (0.55 + 0.45 * rim_.sample(along, 31));
      if (disc.rust_edge_mm > 0 && near_wall < ragged)
        return rusty(disc.lip_albedo * 1.25 * rim_.sample(along, r), 0.8);
      const double covered = disc.dirt * (0.25 + 0.75 * fade(near_wall, 4));
      if (speck > 1 + 1.1 * (1 - covered)) return rusty(0.09 * rim_.sample(r, along), 0.5);
      return value * Colour{1.01, 1, 0.98};
    }
    case DiscPart::wall:
      return rusty(disc.wall_albedo * rim_.sample(along, 2 * q.y + r), 0.6 * rust);
    case DiscPart::lip:
      return rusty(disc.lip_albedo * rim_.sample(along, r), rust);
    case DiscPart::edge:
      return rusty(0.5 * (disc.lip_albedo + disc.rim_albedo) * rim_.sample(along, r + q.y), rust);
    case DiscPart::rim: {
      if (spot.inside_mm > 0) return rusty(0.11 * rim_.sample(along + r, q.y + r), 0.6);
      double value = disc.rim_albedo * rim_.sample(along, q.y + 7);
      const double half = disc.rim_thickness_mm / 2;
      if (disc.seam_mm > 0 && std::abs(q.y - 0.06 * half) < disc.seam_mm / 2) value *= 1.5;
      const double ragged = disc.band_mm * (0.8 + 0.2 * rim_.sample(along, 11));
      if (disc.band_mm > 0 && half - std::abs(q.y) < ragged)
        value = 0.6 * value + 0.4 * disc.track_albedo;
      return rusty(value, rust);
    }
    case DiscPart::bell:
    case DiscPart::under:
      break;
  }
  return rusty(0.13 * rim_.sample(along, r + q.y), 0.5);
}

Colour DiscWorld::albedo(const Spot& spot, Vec3 p, Vec3 q) const {
  switch (spot.thing) {
    case kCard: {
      const double grain = 0.96 + 0.04 * ground_.sample(p.x * 3, (p.y + p.z) * 3);
      const double v = (spot.black ? scene_.card.ink : scene_.card.paper) * grain;
      return {v, v, v * (spot.black ? 1.03 : 0.985)};
    }
    case kCardSide:
      return {0.6, 0.6, 0.58};
    case kGround:
      if (spot.normal.y > 0) return {0.05, 0.05, 0.05};
      return scene_.place.table_albedo * ground_.sample(p.x, p.z) *
             (scene_.place.table == Table::wood ? Colour{1.25, 0.97, 0.66} : Colour{1.02, 1, 0.96});
    case kWall: {
      const double v = scene_.place.wall_albedo * clutter_.sample(p.x + 300, p.y + 100);
      const double hue = 0.25 * (clutter_.sample(p.y + 40, p.x - 170) - 1);
      return {v * (1 + hue), v, v * (1 - hue)};
    }
    default:
      return disc_albedo(spot, q);
  }
}

double DiscWorld::openness(const Spot& spot, Vec3 p, Vec3 q) const {
  const DrawnDisc& disc = scene_.disc;
  const double r = std::hypot(q.x, q.z);
  switch (spot.thing) {
    case kGround: {
      const double gap = std::max(3.0, scene_.ground_mm - p.y + 10);
      return 1 - 0.75 * fade(r - disc.radius_mm + 0.3 * gap, gap);
    }
    case kCardSide:
      return 0.7;
    case kVent:
      return 0.75 * fade(spot.inside_mm, 4.5);
    case kCard:
    case kWall:
    case kNothing:
      return 1;
    default:
      break;
  }
  const double lip = q.y > 0 ? disc.lip_a_mm : disc.lip_b_mm;
  const double track_y = disc.rim_thickness_mm / 2 - disc.lip_rise_mm - lip;
  if (spot.part == DiscPart::track) return 1 - 0.4 * fade(foot_ - r, 0.8 * lip + 0.05);
  if (spot.part == DiscPart::wall)
    return 0.6 + 0.4 * std::clamp((std::abs(q.y) - track_y) / std::max(lip, 0.05), 0.0, 1.0);
  return 1;
}

/// Turning marks throw light into a cone about their own direction, not into a spot.
double DiscWorld::shine(const Spot& spot, Vec3 q, Vec3 half) const {
  if (spot.thing < kDisc || spot.thing == kVent) return 0;
  const DrawnDisc& disc = scene_.disc;
  double strength = 0;
  if (spot.part == DiscPart::track)
    strength = disc.shine;
  else if (disc.finish == DiscFinish::bare)
    strength = 0.5 * disc.shine;
  else if (spot.part == DiscPart::wall)
    strength = 0.15 * disc.shine;
  if (strength <= 0) return 0;
  const double r = std::hypot(q.x, q.z);
  const Vec3 marks = frame_.direction_out({q.z / r, 0, -q.x / r});
  const double across = dot(half, marks), facing = std::max(0.0, dot(half, spot.normal));
  return strength * std::pow(std::max(0.0, 1 - across * across), 60) * facing * facing;
}

bool DiscWorld::lit(const Spot& spot, Vec3 p, Vec3 towards) const {
  if (scene_.card.present && spot.thing != kCard && spot.thing != kCardSide &&
      card_.blocks(p, towards))
    return false;
  const Vec3 q = frame_.in(p) + 1e-4 * frame_.direction_in(spot.normal);
  return !disc_.blocks(q, frame_.direction_in(towards), spot.inside_mm);
}

Seen DiscWorld::look(const Ray& ray, Point_mm lamp) const {
  const Spot spot = nearest(ray);
  const double warm = 0.12 * scene_.place.warmth;
  const Colour sun_tint{1 + warm, 1, 1 - 1.5 * warm}, sky_tint{1 - 0.04, 1, 1.06};
  if (spot.thing == kNothing) return {gain_ * sky_light_ * 0.8 * sky_tint, kNothing, true};
  const Vec3 p = ray.origin + spot.t * ray.direction;
  const Vec3 q = frame_.in(p);
  Colour light = sky_light_ * sky(spot.normal) * openness(spot, p, q) * sky_tint;
  Colour gleam;
  if (spot.thing == kWall) {
    light += 0.5 * sun_light_ * sun_tint;
  } else {
    const Vec3 towards = unit(sun_ + sun_size_ * (lamp.x * sun_a_ + lamp.y * sun_b_));
    const double slope = dot(spot.normal, towards);
    if (slope > 0 && lit(spot, p, towards)) {
      light += sun_light_ * slope * sun_tint;
      gleam = shine(spot, q, unit(towards - ray.direction)) * sun_light_ * sun_tint;
    }
  }
  const Colour own = albedo(spot, p, q);
  // Specks and rust do not gleam.
  const double bare = std::min(1.0, own.blue / (0.5 * scene_.disc.track_albedo));
  Colour seen = own * light;
  seen += bare * gleam;
  // Where nothing is measured the texture may stay coarse.
  const bool coarse = spot.thing == kGround || spot.thing == kWall || spot.thing == kVent ||
                      (spot.thing >= kDisc && q.x * q.x + q.z * q.z < near_ * near_);
  return {gain_ * seen, spot.black ? kInk : spot.thing, coarse};
}

}  // namespace scantling::drawn
