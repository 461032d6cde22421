#include "support/drawn_surfaces.h"

#include <algorithm>

namespace scantling::drawn {
namespace {

enum Thing { kNothing, kCard, kTable, kWall, kFinger, kInk, kPad = 16 };

double srgb_grey(double linear) {
  const double v = std::clamp(linear, 0.0, 1.0);
  return 255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055);
}

double linear_of_grey(double grey) {
  const double v = std::clamp(grey / 255, 0.0, 1.0);
  return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
}

double fade(double distance, double reach) {
  return std::exp(-std::max(0.0, distance) / reach);
}

Tile plate_tile(const DrawnScene& scene) {
  switch (scene.pad.finish) {
    case PlateFinish::rust:
      return noise_tile(scene.seed + 3, 1024, 0.05, 6, 0.75, 0.30);
    case PlateFinish::bare:
      return noise_tile(scene.seed + 3, 1024, 0.05, 0.8, 0.9, 0.12, 16);
    case PlateFinish::paint:
      break;
  }
  return noise_tile(scene.seed + 3, 1024, 0.05, 1.6, 0.4, 0.04);
}

Tile table_tile(const DrawnScene& scene) {
  switch (scene.place.table) {
    case Table::wood:
      return noise_tile(scene.seed + 4, 1024, 0.15, 2.4, 0.8, 0.12, 32);
    case Table::paper:
      return noise_tile(scene.seed + 4, 256, 0.15, 1, 0.8, 0.01);
    case Table::concrete:
      return noise_tile(scene.seed + 4, 1024, 0.15, 20, 0.85, 0.15);
    case Table::rubber:
      break;
  }
  return noise_tile(scene.seed + 4, 1024, 0.15, 1.2, 0.9, 0.10);
}

Colour table_tint(Table table) {
  switch (table) {
    case Table::wood:
      return {1.25, 0.97, 0.66};
    case Table::paper:
      return {1.0, 1.0, 1.02};
    case Table::concrete:
      return {1.03, 1.0, 0.94};
    case Table::rubber:
      break;
  }
  return {0.98, 1.0, 1.05};
}

}  // namespace

World::World(const DrawnScene& scene)
    : scene_(scene),
      pad_(build_pad(scene.pad, scene.seed)),
      friction_(friction_tile(scene.seed, scene.pad.texture)),
      plate_(plate_tile(scene)),
      table_(table_tile(scene)),
      clutter_(noise_tile(scene.seed + 5, 64, 12, 200, 0.6, scene.place.clutter)) {
  if (scene.card.present) cards_.emplace_back(scene.card, Vec3{});
  if (scene.card.second) cards_.emplace_back(scene.card, Vec3{150, 0, 12});
  const double a = radians(scene.place.sun_azimuth_deg), e = radians(scene.place.sun_elevation_deg);
  sun_ = {std::sin(a) * std::cos(e), -std::sin(e), -std::cos(a) * std::cos(e)};
  sun_a_ = unit(cross(sun_, std::abs(sun_.y) < 0.9 ? Vec3{0, 1, 0} : Vec3{1, 0, 0}));
  sun_b_ = cross(sun_, sun_a_);
  // Light is counted so that the card's face gets 1 where nothing shades it.
  sun_size_ = std::tan(radians(scene.place.sun_radius_deg));
  pad_ball_ = {pad_.frame.out(pad_.ball.centre), pad_.ball.radius};
  const double on_card = std::max(0.0, -sun_.z);
  sun_light_ = scene.place.sun_share / std::max(0.3, on_card);
  sky_light_ = (1 - scene.place.sun_share) / sky({0, 0, -1});
  const double full = sun_light_ * on_card + sky_light_ * sky({0, 0, -1});
  gain_ = scene.camera.paper_level / (scene.card.paper * full);
  if (scene.pad.present) {
    // The friction surface differs from its side by so many grey levels, whatever the light.
    const Vec3 side = pad_.frame.direction_out({0, 0, -1}),
               top = pad_.frame.direction_out({0, 1, 0});
    const auto light = [&](Vec3 n) {
      return sun_light_ * std::max(0.0, dot(n, sun_)) + sky_light_ * sky(n);
    };
    const double grey = srgb_grey(gain_ * scene.pad.friction_albedo * light(side));
    const double wanted = linear_of_grey(std::max(6.0, grey + scene.pad.top_step));
    top_factor_ = wanted / (gain_ * scene.pad.friction_albedo * light(top));
  }
}

double World::sky(Vec3 n) const {
  return 0.75 - 0.25 * n.y - 0.15 * n.z;
}

