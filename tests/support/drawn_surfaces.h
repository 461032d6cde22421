#pragma once

#include <vector>

#include "support/drawn_card.h"
#include "support/drawn_cast.h"
#include "support/drawn_solid.h"
#include "support/drawn_texture.h"

namespace scantling::drawn {

/// All surfaces of a scene, their textures and the light on them.
class World final : public Surroundings {
 public:
  explicit World(const DrawnScene& scene);

  Seen look(const Ray& ray, Point_mm lamp) const override;

 private:
  struct Spot {
    double t = 1e18;
    int thing = 0;
    Vec3 normal;
    Face face = Face::side;
    const Solid* solid = nullptr;
    bool black = false;
  };
  Spot nearest(const Ray& ray) const;
  Colour albedo(const Spot& spot, Vec3 p, Vec3 in_pad) const;
  double openness(const Spot& spot, Vec3 p, Vec3 in_pad) const;
  double gloss(const Spot& spot) const;
  double finger_hit(const Ray& ray, Vec3& normal) const;
  bool lit(const Spot& spot, Vec3 p, Vec3 towards) const;
  double sky(Vec3 normal) const;

  const DrawnScene& scene_;
  std::vector<CardSurface> cards_;
  PadShape pad_;
  Tile friction_, plate_, table_, clutter_;
  Vec3 sun_, sun_a_, sun_b_;
  double sun_size_ = 0;
  Ball pad_ball_;
  double sun_light_ = 0, sky_light_ = 0, gain_ = 1, top_factor_ = 1;
};

}  // namespace scantling::drawn
