#pragma once

#include <optional>
#include <vector>

#include "support/drawn_disc.h"
#include "support/drawn_math.h"

namespace scantling::drawn {

/// What a piece of the disc's surface is.
enum class DiscPart { track, wall, lip, edge, rim, bell, under };

/// A straight piece of the half section: from (r0, y0) to (r1, y1), the material on its right.
struct SectionPiece {
  double r0 = 0, y0 = 0, r1 = 0, y1 = 0;
  DiscPart part = DiscPart::track;
  bool flat = false;      ///< a ring across the axis
  double k = 0;           ///< dr/dy
  double nr = 0, ny = 0;  ///< normal
  double r_low = 0, r_high = 0;
};

struct RevolvedHit {
  double t = 0;
  Vec3 normal;
  DiscPart part = DiscPart::track;
  double inside_mm = 0;  ///< how deep within a vent, 0 = on the outer surface
};

/// The disc as a body of revolution about y with mouths of the vents in its rim.
class Revolved {
 public:
  explicit Revolved(const DrawnDisc& disc);

  /// Where a ray of the disc's frame enters the body first.
  std::optional<RevolvedHit> enter(Vec3 origin, Vec3 direction) const;
  /// Whether the body lies on the ray; `inside_mm` of the ray's start as in RevolvedHit.
  bool blocks(Vec3 origin, Vec3 direction, double inside_mm) const;
  /// Whether the rim is open there.
  bool in_mouth(Vec3 on_rim) const;
  const std::vector<SectionPiece>& section() const { return section_; }

 private:
  /// Pieces that follow each other, with the slab in which they lie.
  struct Group {
    std::size_t first = 0, last = 0;  ///< one past the last
    double y_low = 0, y_high = 0;
  };
  void add(double r, double y, DiscPart part);
  void add_face(bool face_a);
  void close_group();
  template <typename Piece>
  void visit(Vec3 origin, Vec3 direction, Piece&& piece) const;
  std::optional<RevolvedHit> meet(const SectionPiece& piece, Vec3 origin, Vec3 direction,
                                  double nearer_than) const;
  RevolvedHit into_vent(double t, Vec3 origin, Vec3 direction) const;

  DrawnDisc disc_;
  std::vector<SectionPiece> section_;
  std::vector<Group> groups_;
  double last_r_ = 0, last_y_ = 0;
  double vent_half_mm_ = 0;
};

}  // namespace scantling::drawn
