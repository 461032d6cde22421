#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/check.h"
#include "dimension/analysis.h"
#include "planes/plane_photo.h"

namespace scantling {

enum class PlanesView { faces, pile };
const char* planes_view_word(PlanesView view);  ///< "faces", "pile"
std::optional<PlanesView> planes_view_from_word(std::string_view word);

/// Of the cut-out card with all that is glued to it.
struct CardThickness {
  double thickness_mm = 0.25;
  double standard_uncertainty_mm = 0.05;
  bool measured = false;
};

struct PlanesOptions {
  PlanesView view = PlanesView::faces;
  SheetScale sheet_scale;
  /// Where the cards come from another print than the sheet: their page's own scale. Without it
  /// they share the sheet's.
  std::optional<SheetScale> card_scale;
  CardThickness card_thickness;
  PlanePieceSet pieces = printed_pieces();
};

/// A direction or a place in the world frame: the ground sheet's, moved to its middle; x right and
/// y down as on the printed sheet, z into it. What stands on the sheet has negative z.
using World3 = std::array<double, 3>;

/// How far a corner was seen from where the solution has it.
struct SolvedCorner {
  PlanePiece piece = PlanePiece::ground;
  int id = 0;
  Point_px photo_px;
  double off_x_px = 0, off_y_px = 0;
  bool used = true;  ///< false: left out as an outlier
};

struct SolvedPhoto {
  std::string name;
  std::string camera;   ///< make and model, or "unknown camera"
  bool solved = false;  ///< false: not part of the solution, the checks say why
  std::vector<PlanePiece> shows;
  World3 place{};                ///< of the camera
  std::array<World3, 3> axes{};  ///< its right, down and forward directions
  double focal_px = 0;
  int width_px = 0, height_px = 0;
  std::vector<SolvedCorner> corners;
  double residual_px = 0;  ///< rms over the used corners, per axis
};

struct SolvedPiece {
  PlanePiece piece = PlanePiece::ground;
  World3 middle{};               ///< of the printed squares
  std::array<World3, 3> axes{};  ///< its x, y, and z into the card
  std::array<World3, 4> outline{};
  int photos = 0;
  int corners = 0;   ///< in all photos, without those left out
  int left_out = 0;  ///< corners that lie elsewhere than a flat piece has them
  double residual_px = 0;
  double px_per_mm = 0;          ///< mean over its photos
  double tilt_deg = 0;           ///< mean angle between the optical axis and its normal
  double distance_mm = 0;        ///< mean distance of the cameras
  double depth_u_mm = 0;         ///< standard uncertainty of its middle along its normal
  double bend_mm = 0;            ///< of the ends of its long side against its middle
  double largest_angle_deg = 0;  ///< between the directions it was seen from
};

/// How well the model holds, as a statistician says it and in plain words.
struct PlanesFit {
  double noise_px = 0;  ///< of a corner, per axis, pieces taken one by one
  double degrees_of_freedom = 0;
  double reduced_chi_square = 0;  ///< of the whole solution against that noise
  double moved_chi_square = 0;    ///< the same of nothing having moved, per unknown that a
                                  ///< movement would need; 1 where nothing moved
  int left_out = 0;               ///< corners
  std::string words;
};

/// The shape of the ground sheet where it is not flat.
struct SolvedSheet {
  bool curved = false;
  std::array<double, 7> coefficients_mm{};
  double range_mm = 0;  ///< between its lowest and highest place, tilt taken out
};

/// A further photo that would make the size surer.
struct NextPhoto {
  PlanePiece piece = PlanePiece::card_a;  ///< the card to show
  World3 place{};                         ///< of the camera
  double standard_uncertainty_mm = 0;     ///< of the size with that photo, corners and lens only
  std::string words;
};

/// Everything that is known after a photo was added.
struct PlanesResult {
  PlanesView view = PlanesView::faces;
  std::vector<Dimension> dimensions;  ///< none where a check says stop
  std::optional<double> angle_deg;    ///< faces: between the cards; pile: card to sheet
  double angle_u_deg = 0;
  std::vector<SolvedPhoto> photos;
  std::vector<SolvedPiece> pieces;
  std::optional<PlanesFit> fit;
  SolvedSheet sheet;
  std::optional<NextPhoto> next_photo;
  std::vector<Check> checks;
  Timing_ms timing_ms;  ///< `edges` is the solving's time

  const Dimension* dimension(std::string_view name) const;
  const SolvedPiece* piece(PlanePiece piece) const;
  bool usable() const { return !any_stop(checks) && !dimensions.empty(); }
};

}  // namespace scantling