double World::finger_hit(const Ray& ray, Vec3& normal) const {
  const DrawnFinger& finger = *scene_.card.finger;
  const double r = finger.radius_mm;
  const Vec3 tip{finger.tip.x, finger.tip.y, -r}, root{finger.root.x, finger.root.y, -r - 4};
  const Vec3 axis = root - tip, start = ray.origin - tip;
  const double length2 = dot(axis, axis), along = dot(axis, ray.direction);
  const double across = dot(axis, start);
  const double a = length2 - along * along;
  const double b = length2 * dot(ray.direction, start) - across * along;
  const double c = length2 * dot(start, start) - across * across - r * r * length2;
  const double root2 = b * b - a * c;
  if (root2 < 0) return -1;
  double t = (-b - std::sqrt(root2)) / a;
  double y = across + t * along;
  Vec3 centre = tip + (std::clamp(y / length2, 0.0, 1.0)) * axis;
  if (y <= 0 || y >= length2) {
    centre = y <= 0 ? tip : root;
    const Vec3 from = ray.origin - centre;
    const double half = dot(ray.direction, from), rest = dot(from, from) - r * r;
    if (half * half < rest) return -1;
    t = -half - std::sqrt(half * half - rest);
  }
  normal = (1 / r) * (ray.origin + t * ray.direction - centre);
  return t;
}

World::Spot World::nearest(const Ray& ray) const {
  Spot spot;
  const Vec3 o = ray.origin, d = ray.direction;
  if (d.z > 0) spot = {(scene_.place.wall_mm - o.z) / d.z, kWall, {0, 0, -1}};
  if (d.y > 0 && o.y < 78) {
    const double t = (78 - o.y) / d.y;
    if (t < spot.t && o.z + t * d.z > scene_.place.table_front_mm) spot = {t, kTable, {0, -1, 0}};
  }
  for (const CardSurface& card : cards_)
    if (const auto hit = card.hit(o, d); hit && hit->t < spot.t)
      spot = {hit->t, kCard, hit->normal, Face::side, nullptr, hit->black};
  if (!pad_.solids.empty() && pad_ball_.near(o, d)) {
    const Vec3 po = pad_.frame.in(o), pd = pad_.frame.direction_in(d);
    int number = 0;
    for (const Solid& solid : pad_.solids) {
      number += 8;
      if (const auto hit = pad_.enter(solid, po, pd); hit && hit->t < spot.t)
        spot = {hit->t, kPad + number + static_cast<int>(hit->face),
                pad_.frame.direction_out(hit->normal), hit->face, &solid};
    }
  }
  if (scene_.card.finger) {
    Vec3 normal;
    if (const double t = finger_hit(ray, normal); t > 0 && t < spot.t) spot = {t, kFinger, normal};
  }
  return spot;
}

Colour World::albedo(const Spot& spot, Vec3 p, Vec3 q) const {
  const DrawnPad& pad = scene_.pad;
  switch (spot.thing) {
    case kCard: {
      const double grain = 0.96 + 0.04 * table_.sample(p.x * 3, p.y * 3);
      const double v = (spot.black ? scene_.card.ink : scene_.card.paper) * grain;
      return {v, v, v * (spot.black ? 1.03 : 0.985)};
    }
    case kTable:
      return scene_.place.table_albedo * table_.sample(p.x, p.z) * table_tint(scene_.place.table);
    case kWall: {
      const double v = scene_.place.wall_albedo * clutter_.sample(p.x + 300, p.y + 100);
      const double hue = 0.25 * (clutter_.sample(p.y + 40, p.x - 170) - 1);
      return {v * (1 + hue), v, v * (1 - hue)};
    }
    case kFinger:
      return {0.42, 0.27, 0.20};
    default:
      break;
  }
  // The face's own two coordinates; edges continue the side.
  const bool flat = spot.face == Face::top || spot.face == Face::bottom;
  const double u = q.x, v = flat ? q.z + 23.7 : (spot.face == Face::end ? q.z + 11.3 : 0) + q.y;
  if (spot.solid->friction) {
    double value = pad.friction_albedo * friction_.sample(u, v);
    if (flat) value *= top_factor_;
    if (!flat && q.y < pad.plate_mm + pad.layer_mm) value *= 1.35;
    return value * Colour{1.06, 1.0, 0.92};
  }
  const double value = pad.plate_albedo * plate_.sample(u, v);
  if (pad.finish == PlateFinish::rust) {
    const double rust = std::clamp(3 * (plate_.sample(v + 9, u) - 0.9), 0.0, 1.0);
    return value * Colour{1 + 0.5 * rust, 1 - 0.1 * rust, 1 - 0.4 * rust};
  }
  return value * Colour{0.98, 1.0, 1.03};
}

