#include <cmath>
#include <numbers>

#include "made_placement.h"

namespace scantling::made {

namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr int kSteps = 1440;  // 0.3 um of sagitta at the rim
constexpr double kVentDepth_mm = 40;
constexpr double kBellWall_mm = 7;

struct Place {
  double r = 0, y = 0;
};

Vec3 at(double r, double y, double angle) {
  return {r * std::sin(angle), y, r * std::cos(angle)};
}

/// The strip between two circles, or a sector of it.
void revolve(Mesh& mesh, Place a, Place b, double from = 0, double to = kTurn) {
  const int steps = std::max(1, static_cast<int>(std::lround(kSteps * (to - from) / kTurn)));
  int last_a = mesh.add(at(a.r, a.y, from)), last_b = mesh.add(at(b.r, b.y, from));
  for (int i = 1; i <= steps; ++i) {
    const double angle = from + (to - from) * i / steps;
    const int next_a = mesh.add(at(a.r, a.y, angle)), next_b = mesh.add(at(b.r, b.y, angle));
    mesh.quad(last_a, next_a, next_b, last_b);
    last_a = next_a;
    last_b = next_b;
  }
}

/// Chamfer, lip, wall, track and the ridge within it; ends at the bell's foot.
Place add_face(DiscMesh& mesh, const DiscSettings& disc, double side) {
  const double flat = disc.rim_thickness_mm / 2, track = track_height_mm(disc, side < 0);
  const double foot = wall_foot_radius_mm(disc), inner = foot - disc.track_width_mm;
  const double ridge = track + 0.6 * (flat - track);
  const auto strip = [&](Mesh& m, Place a, Place b) {
    revolve(m, {a.r, side * a.y}, {b.r, side * b.y});
  };
  strip(mesh.rim, {disc.radius_mm, flat - disc.edge_mm}, {disc.radius_mm - disc.edge_mm, flat});
  strip(mesh.lip, {disc.radius_mm - disc.edge_mm, flat}, {wall_top_radius_mm(disc), flat});
  strip(mesh.lip, {wall_top_radius_mm(disc), flat}, {foot, track});
  strip(mesh.track, {foot, track}, {inner, track});
  strip(mesh.lip, {inner, track}, {inner - 0.4, ridge});
  return {inner - 0.4, ridge};
}

void add_bell(DiscMesh& mesh, const DiscSettings& disc, Place outboard, Place inboard) {
  const double high = track_height_mm(disc, false) + disc.bell_mm;
  const double inside = disc.bell_radius_mm - kBellWall_mm;
  const Place path[] = {outboard,
                        {disc.bell_radius_mm, outboard.y},
                        {disc.bell_radius_mm, high - 3},
                        {disc.bell_radius_mm - 3, high},
                        {disc.bore_mm, high},
                        {disc.bore_mm, high - kBellWall_mm},
                        {inside, high - kBellWall_mm},
                        {inside, -inboard.y},
                        {inboard.r, -inboard.y}};
  for (size_t i = 0; i + 1 < std::size(path); ++i) revolve(mesh.bell, path[i], path[i + 1]);
  constexpr int kBolts = 5, kAround = 40;
  constexpr double kHole_mm = 7;
  const double circle = (disc.bore_mm + disc.bell_radius_mm) / 2;
  for (int bolt = 0; bolt < kBolts; ++bolt) {
    const Vec3 middle = at(circle, high + 0.02, kTurn * (bolt + 0.3) / kBolts);
    const int centre = mesh.dark.add(middle), first = centre + 1;
    for (int i = 0; i < kAround; ++i) mesh.dark.add(middle + at(kHole_mm, 0, kTurn * i / kAround));
    for (int i = 0; i < kAround; ++i)
      mesh.dark.triangles.push_back({centre, first + i, first + (i + 1) % kAround});
  }
}

void add_rim(DiscMesh& mesh, const DiscSettings& disc) {
  const double r = disc.radius_mm, flat = disc.rim_thickness_mm / 2 - disc.edge_mm;
  const double half = disc.vent_mm / 2;
  if (half <= 0) {
    revolve(mesh.rim, {r, flat}, {r, -flat});
    return;
  }
  const double deep = r - kVentDepth_mm;
  for (const double side : {1.0, -1.0}) {
    revolve(mesh.rim, {r, side * flat}, {r, side * half});
    revolve(mesh.dark, {r, side * half}, {deep, side * half});
  }
  revolve(mesh.dark, {deep, half}, {deep, -half});
  const double pitch = kTurn / disc.vanes, vane = disc.vane_share * pitch;
  for (int i = 0; i < disc.vanes; ++i) {
    const double from = i * pitch - vane / 2, to = i * pitch + vane / 2;
    revolve(mesh.rim, {r, half}, {r, -half}, from, to);
    for (const double angle : {from, to}) {
      Mesh& m = mesh.dark;
      m.quad(m.add(at(r, half, angle)), m.add(at(deep, half, angle)), m.add(at(deep, -half, angle)),
             m.add(at(r, -half, angle)));
    }
  }
}

}  // namespace

DiscMesh disc_mesh(const DiscSettings& disc) {
  DiscMesh mesh;
  const Place outboard = add_face(mesh, disc, 1), inboard = add_face(mesh, disc, -1);
  add_rim(mesh, disc);
  add_bell(mesh, disc, outboard, inboard);
  return mesh;
}

}  // namespace scantling::made
