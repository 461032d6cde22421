#include "planes/faces_outlook.h"

#include <Eigen/Geometry>
#include <cmath>

#include "camera/camera_prior.h"
#include "planes/plane_session.h"
#include "uncertainty/distribution.h"

namespace scantling {
namespace {

using Eigen::Vector3d;

constexpr int kWidth_px = 4000, kHeight_px = 3000;
constexpr double kFocalLength35_mm = 26, kDistance_mm = 330, kCorner_px = 0.1;
constexpr double kCardsHeight_mm = 38;  ///< of the cards' middles over the sheet
constexpr double kReadableFrom = 0.26;  ///< flatter than 15 degrees squares are not read

/// A printed piece at its place in the world: the ground sheet's middle, z into the sheet.
struct Piece {
  const CardDefinition* card;
  Vector3d middle, x, y;
  Vector3d into() const { return x.cross(y); }
};

struct Eye {
  Vector3d place, right, down, forward;

  Eye(const Vector3d& at, const Vector3d& target) : place(at), forward((target - at).normalized()) {
    right = forward.cross(Vector3d(0, 0, -1)).normalized();
    down = forward.cross(right);
  }
};

/// From a face (+1: card A's) at an angle to the side and above the level.
Eye eye(double side, double aside_deg, double above_deg) {
  const double a = aside_deg * M_PI / 180, e = above_deg * M_PI / 180;
  const Vector3d out(side * std::sin(a) * std::cos(e), side * std::cos(a) * std::cos(e),
                     -std::sin(e));
  return {Vector3d(0, side * 10, -kCardsHeight_mm) + kDistance_mm * out, {0, side * 34, -16}};
}

std::optional<CardSighting> sighting(const Piece& piece, const Eye& from, double focal_px,
                                     double side, bool ground, Random& random) {
  if ((piece.middle - from.place).normalized().dot(piece.into()) < kReadableFrom)
    return std::nullopt;
  CardSighting seen;
  seen.card = piece.card;
  const double middle_x = piece.card->columns * piece.card->square_mm / 2;
  const double middle_y = piece.card->rows * piece.card->square_mm / 2;
  const auto project = [&](const Vector3d& at) {
    const Vector3d d = at - from.place;
    const double far = d.dot(from.forward);
    return Point_px{(kWidth_px - 1) / 2.0 + focal_px * d.dot(from.right) / far,
                    (kHeight_px - 1) / 2.0 + focal_px * d.dot(from.down) / far};
  };
  for (const CardCorner& corner : piece.card->corners) {
    const Vector3d at =
        piece.middle + (corner.at.x - middle_x) * piece.x + (corner.at.y - middle_y) * piece.y;
    if (ground && side * at.y() < 15) continue;  // the disc hides what is behind its face
    Point_px p = project(at);
    if (!(p.x > 15 && p.y > 15 && p.x < kWidth_px - 16 && p.y < kHeight_px - 16)) continue;
    p.x += kCorner_px * random.normal();
    p.y += kCorner_px * random.normal();
    seen.corners.push_back({corner.id, corner.at, p});
  }
  if (seen.corners.size() < 8) return std::nullopt;
  seen.px_per_mm = distance_px(project(piece.middle), project(piece.middle + piece.x));
  seen.markers_found = static_cast<int>(seen.corners.size()) / 2;
  return seen;
}

}  // namespace

std::optional<Quantity> faces_outlook(double thickness_mm, const PlanesOptions& options) {
  PlanesOptions wanted = options;
  wanted.view = PlanesView::faces;
  const double out = thickness_mm / 2 + wanted.card_thickness.thickness_mm;
  const Vector3d down(0, 0, 1);
  const std::array<Piece, 3> pieces{{
      {wanted.pieces[0], Vector3d::Zero(), {1, 0, 0}, {0, 1, 0}},
      {wanted.pieces[1], {3, out, -kCardsHeight_mm}, {1, 0, 0}, down},
      {wanted.pieces[2], {-2, -out, -kCardsHeight_mm}, {-1, 0, 0}, down},
  }};
  struct Shot {
    double side, aside_deg, above_deg;
  };
  constexpr std::array<Shot, 5> kShots{
      {{1, -25, 30}, {1, 25, 40}, {-1, -25, 40}, {-1, 25, 30}, {1, 5, 50}}};
  Random random(1);
  std::vector<PlanePhoto> photos;
  for (const Shot& shot : kShots) {
    PlanePhoto photo;
    photo.name = "photo " + std::to_string(photos.size() + 1);
    photo.width_px = kWidth_px;
    photo.height_px = kHeight_px;
    photo.tags.focal_length_35mm = kFocalLength35_mm;
    photo.prior = camera_prior(photo.tags, kWidth_px, kHeight_px);
    photo.camera_key = "usual";
    const Eye from = eye(shot.side, shot.aside_deg, shot.above_deg);
    for (std::size_t i = 0; i < pieces.size(); ++i)
      if (auto seen =
              sighting(pieces[i], from, photo.prior.model.focal_px, shot.side, i == 0, random))
        photo.pieces.push_back(std::move(*seen));
    photos.push_back(std::move(photo));
  }
  PlaneSession session(wanted);
  session.add(std::move(photos));
  const Dimension* worn = session.result().dimension("worn_thickness");
  if (!worn || !session.result().usable()) return std::nullopt;
  return worn->quantity;
}

}  // namespace scantling