double World::openness(const Spot& spot, Vec3 p, Vec3 q) const {
  const DrawnPad& pad = scene_.pad;
  const double height = 78 - p.y;
  if (spot.thing == kTable) {
    double open = 1;
    if (!pad_.solids.empty()) {
      // Darker towards the pad's foot, darkest in the gap under its broken edge.
      const bool on_end = pad.pose == PadPose::on_end;
      const double tall = on_end ? 30 : pad.plate_mm + pad.friction_mm;
      const double front = pad.pose == PadPose::friction_down ? pad.setback_mm : 0;
      const double across = on_end ? q.y : q.x - pad.shift_mm + pad.length_mm / 2;
      const double width = on_end ? pad.plate_mm + pad.friction_mm : pad.length_mm;
      const double aside = std::max({0.0, -across, across - width});
      const double ahead = std::max({0.0, front - q.z, q.z - pad.depth_mm});
      const double away = std::hypot(aside, ahead);
      open *= away > 0 ? 1 - 0.5 * fade(away, 0.35 * tall) : 0.25;
    }
    if (scene_.card.present && (p.x < 32 || p.x > 96)) open *= 1 - 0.4 * fade(std::abs(p.z), 8);
    return open;
  }
  if (spot.thing == kCard) return 1 - 0.2 * fade(height, 6);
  if (spot.thing < kPad) return 1;
  double open = 1 - 0.4 * fade(height, 3);
  if (spot.normal.y > 0.1) open *= 0.15 + 0.5 * (1 - fade(height, 4 * pad.plate_edge_mm + 0.1));
  // In the corner between ledge and friction material, the deeper the ledge.
  const double corner = std::min(1.0, pad.setback_mm / 0.5);
  if (spot.solid->friction && q.z < pad.setback_mm + 0.5)
    open *= 1 - 0.35 * corner * fade(q.y - pad.plate_mm, pad.setback_mm + 0.1);
  if (!spot.solid->friction && q.y > pad.plate_mm - 0.01 && q.z < pad.setback_mm)
    open *= 1 - 0.45 * corner * fade(pad.setback_mm - q.z, 1.2);
  return open;
}

double World::gloss(const Spot& spot) const {
  if (spot.thing < kPad || spot.solid->friction) return 0;
  switch (scene_.pad.finish) {
    case PlateFinish::paint:
      return 0.04;
    case PlateFinish::bare:
      return 0.25;
    case PlateFinish::rust:
      break;
  }
  return 0;
}

bool World::lit(const Spot& spot, Vec3 p, Vec3 towards) const {
  for (const CardSurface& card : cards_)
    if (spot.thing != kCard && card.blocks(p, towards)) return false;
  if (!pad_.solids.empty()) {
    const Vec3 q = pad_.frame.in(p) + 1e-3 * pad_.frame.direction_in(spot.normal);
    if (pad_.blocks(q, pad_.frame.direction_in(towards), spot.solid)) return false;
  }
  if (scene_.card.finger && spot.thing != kFinger) {
    Vec3 normal;
    if (finger_hit({p, towards}, normal) > 0) return false;
  }
  return true;
}

Seen World::look(const Ray& ray, Point_mm lamp) const {
  const Spot spot = nearest(ray);
  const double warm = 0.12 * scene_.place.warmth;
  const Colour sun_tint{1 + warm, 1, 1 - 1.5 * warm}, sky_tint{1 - 0.04, 1, 1.06};
  if (spot.thing == kNothing) return {gain_ * sky_light_ * 0.8 * sky_tint, kNothing, true};
  const Vec3 p = ray.origin + spot.t * ray.direction;
  const Vec3 q = pad_.frame.in(p);
  Colour light = sky_light_ * sky(spot.normal) * openness(spot, p, q) * sky_tint;
  const Vec3 towards = unit(sun_ + sun_size_ * (lamp.x * sun_a_ + lamp.y * sun_b_));
  const double slope = dot(spot.normal, towards);
  Colour shine;
  if (spot.thing == kWall) {
    light += 0.5 * sun_light_ * sun_tint;
  } else if (slope > 0 && lit(spot, p, towards)) {
    light += sun_light_ * slope * sun_tint;
    if (const double strength = gloss(spot); strength > 0) {
      const Vec3 half = unit(towards - ray.direction);
      shine =
          strength * sun_light_ * std::pow(std::max(0.0, dot(half, spot.normal)), 40) * sun_tint;
    }
  }
  Colour seen = albedo(spot, p, q) * light;
  seen += shine;
  return {gain_ * seen, spot.black ? kInk : spot.thing,
          spot.thing == kTable || spot.thing == kWall};
}

}  // namespace scantling::drawn
