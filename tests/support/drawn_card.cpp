#include "support/drawn_card.h"

#include "card/marker_bits.h"

namespace scantling::drawn {
namespace {

// The card's fixed point: the middle of the notch on the table.
constexpr double kFootX_mm = 64, kFootY_mm = 78;

}  // namespace

CardSurface::CardSurface(const DrawnCard& card, Vec3 shift)
    : CardSurface(notch_card(), card, {kFootX_mm, kFootY_mm},
                  {Vec3{kFootX_mm, kFootY_mm, 0} + shift}) {}

CardSurface::CardSurface(const CardDefinition& definition, const DrawnCard& card, Point_mm fixed,
                         const Frame& frame)
    : definition_(&definition), settings_(card), fixed_(fixed) {
  columns_ = definition.columns;
  rows_ = definition.rows;
  square_mm_ = definition.square_mm;
  marker_mm_ = definition.marker_mm;
  margin_mm_ = definition.margin_mm;
  const double lean = radians(card.lean_deg);
  frame_ = {frame.origin, frame.a, frame.direction_out({0, std::cos(lean), -std::sin(lean)}),
            frame.direction_out({0, std::sin(lean), std::cos(lean)})};
  const Rectangle_mm& sheet = definition.sheet;
  const double half_width = (sheet.x_max - sheet.x_min) / 2;
  if (card.bend_mm != 0) radius_mm_ = half_width * half_width / (2 * card.bend_mm);
  const Vec3 middle{(sheet.x_min + sheet.x_max) / 2 - fixed.x,
                    (sheet.y_min + sheet.y_max) / 2 - fixed.y, 0};
  ball_ = {frame_.out(middle), 1.1 * std::hypot(half_width, (sheet.y_max - sheet.y_min) / 2) +
                                   std::abs(card.bend_mm) + std::abs(card.ripple_mm)};
  if (card.id_card) ball_.radius += 120;
  int id = definition.first_marker_id;
  cells_.resize(static_cast<std::size_t>(columns_ * rows_), 0);
  for (int row = 0; row < rows_; ++row)
    for (int column = 0; column < columns_; ++column) {
      if ((row + column) % 2 == 0) continue;
      const MarkerBits bits = marker_bits(id++);
      std::uint64_t& cells = cells_[static_cast<std::size_t>(row * columns_ + column)];
      for (std::size_t y = 0; y < 6; ++y)
        for (std::size_t x = 0; x < 6; ++x) {
          const bool border = x == 0 || y == 0 || x == 5 || y == 5;
          if (border || !bits[y - 1][x - 1]) cells |= 1ull << (y * 6 + x);
        }
    }
}

bool CardSurface::on_id_card(double x, double y) const {
  constexpr double kLong_mm = 85.60, kShort_mm = 53.98, kCorner_mm = 3.18, kGap_mm = 24;
  const double width = settings_.id_card_upright ? kShort_mm : kLong_mm;
  const double height = settings_.id_card_upright ? kLong_mm : kShort_mm;
  // From the middle of the card, into its first quarter.
  const double u = std::abs(x - (kFootX_mm - kGap_mm - width / 2)) - (width / 2 - kCorner_mm);
  const double v = std::abs(y - (kFootY_mm - height / 2)) - (height / 2 - kCorner_mm);
  if (u > kCorner_mm || v > kCorner_mm) return false;
  return u < 0 || v < 0 || std::hypot(u, v) < kCorner_mm;
}

double CardSurface::sag(double x) const {
  constexpr double kWave_mm = 60;
  const double ripple = settings_.ripple_mm * std::sin(2 * std::numbers::pi * x / kWave_mm);
  if (radius_mm_ == 0) return ripple;
  const double across = std::sqrt(radius_mm_ * radius_mm_ - x * x);
  return radius_mm_ + (radius_mm_ > 0 ? -across : across) + ripple;
}

std::optional<CardSurface::Place> CardSurface::meet(Vec3 origin, Vec3 direction) const {
  if (!ball_.near(origin, direction)) return std::nullopt;
  const Vec3 o = frame_.in(origin), d = frame_.direction_in(direction);
  double t = 0;
  if (radius_mm_ == 0) {
    if (d.z == 0) return std::nullopt;
    t = -o.z / d.z;
  } else {
    const double a = d.x * d.x + d.z * d.z, oz = o.z - radius_mm_;
    const double b = o.x * d.x + oz * d.z, c = o.x * o.x + oz * oz - radius_mm_ * radius_mm_;
    const double root = b * b - a * c;
    if (root < 0 || a == 0) return std::nullopt;
    // Of the two places on the cylinder the one near the sheet, not the one across.
    const double side = (radius_mm_ > 0) == (d.z > 0) ? -1 : 1;
    t = (-b + side * std::sqrt(root)) / a;
  }
  if (settings_.ripple_mm != 0)
    for (int k = 0; k < 8; ++k) t -= (o.z + t * d.z - sag(o.x + t * d.x)) / d.z;
  const Vec3 p = o + t * d;
  const double u = radius_mm_ == 0 ? p.x : radius_mm_ * std::asin(p.x / radius_mm_);
  const double nominal_u = fixed_.x + u / settings_.scale_x;
  const double nominal_v = fixed_.y + p.y / settings_.scale_y;
  if (settings_.id_card) {
    if (!on_id_card(p.x + fixed_.x, p.y + fixed_.y)) return std::nullopt;
    return Place{t, -1, -1, p};
  }
  const CardDefinition& card = *definition_;
  if (!(nominal_u > card.sheet.x_min && nominal_u < card.sheet.x_max &&
        nominal_v > card.sheet.y_min && nominal_v < card.sheet.y_max))
    return std::nullopt;
  if (card.notch && nominal_u > card.notch->x_min && nominal_u < card.notch->x_max &&
      nominal_v > card.notch->y_min)
    return std::nullopt;
  return Place{t, nominal_u, nominal_v, p};
}

bool CardSurface::black_at(double u, double v) const {
  const double column_place = u / square_mm_, row_place = v / square_mm_;
  if (column_place < 0 || row_place < 0) return false;
  const int column = static_cast<int>(column_place), row = static_cast<int>(row_place);
  if (column >= columns_ || row >= rows_) return false;
  if ((column + row) % 2 == 0) return true;
  const double gap = (square_mm_ - marker_mm_) / 2, module = marker_mm_ / 6;
  const double x = (u - column * square_mm_ - gap) / module;
  const double y = (v - row * square_mm_ - gap) / module;
  if (x < 0 || y < 0 || x >= 6 || y >= 6) return false;
  const int bit = static_cast<int>(y) * 6 + static_cast<int>(x);
  return (cells_[static_cast<std::size_t>(row * columns_ + column)] >> bit) & 1;
}

std::optional<CardHit> CardSurface::hit(Vec3 origin, Vec3 direction) const {
  const auto place = meet(origin, direction);
  if (!place || place->t <= 0) return std::nullopt;
  const Vec3 normal = radius_mm_ == 0 ? Vec3{0, 0, -1}
                                      : Vec3{place->local.x / radius_mm_, 0,
                                             (place->local.z - radius_mm_) / radius_mm_};
  return CardHit{place->t, frame_.direction_out(normal), black_at(place->u, place->v)};
}

bool CardSurface::blocks(Vec3 origin, Vec3 direction) const {
  const auto place = meet(origin, direction);
  return place && place->t > 1e-3;
}

Vec3 CardSurface::place(Point_mm nominal) const {
  const double u = (nominal.x - fixed_.x) * settings_.scale_x;
  const double v = (nominal.y - fixed_.y) * settings_.scale_y;
  const double x = radius_mm_ == 0 ? u : radius_mm_ * std::sin(u / radius_mm_);
  return frame_.out({x, v, sag(x)});
}

}  // namespace scantling::drawn
