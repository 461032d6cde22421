#include "support/drawn_solid.h"

#include <algorithm>
#include <limits>

namespace scantling::drawn {
namespace {

constexpr int kRoundFacets = 5;
constexpr double kInfinity = std::numeric_limits<double>::infinity();

/// Breaks the edge between two faces, as a 45 degree chamfer of leg `size` or a rounding.
void break_edge(Solid& solid, const HalfSpace& side, const HalfSpace& flat, double size,
                bool round) {
  if (size <= 0) return;
  const int count = round ? kRoundFacets : 1;
  for (int i = 0; i < count; ++i) {
    const double angle = std::numbers::pi / 2 * (i + 1) / (count + 1);
    const double c = std::cos(angle), s = std::sin(angle);
    // The corner itself lies on both planes; the facet cuts `depth` below it.
    const double depth = round ? size * (c + s - 1) : size * c;
    solid.faces.push_back(
        {c * flat.normal + s * side.normal, c * flat.reach + s * side.reach - depth, Face::edge});
  }
}

/// The side faces seen by the camera: one plane, or tangents of a cylinder where curved in plan.
std::vector<HalfSpace> side_faces(const DrawnPad& pad, double setback) {
  if (pad.plan_radius_mm <= 0) return {{{0, 0, -1}, -setback, Face::side}};
  std::vector<HalfSpace> faces;
  const double reach = pad.length_mm / 2 + std::abs(pad.shift_mm) + 4;
  const int count = static_cast<int>(2 * reach / 4);
  for (int i = 0; i <= count; ++i) {
    const double angle =
        std::asin(std::clamp((2.0 * i / count - 1) * reach / pad.plan_radius_mm, -0.9, 0.9));
    const Vec3 normal{std::sin(angle), 0, -std::cos(angle)};
    // Tangent to the circle of this radius about (0, plan radius).
    const double radius = pad.plan_radius_mm - setback;
    faces.push_back({normal, dot(normal, {0, 0, pad.plan_radius_mm}) + radius, Face::side});
  }
  return faces;
}

Solid build_plate(const DrawnPad& pad) {
  Solid plate;
  const double middle = pad.shift_mm, half = pad.length_mm / 2;
  const HalfSpace top{{0, 1, 0}, pad.plate_mm, Face::top};
  const HalfSpace bottom{{0, -1, 0}, 0, Face::bottom};
  const auto sides = side_faces(pad, 0);
  plate.faces = {top, bottom, {{0, 0, 1}, pad.depth_mm, Face::back}};
  plate.faces.push_back({{1, 0, 0}, middle + half, Face::end});
  plate.faces.push_back({{-1, 0, 0}, half - middle, Face::end});
  for (const HalfSpace& side : sides) plate.faces.push_back(side);
  for (const HalfSpace& side : sides) {
    break_edge(plate, side, top, pad.plate_edge_mm, pad.plate_edge_round);
    break_edge(plate, side, bottom, pad.plate_edge_mm, pad.plate_edge_round);
  }
  for (int i = 3; i < 5; ++i) {
    const HalfSpace end = plate.faces[static_cast<std::size_t>(i)];
    break_edge(plate, end, top, pad.plate_edge_mm, pad.plate_edge_round);
    break_edge(plate, end, bottom, pad.plate_edge_mm, pad.plate_edge_round);
    if (pad.plan_radius_mm <= 0) break_edge(plate, end, sides[0], 2, false);
  }
  return plate;
}

Solid build_friction(const DrawnPad& pad, double x_min, double x_max, bool low_chamfer,
                     bool high_chamfer) {
  Solid block;
  block.friction = true;
  const double length = std::hypot(1, pad.taper_per_mm);
  const HalfSpace top{{-pad.taper_per_mm / length, 1 / length, 0},
                      (pad.plate_mm + pad.friction_mm) / length,
                      Face::top};
  // Reaches into the plate, so that no slit shows over the plate's broken edge.
  const HalfSpace bottom{{0, -1, 0}, -(pad.plate_mm - 1.5), Face::bottom};
  const HalfSpace high{{1, 0, 0}, x_max, Face::end}, low{{-1, 0, 0}, -x_min, Face::end};
  const auto sides = side_faces(pad, pad.setback_mm);
  block.faces = {top, bottom, {{0, 0, 1}, pad.depth_mm - pad.setback_mm, Face::back}, high, low};
  for (const HalfSpace& side : sides) {
    block.faces.push_back(side);
    break_edge(block, side, top, pad.friction_edge_mm, pad.friction_edge_round);
  }
  if (low_chamfer) break_edge(block, low, top, pad.end_chamfer_mm, false);
  if (high_chamfer) break_edge(block, high, top, pad.end_chamfer_mm, false);
  break_edge(block, low, sides.front(), 1.5, false);
  break_edge(block, high, sides.back(), 1.5, false);
  return block;
}

/// Smooth random heights of unit rms, on a grid of PadShape::kStep_mm.
std::vector<float> random_profile(Random& random, std::size_t count, double length_mm) {
  std::vector<double> sum(count, 0);
  double share = 1;
  for (double wave = length_mm; wave > 0.15; wave /= 2.3, share *= 0.6) {
    const double step = PadShape::kStep_mm / wave, phase = random.uniform();
    std::vector<double> knots(static_cast<std::size_t>(static_cast<double>(count) * step) + 4);
    for (double& knot : knots) knot = random.normal();
    for (std::size_t i = 0; i < count; ++i) {
      const double place = static_cast<double>(i) * step + phase;
      const auto k = static_cast<std::size_t>(place);
      const double t = place - static_cast<double>(k), s = t * t * (3 - 2 * t);
      sum[i] += share * (knots[k] + s * (knots[k + 1] - knots[k]));
    }
  }
  double mean = 0, square = 0;
  for (double v : sum) mean += v / static_cast<double>(count);
  for (double v : sum) square += (v - mean) * (v - mean) / static_cast<double>(count);
  std::vector<float> profile;
  for (double v : sum) profile.push_back(static_cast<float>((v - mean) / std::sqrt(square)));
  return profile;
}

Frame place_pad(const DrawnPad& pad) {
  const double yaw = radians(pad.yaw_deg);
  Frame frame;
  switch (pad.pose) {
    case PadPose::friction_up:
      frame = {{64, 78, pad.offset_mm},
               {std::cos(yaw), 0, std::sin(yaw)},
               {0, -1, 0},
               {-std::sin(yaw), 0, std::cos(yaw)}};
      break;
    case PadPose::friction_down: {
      // The friction surface lies flat on the table, so the taper turns the whole pad.
      const double tilt = std::atan(pad.taper_per_mm), c = std::cos(tilt), s = std::sin(tilt);
      const Vec3 along{c, -s, 0}, up{s, c, 0};
      frame = {Vec3{64, 78, pad.offset_mm} - (pad.plate_mm + pad.friction_mm) * up,
               along,
               up,
               {0, 0, 1}};
      break;
    }
    case PadPose::on_end:
      frame = {{64 + pad.place_mm - (pad.plate_mm + pad.friction_mm) / 2, 55, pad.offset_mm},
               {0, 1, 0},
               {1, 0, 0},
               {0, 0, 1}};
      break;
  }
  return frame;
}

/// The part of a ray inside all half-spaces, each moved outwards by what `shift` says.
template <typename Shift>
bool clip(const std::vector<HalfSpace>& faces, Vec3 origin, Vec3 direction, Shift shift,
          double& enter, double& leave, const HalfSpace*& entered) {
  enter = -kInfinity;
  leave = kInfinity;
  entered = nullptr;
  for (const HalfSpace& face : faces) {
    const double gap = face.reach + shift(face) - dot(face.normal, origin);
    const double speed = dot(face.normal, direction);
    if (speed < 0) {
      if (const double t = gap / speed; t > enter) {
        enter = t;
        entered = &face;
      }
    } else if (speed > 0) {
      leave = std::min(leave, gap / speed);
    } else if (gap < 0) {
      return false;
    }
    if (enter >= leave) return false;
  }
  return true;
}

double plan_sag(const DrawnPad& pad, double x) {
  if (pad.plan_radius_mm <= 0) return 0;
  return pad.plan_radius_mm - std::sqrt(pad.plan_radius_mm * pad.plan_radius_mm - x * x);
}

}  // namespace

double PadShape::at(const std::vector<float>& table, double x) {
  if (table.empty()) return 0;
  const double place = x / kStep_mm + static_cast<double>(table.size()) / 2;
  if (!(place >= 0 && place < static_cast<double>(table.size()) - 1)) return 0;
  const auto i = static_cast<std::size_t>(place);
  const double t = place - static_cast<double>(i);
  return table[i] + t * (table[i + 1] - table[i]);
}

std::optional<SolidHit> PadShape::enter(const Solid& solid, Vec3 origin, Vec3 direction) const {
  double in = 0, out = 0;
  const HalfSpace* face = nullptr;
  if (solid.friction && !waves.empty()) {
    // First against the largest possible body, which tells x; then against the body as it is there.
    constexpr double kMost_mm = 0.6;
    if (!clip(
            solid.faces, origin, direction,
            [](const HalfSpace& f) { return f.face == Face::top ? kMost_mm : 0; }, in, out, face))
      return std::nullopt;
    const double x = origin.x + in * direction.x;
    const double wave = wave_at(x), chip = chip_at(x);
    if (!clip(
            solid.faces, origin, direction,
            [&](const HalfSpace& f) {
              if (f.face == Face::top) return wave;
              return f.face == Face::edge ? wave * f.normal.y - chip : 0.0;
            },
            in, out, face))
      return std::nullopt;
  } else if (!clip(
                 solid.faces, origin, direction, [](const HalfSpace&) { return 0.0; }, in, out,
                 face)) {
    return std::nullopt;
  }
  if (in <= 0 || face == nullptr) return std::nullopt;
  return SolidHit{in, face->normal, face->face};
}

bool PadShape::blocks(Vec3 origin, Vec3 direction, const Solid* except) const {
  if (!ball.near(origin, direction)) return false;
  for (const Solid& solid : solids) {
    if (&solid == except) continue;
    double in = 0, out = 0;
    const HalfSpace* face = nullptr;
    if (clip(
            solid.faces, origin, direction, [](const HalfSpace&) { return 0.0; }, in, out, face) &&
        out > 1e-3)
      return true;
  }
  return false;
}

PadShape build_pad(const DrawnPad& pad, std::uint32_t seed) {
  PadShape shape;
  if (!pad.present) return shape;
  shape.solids.push_back(build_plate(pad));
  const double low = pad.shift_mm - pad.length_mm / 2 + pad.end_gap_mm;
  const double high = pad.shift_mm + pad.length_mm / 2 - pad.end_gap_mm;
  if (pad.slot_mm > 0) {
    shape.solids.push_back(build_friction(pad, low, -pad.slot_mm / 2, true, false));
    shape.solids.push_back(build_friction(pad, pad.slot_mm / 2, high, false, true));
  } else {
    shape.solids.push_back(build_friction(pad, low, high, true, true));
  }
  shape.frame = place_pad(pad);
  const double tall = pad.plate_mm + pad.friction_mm + std::abs(pad.taper_per_mm) * pad.length_mm;
  shape.ball = {{pad.shift_mm, tall / 2, pad.depth_mm / 2},
                std::hypot(pad.length_mm, tall, pad.depth_mm) / 2 + 1};
  if (pad.waviness_mm > 0 || pad.chips_mm > 0) {
    Random random(seed * 977ull + 5);
    const std::size_t count = static_cast<std::size_t>((pad.length_mm + 20) / PadShape::kStep_mm);
    shape.waves = random_profile(random, count, 4);
    shape.chips = random_profile(random, count, 2);
    for (float& v : shape.waves)
      v = std::clamp(v * static_cast<float>(pad.waviness_mm), -0.5f, 0.5f);
    for (float& v : shape.chips)
      v = static_cast<float>(pad.chips_mm) * std::max(0.0f, 1.2f * v + 0.5f);
  }
  return shape;
}

EdgePlace plate_outer_edge(const DrawnPad& pad, double x) {
  const double z = plan_sag(pad, x);
  return {{x, 0, z + pad.plate_edge_mm}, {x, pad.plate_edge_mm, z}};
}

EdgePlace plate_friction_edge(const DrawnPad& pad, double x) {
  const double z = plan_sag(pad, x);
  return {{x, pad.plate_mm, z + std::max(pad.setback_mm, pad.plate_edge_mm)},
          {x, pad.plate_mm - pad.plate_edge_mm, z}};
}

EdgePlace friction_outer_edge(const DrawnPad& pad, double x) {
  const double z = plan_sag(pad, x) + pad.setback_mm;
  const double top = pad.plate_mm + pad.friction_mm + pad.taper_per_mm * x;
  return {{x, top, z + pad.friction_edge_mm}, {x, top - pad.friction_edge_mm, z}};
}

}  // namespace scantling::drawn
