#pragma once

#include "support/drawn_card.h"
#include "support/drawn_cast.h"
#include "support/drawn_disc.h"
#include "support/drawn_revolved.h"
#include "support/drawn_texture.h"

namespace scantling::drawn {

/// All surfaces of a photo of a disc, their textures and the light on them.
class DiscWorld final : public Surroundings {
 public:
  explicit DiscWorld(const DrawnDiscScene& scene);
  Seen look(const Ray& ray, Point_mm lamp) const override;

 private:
  struct Spot {
    double t = 1e18;
    int thing = 0;
    Vec3 normal;
    DiscPart part = DiscPart::track;
    double inside_mm = 0;
    bool black = false;
  };
  Spot nearest(const Ray& ray) const;
  Colour albedo(const Spot& spot, Vec3 p, Vec3 in_disc) const;
  Colour disc_albedo(const Spot& spot, Vec3 q) const;
  double openness(const Spot& spot, Vec3 p, Vec3 in_disc) const;
  double shine(const Spot& spot, Vec3 in_disc, Vec3 half) const;
  bool lit(const Spot& spot, Vec3 p, Vec3 towards) const;
  double sky(Vec3 normal) const { return 0.75 - 0.25 * normal.y - 0.15 * normal.z; }

  const DrawnDiscScene& scene_;
  CardSurface card_;
  Revolved disc_;
  Frame frame_;
  double foot_ = 0, near_ = 0;  ///< radius of the wall's foot; from where the disc counts
  Tile rim_, track_, dirt_, ground_, clutter_;
  Vec3 sun_, sun_a_, sun_b_;
  double sun_size_ = 0, sun_light_ = 0, sky_light_ = 0, gain_ = 1;
};

}  // namespace scantling::drawn
