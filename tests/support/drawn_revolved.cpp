#include "support/drawn_revolved.h"

#include <algorithm>

namespace scantling::drawn {
namespace {

constexpr int kRoundPieces = 6;
constexpr double kMouthCorner_mm = 1.2;
constexpr double kVentDepth_mm = 45;
constexpr double kBellRadius_mm = 74;

double angle_of(Vec3 p) {
  return std::atan2(p.x, p.z);
}

}  // namespace

Revolved::Revolved(const DrawnDisc& disc) : disc_(disc) {
  if (disc.vented) vent_half_mm_ = disc.vent_share * disc.rim_thickness_mm / 2;
  const double worn_a = disc.worn_thickness_mm() / 2 + (disc.lip_b_mm - disc.lip_a_mm) / 2;
  const double high = worn_a + (disc.bell_on_a ? disc.bell_mm : 0);
  const double worn_b = disc.worn_thickness_mm() - worn_a;
  const double low = -worn_b - (disc.bell_on_a ? 0 : disc.bell_mm);
  last_r_ = 0;
  last_y_ = high;
  add(kBellRadius_mm - 2, high, DiscPart::bell);
  if (disc.bell_on_a && disc.bell_mm > 0) {
    add(kBellRadius_mm, high - 2, DiscPart::bell);
    add(kBellRadius_mm, worn_a, DiscPart::bell);
  }
  close_group();
  add_face(true);
  close_group();
  const double half = disc.rim_thickness_mm / 2;
  add(disc.radius_mm, -half + disc.edge_b_mm, DiscPart::rim);
  close_group();
  add_face(false);
  close_group();
  if (!disc.bell_on_a && disc.bell_mm > 0) {
    add(kBellRadius_mm, -worn_b, DiscPart::track);
    add(kBellRadius_mm, low, DiscPart::under);
  }
  add(0, low, DiscPart::under);
  close_group();
}

void Revolved::close_group() {
  Group group{groups_.empty() ? 0 : groups_.back().last, section_.size(), 1e9, -1e9};
  for (std::size_t i = group.first; i < group.last; ++i) {
    group.y_low = std::min({group.y_low, section_[i].y0, section_[i].y1});
    group.y_high = std::max({group.y_high, section_[i].y0, section_[i].y1});
  }
  groups_.push_back(group);
}

/// Calls `piece` with all pieces that the ray can meet; it answers false to stop.
template <typename Piece>
void Revolved::visit(Vec3 o, Vec3 d, Piece&& piece) const {
  // The square of the ray's distance from the axis is a parabola over t.
  const double a = d.x * d.x + d.z * d.z, b = o.x * d.x + o.z * d.z, c = o.x * o.x + o.z * o.z;
  const auto square = [&](double t) { return c + t * (2 * b + t * a); };
  constexpr double kSlack = 1e-6;
  for (const Group& group : groups_) {
    double t0 = 0, t1 = 1e6;
    if (std::abs(d.y) > 1e-12) {
      const double low = (group.y_low - kSlack - o.y) / d.y;
      const double high = (group.y_high + kSlack - o.y) / d.y;
      t0 = std::max(t0, std::min(low, high));
      t1 = std::max(low, high);
    } else if (o.y < group.y_low - kSlack || o.y > group.y_high + kSlack) {
      continue;
    }
    if (t0 > t1) continue;
    const double s0 = square(t0), s1 = square(t1), turn = a > 0 ? -b / a : t0;
    const double most = std::max(s0, s1) + kSlack;
    const double least = (turn > t0 && turn < t1 ? square(turn) : std::min(s0, s1)) - kSlack;
    for (std::size_t i = group.first; i < group.last; ++i) {
      const SectionPiece& s = section_[i];
      if (s.r_high * s.r_high < least || s.r_low * s.r_low > most) continue;
      if (!piece(s)) return;
    }
  }
}

void Revolved::add(double r, double y, DiscPart part) {
  const double dr = r - last_r_, dy = y - last_y_, length = std::hypot(dr, dy);
  if (length > 0) {
    SectionPiece piece{last_r_, last_y_, r, y, part};
    piece.flat = std::abs(dy) < 1e-9;
    piece.k = piece.flat ? 0 : dr / dy;
    piece.nr = -dy / length;
    piece.ny = piece.flat ? (dr > 0 ? 1 : -1) : dr / length;
    piece.r_low = std::min(last_r_, r);
    piece.r_high = std::max(last_r_, r);
    section_.push_back(piece);
  }
  last_r_ = r;
  last_y_ = y;
}

/// The track, the wall, the lip and its outer edge; on face b from the rim inwards.
void Revolved::add_face(bool face_a) {
  const DrawnDisc& d = disc_;
  const double flat = d.rim_thickness_mm / 2, edge = face_a ? d.edge_a_mm : d.edge_b_mm;
  const double lip = face_a ? d.lip_a_mm : d.lip_b_mm;
  const double crest = flat - d.lip_rise_mm, track = crest - lip;
  struct Place {
    double r, y;
    DiscPart part;  ///< of the piece that ends here, seen from the axis outwards
  };
  std::vector<Place> places;
  const double foot = d.wall_foot_radius_mm(), top = d.wall_top_radius_mm();
  const double inner = foot - d.track_width_mm;
  if (inner > kBellRadius_mm + 3) {
    places.push_back({inner - 0.4, track + 0.6 * lip, DiscPart::lip});
    places.push_back({inner, track, DiscPart::wall});
  }
  places.push_back({foot, track, DiscPart::track});
  if (d.wall_hollow)
    for (int i = 1; i < kRoundPieces; ++i) {
      const double s = static_cast<double>(i) / kRoundPieces;
      places.push_back({foot + d.wall_run_mm * (2 * s * (1 - s) * 0.8 + s * s),
                        track + lip * (2 * s * (1 - s) * 0.12 + s * s), DiscPart::wall});
    }
  places.push_back({top, crest, DiscPart::wall});
  places.push_back({d.radius_mm - edge, flat, DiscPart::lip});
  if (d.edge_round)
    for (int i = 1; i < kRoundPieces; ++i) {
      const double turn = std::numbers::pi / 2 * i / kRoundPieces;
      places.push_back({d.radius_mm - edge * (1 - std::sin(turn)),
                        flat - edge * (1 - std::cos(turn)), DiscPart::edge});
    }
  places.push_back({d.radius_mm, flat - edge, DiscPart::edge});
  if (face_a) {
    if (inner > kBellRadius_mm + 3) add(kBellRadius_mm, track + 0.6 * lip, DiscPart::bell);
    for (const Place& p : places) add(p.r, p.y, p.part);
    return;
  }
  for (std::size_t i = places.size(); i-- > 1;)
    add(places[i - 1].r, -places[i - 1].y, places[i].part);
}

std::optional<RevolvedHit> Revolved::meet(const SectionPiece& s, Vec3 o, Vec3 d,
                                          double nearer_than) const {
  constexpr double kLeast = 1e-6;
  if (s.flat) {
    if (d.y * s.ny >= 0) return std::nullopt;
    const double t = (s.y0 - o.y) / d.y;
    if (!(t > kLeast && t < nearer_than)) return std::nullopt;
    const double x = o.x + t * d.x, z = o.z + t * d.z, r2 = x * x + z * z;
    if (r2 < s.r_low * s.r_low || r2 > s.r_high * s.r_high) return std::nullopt;
    return RevolvedHit{t, {0, s.ny, 0}, s.part};
  }
  if (d.y != 0) {  // outside its slab, or within it only too near the axis
    const double t0 = (s.y0 - o.y) / d.y, t1 = (s.y1 - o.y) / d.y;
    if (std::max(t0, t1) < 0 || std::min(t0, t1) > nearer_than) return std::nullopt;
    const double x0 = o.x + t0 * d.x, z0 = o.z + t0 * d.z;
    const double x1 = o.x + t1 * d.x, z1 = o.z + t1 * d.z, low2 = s.r_low * s.r_low;
    if (x0 * x0 + z0 * z0 < low2 && x1 * x1 + z1 * z1 < low2) return std::nullopt;
  } else if (o.y < std::min(s.y0, s.y1) || o.y > std::max(s.y0, s.y1)) {
    return std::nullopt;
  }
  const double base = s.r0 + s.k * (o.y - s.y0), slope = s.k * d.y;
  const double a = d.x * d.x + d.z * d.z - slope * slope;
  const double b = o.x * d.x + o.z * d.z - base * slope;
  const double c = o.x * o.x + o.z * o.z - base * base;
  const double root2 = b * b - a * c;
  if (root2 < 0 || a == 0) return std::nullopt;
  const double root = std::sqrt(root2), y_low = std::min(s.y0, s.y1), y_high = s.y0 + s.y1 - y_low;
  std::optional<RevolvedHit> best;
  for (int i = 0; i < 2; ++i) {
    const double t = (i == 0 ? -b - root : -b + root) / a;
    if (!(t > kLeast && t < nearer_than)) continue;
    const double y = o.y + t * d.y, r = base + slope * t;
    if (y < y_low || y > y_high || r <= 0) continue;
    const Vec3 normal{s.nr * (o.x + t * d.x) / r, s.ny, s.nr * (o.z + t * d.z) / r};
    if (dot(normal, d) >= 0) continue;
    nearer_than = t;
    best = RevolvedHit{t, normal, s.part};
  }
  return best;
}

bool Revolved::in_mouth(Vec3 p) const {
  if (vent_half_mm_ <= 0 || std::abs(p.y) > vent_half_mm_) return false;
  const double pitch = 2 * std::numbers::pi / disc_.vanes;
  const double within = std::abs(std::remainder(angle_of(p), pitch));
  const double half = (1 - disc_.vane_share) * pitch / 2 * disc_.radius_mm;
  const double corner = std::min({kMouthCorner_mm, half, vent_half_mm_});
  const double x = within * disc_.radius_mm - (half - corner);
  const double y = std::abs(p.y) - (vent_half_mm_ - corner);
  if (x > corner) return false;
  return x <= 0 || y <= 0 || x * x + y * y <= corner * corner;
}

/// A ray that fell into a mouth at `t` meets the vent's floor, a vane or the dark.
RevolvedHit Revolved::into_vent(double t, Vec3 o, Vec3 d) const {
  const double depth = disc_.radius_mm - kVentDepth_mm;
  RevolvedHit hit{t + 60, -1 * d, DiscPart::rim, kVentDepth_mm};
  if (d.y != 0) {
    const double side = d.y > 0 ? 1 : -1;
    if (const double at = (side * vent_half_mm_ - o.y) / d.y; at > t && at < hit.t)
      hit = {at, {0, -side, 0}, DiscPart::rim, 0};
  }
  const double pitch = 2 * std::numbers::pi / disc_.vanes;
  const Vec3 entry = o + t * d;
  const double centre = pitch * std::round(angle_of(entry) / pitch);
  for (const double side : {-1.0, 1.0}) {  // the vanes' sides are planes through the axis
    const double angle = centre + side * (1 - disc_.vane_share) * pitch / 2;
    const Vec3 inwards{-side * std::cos(angle), 0, side * std::sin(angle)};
    const double speed = dot(inwards, d);
    if (speed >= 0) continue;
    if (const double at = -dot(inwards, o) / speed; at > t && at < hit.t)
      hit = {at, inwards, DiscPart::rim, 0};
  }
  const Vec3 p = o + hit.t * d;
  hit.inside_mm = std::max(1e-3, disc_.radius_mm - std::max(depth, std::hypot(p.x, p.z)));
  return hit;
}

std::optional<RevolvedHit> Revolved::enter(Vec3 origin, Vec3 direction) const {
  std::optional<RevolvedHit> best;
  double nearest = 1e18;
  visit(origin, direction, [&](const SectionPiece& piece) {
    if (const auto hit = meet(piece, origin, direction, nearest)) {
      best = hit;
      nearest = hit->t;
    }
    return true;
  });
  if (best && best->part == DiscPart::rim && in_mouth(origin + best->t * direction))
    return into_vent(best->t, origin, direction);
  return best;
}

bool Revolved::blocks(Vec3 origin, Vec3 direction, double inside_mm) const {
  if (inside_mm > 0) {
    const double a = direction.x * direction.x + direction.z * direction.z;
    const double b = origin.x * direction.x + origin.z * direction.z;
    const double c = origin.x * origin.x + origin.z * origin.z - disc_.radius_mm * disc_.radius_mm;
    const double t = (-b + std::sqrt(std::max(0.0, b * b - a * c))) / a;
    return !in_mouth(origin + t * direction);
  }
  bool blocked = false;
  visit(origin, direction, [&](const SectionPiece& piece) {
    blocked = meet(piece, origin, direction, 1e18).has_value();
    return !blocked;
  });
  return blocked;
}

}  // namespace scantling::drawn
