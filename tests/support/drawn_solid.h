#pragma once

#include <optional>
#include <vector>

#include "support/drawn_math.h"
#include "support/drawn_scene.h"

namespace scantling::drawn {

/// What kind of surface a half-space's border is.
enum class Face { side, top, bottom, back, end, edge };

/// All points p with dot(normal, p) <= reach.
struct HalfSpace {
  Vec3 normal;
  double reach = 0;
  Face face = Face::side;
};

struct SolidHit {
  double t = 0;
  Vec3 normal;
  Face face = Face::side;
};

/// A convex body: what all its half-spaces have in common.
struct Solid {
  std::vector<HalfSpace> faces;
  bool friction = false;
};

/// The pad as convex bodies in its own frame: x along the edge (0 = the middle of the notch), y up
/// from the plate's outer face, z into the pad from the plate's visible side face.
struct PadShape {
  std::vector<Solid> solids;
  Ball ball;                 ///< around all of it, in its own frame
  Frame frame;               ///< card's frame from the pad's
  std::vector<float> waves;  ///< height of the friction surface along x, mm
  std::vector<float> chips;  ///< break-out of its outer edge along x, mm, not negative

  static constexpr double kStep_mm = 0.05;
  double wave_at(double x) const { return at(waves, x); }
  double chip_at(double x) const { return at(chips, x); }

  /// Where a ray of the pad's frame enters `solid`; the friction surface is uneven.
  std::optional<SolidHit> enter(const Solid& solid, Vec3 origin, Vec3 direction) const;
  /// Whether anything lies on the ray beyond its origin, `except` left out.
  bool blocks(Vec3 origin, Vec3 direction, const Solid* except) const;

 private:
  static double at(const std::vector<float>& table, double x);
};

PadShape build_pad(const DrawnPad& pad, std::uint32_t seed);

/// The three edges of the truth, in the pad's frame at x along the edge: where the flat face begins
/// (`outer`) and where the side face ends (`inner`).
struct EdgePlace {
  Vec3 outer;
  Vec3 inner;
};
EdgePlace plate_outer_edge(const DrawnPad& pad, double x);
EdgePlace plate_friction_edge(const DrawnPad& pad, double x);
EdgePlace friction_outer_edge(const DrawnPad& pad, double x);

}  // namespace scantling::drawn
