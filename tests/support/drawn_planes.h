#pragma once

#include <array>
#include <opencv2/core/mat.hpp>
#include <optional>
#include <string>
#include <vector>

#include "planes/plane_photo.h"
#include "support/drawn_math.h"

namespace scantling::drawn {

/// Scenes for the plane views. World frame: the ground sheet's middle, x right and y down as on the
/// printed sheet, z into it; what stands on it has negative z.

/// A printed piece at its true place and size.
struct PlacedPiece {
  PlanePiece piece = PlanePiece::card_a;
  Vec3 middle;      ///< of the printed squares, on the printed face
  Vec3 x{1, 0, 0};  ///< its axes; z = x cross y points into it
  Vec3 y{0, 1, 0};
  double scale_x = 1;  ///< printed over nominal size
  double scale_y = 1;
  double bend_mm = 0;  ///< the face lies bend (s^2 - 1/3) deeper, s from -1 to 1 along its x
  /// The sheet's depth by u^2, uv, v^2, u^3, u^2 v, u v^2, v^3; u, v from -1 to 1.
  std::array<double, 7> curl_mm{};
  double rolled_mm = 0;  ///< how far the right-hand end is folded back: hides its print

  Vec3 z() const { return cross(x, y); }
};

/// A disc standing upright: a short cylinder with its axis level.
struct PlacedDisc {
  Vec3 middle;
  Vec3 axis{0, 1, 0};
  double radius_mm = 140;
  double thickness_mm = 22;
};

/// A pad: a box lying on the sheet.
struct PlacedBox {
  double half_x_mm = 60, half_y_mm = 24, height_mm = 14;
  double x_mm = 0, y_mm = 0, turn_deg = 0;
};

struct PlaneCamera {
  std::string name = "photo.jpg";
  Vec3 place;
  Vec3 target;
  double roll_deg = 0;
  int width_px = 4000, height_px = 3000;  ///< upright
  double focal_px = 3000;
  double centre_dx_px = 0, centre_dy_px = 0;
  double k1 = 0, k2 = 0;
  double f35_factor = 1;  ///< written over true focal length
  std::string make = "Fernhill", model = "Fernhill F2";
  std::string taken_at;
  int exif_orientation = 1;
};

struct PlanesScene {
  PlacedPiece sheet{PlanePiece::ground, {}, {1, 0, 0}, {0, 1, 0}};
  std::vector<PlacedPiece> cards;
  std::optional<PlacedDisc> disc;
  std::optional<PlacedBox> box;
};

/// The faces view: a disc of this worn thickness, a card of `card_mm` on each face.
PlanesScene faces_scene(double thickness_mm, double card_mm = 0.25);
/// The pile view: a pad of this height with card A on it, or both cards.
PlanesScene pile_scene(double height_mm, bool both, double taper_mm = 0, double card_mm = 0.25);

/// A camera `distance_mm` from a card, turned by `azimuth_deg` to the right of straight in front of
/// it (faces) or of the sheet's lower edge (pile), `elevation_deg` above the level.
PlaneCamera faces_camera(PlanePiece side, double azimuth_deg, double elevation_deg,
                         double distance_mm = 330);
PlaneCamera pile_camera(double azimuth_deg, double elevation_deg, double distance_mm = 330);

/// Where a place of the world is seen.
Point_px seen_at(const PlaneCamera& camera, Vec3 world);
/// Where a piece's nominal place, from its middle, lies in the world.
Vec3 placed(const PlacedPiece& piece, double x_mm, double y_mm);

/// The photo as perfect corners with normal noise: what find_card would bring, without a picture.
PlanePhoto sighted(const PlanesScene& scene, const PlaneCamera& camera, double noise_px,
                   Random& random);

/// The photo itself: luma code values, CV_8UC1, with blur and noise.
cv::Mat plane_picture(const PlanesScene& scene, const PlaneCamera& camera, std::uint32_t seed,
                      double noise = 2.0);

/// As a phone writes it: JPEG with EXIF.
std::vector<unsigned char> plane_jpeg(const PlanesScene& scene, const PlaneCamera& camera,
                                      std::uint32_t seed, double noise = 2.0);

}  // namespace scantling::drawn
