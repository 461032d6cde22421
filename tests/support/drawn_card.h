#pragma once

#include <optional>
#include <vector>

#include "card/card_definition.h"
#include "support/drawn_camera.h"
#include "support/drawn_scene.h"

namespace scantling::drawn {

struct CardHit {
  double t = 0;
  Vec3 normal;
  bool black = false;
};

/// A printed card as a thin sheet: printed to scale, leaning, bent about its y axis.
class CardSurface {
 public:
  /// The notch card standing on the table.
  CardSurface(const DrawnCard& card, Vec3 shift);
  /// Any card; `frame` says where its fixed point and its three axes lie in the world.
  CardSurface(const CardDefinition& definition, const DrawnCard& card, Point_mm fixed,
              const Frame& frame);

  std::optional<CardHit> hit(Vec3 origin, Vec3 direction) const;
  /// Whether the sheet lies on the ray beyond its origin.
  bool blocks(Vec3 origin, Vec3 direction) const;
  /// Where a place of the card's own nominal frame lies in the world.
  Vec3 place(Point_mm nominal) const;
  const Ball& ball() const { return ball_; }
  const Frame& frame() const { return frame_; }

 private:
  struct Place {
    double t, u, v;
    Vec3 local;
  };
  std::optional<Place> meet(Vec3 origin, Vec3 direction) const;
  bool black_at(double u, double v) const;
  bool on_id_card(double x, double y) const;  ///< in the notch card's frame
  double sag(double x) const;                 ///< of the sheet behind its own plane

  const CardDefinition* definition_;
  DrawnCard settings_;
  Point_mm fixed_;
  Frame frame_;
  Ball ball_;
  double radius_mm_ = 0;  ///< of the bend, 0 = flat
  int columns_, rows_;
  double square_mm_, marker_mm_, margin_mm_;
  std::vector<std::uint64_t> cells_;  ///< 6 x 6 bits of each white square's marker, by square
};

}  // namespace scantling::drawn
