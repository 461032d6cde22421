#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "camera/camera_model.h"
#include "dimension/analysis.h"
#include "geometry/points.h"
#include "planes/plane_photo.h"

namespace scantling {

/// The unknowns of one adjustment, in blocks. Lengths in mm, image places in px, angles as
/// angle-axis vectors in radians.
/// * photo: [0..2] rotation and [3..5] translation, x_camera = R x_world + t; [6] this photo's
///   focal length over the camera's, less one (autofocus); [7..8] shift of its centre (stabiliser).
/// * camera: [0] focal length over its prior value, less one; [1..2] centre's shift in the sensor's
///   own orientation; [3..4] k1, k2 less their prior values.
/// * scales: relative errors of the declared print scales: [0] of the sheet's page, [1] of the
///   cards' page, [2..3] of the sheet alone in x and y, [4..5] of the cards in x and y.
/// * piece: [0..2] rotation and [3..5] place of the card's middle, x_world = R x_card + t; [6]
/// bend,
///   how far the ends of the card's long side curl behind its mean plane, times 1.5.
/// * surface: coefficients of u^2, uv, v^2, u^3, u^2 v, u v^2, v^3 for the sheet's depth, with u
/// and
///   v from -1 to 1 over the sheet's x and y.
struct PlaneBundleState {
  static constexpr int kPhoto = 9, kCamera = 5, kScales = 6, kPiece = 7, kSurface = 7;
  std::vector<std::array<double, kPhoto>> photos;
  std::vector<std::array<double, kCamera>> cameras;
  std::array<double, kScales> scales{};
  std::vector<std::array<double, kPiece>> pieces;
  std::array<double, kSurface> surface{};
};

/// What an observation or prior is about: the lines of the budget.
enum class RowGroup {
  sheet_corners,
  card_corners,
  lens,
  autofocus,
  sheet_scale,
  card_scale,
  bend,
  surface
};
inline constexpr std::size_t kRowGroups = 8;

struct PlaneBundleCorner {
  int id = 0;
  double x_mm = 0, y_mm = 0;  ///< nominal, from the piece's middle
  Point_px photo_px;
  bool used = true;
};

/// One piece in one photo.
struct PlaneBundleSighting {
  std::size_t photo = 0;
  PlanePiece piece = PlanePiece::ground;
  std::size_t block = 0;  ///< which of the state's pieces; not for the ground
  std::vector<PlaneBundleCorner> corners;
  double noise_px = 0.1;
  double px_per_mm = 0;
};

struct PlaneBundlePhoto {
  std::size_t camera = 0;
  double centre_x_px = 0, centre_y_px = 0;  ///< believed, upright
  /// What turns the sensor's centre shift upright: x' = a x + b y, y' = c x + d y.
  std::array<double, 4> turn{1, 0, 0, 1};
};

/// What is believed before the photos have their say: standard uncertainties.
struct PlaneBundlePriors {
  double sheet_scale_x = 1, sheet_scale_y = 1;  ///< declared
  double card_scale_x = 1, card_scale_y = 1;
  std::array<double, PlaneBundleState::kScales> scales_u{};
  bool same_print = true;  ///< cards and sheet from the same print share its scale error
  /// A phone's focal length follows the focus: f (1 + f / Z) from 250 to 400 mm spans 1 % (thin
  /// lens).
  double autofocus_u = 0.01;
  double centre_shift_u = 0.001;  ///< of the picture's diagonal: a stabilised lens wanders
  double bend_u_mm = 0.10;
  double surface_u_mm = 1.0;
};

/// Everything an adjustment is made from. World frame: the ground sheet's, moved to its middle.
struct PlaneBundle {
  PlanePieceSet cards{};
  std::vector<CameraPrior> cameras;
  std::vector<double> diagonal_px;  ///< of each camera's picture
  std::vector<PlaneBundlePhoto> photos;
  std::vector<PlaneBundleSighting> sightings;
  std::vector<PlanePiece> blocks;  ///< which card each of the state's pieces is
  PlaneBundlePriors priors;

  double half_x_mm(PlanePiece piece) const;
  double half_y_mm(PlanePiece piece) const;
};

struct Residual_px {
  double x = 0, y = 0;
};

struct PlaneBundleSolution {
  PlaneBundleState state;
  bool converged = false;
  double chi_square = 0;  ///< of the used corners, in units of their noise
  double prior_square = 0;
  int rows = 0;                                     ///< used corners times two, and priors
  int parameters = 0;                               ///< free ones
  std::vector<std::vector<Residual_px>> residuals;  ///< of every sighting's every corner
};

struct PlaneBundleWish {
  bool robust = false;   ///< Cauchy loss: before outliers are known
  bool surface = false;  ///< the sheet may be curved
  int iterations = 60;
};

/// One least-squares adjustment (Triggs et al., "Bundle adjustment: a modern synthesis", 2000) of
/// all photos together, with automatic derivatives; photos are eliminated first (Schur complement).
PlaneBundleSolution solve_bundle(const PlaneBundle& bundle, PlaneBundleState start,
                                 const PlaneBundleWish& wish);

/// Where a corner of a sighting is seen with this state.
Point_px project_corner(const PlaneBundle& bundle, const PlaneBundleState& state,
                        const PlaneBundleSighting& sighting, const PlaneBundleCorner& corner);

/// The sheet's depth at a place of the world frame.
double surface_mm(const PlaneBundle& bundle, const PlaneBundleState& state, double x_mm,
                  double y_mm);

}  // namespace scantling
