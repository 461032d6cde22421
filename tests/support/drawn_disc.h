#pragma once

#include <cstdint>
#include <opencv2/core/mat.hpp>
#include <vector>

#include "support/drawn_camera.h"
#include "support/drawn_scene.h"

namespace scantling::drawn {

/// The two ways in which a disc is photographed: edge-on through the notch card, and over the track
/// card towards the lip.
enum class DiscView { rim, lip };

enum class DiscFinish { coated, rust, bare };

/// A brake disc as a body of revolution. Face a is the one turned up (rim view) or towards the
/// camera (lip view), face b the other. Lengths in mm.
struct DrawnDisc {
  double radius_mm = 140;
  double rim_thickness_mm = 22;  ///< between the two outer flats, over the lips
  double lip_a_mm = 0.6;         ///< height of the wall at the worn track's outer end
  double lip_b_mm = 0.6;
  double lip_width_mm = 3;   ///< from the wall's top to the rim, along the radius
  double lip_rise_mm = 0;    ///< by which the lip's top climbs from the wall to the rim
  double wall_run_mm = 0.1;  ///< of the wall along the radius
  bool wall_hollow = false;  ///< curved out of the track instead of straight
  double edge_a_mm = 0.5;    ///< chamfer or rounding between face and rim
  double edge_b_mm = 0.5;
  bool edge_round = false;
  double track_width_mm = 46;  ///< worn ring, from the wall inwards
  double bell_mm = 36;         ///< height of the bell over its face, 0 = none
  bool bell_on_a = false;
  bool vented = true;
  double vent_share = 0.38;  ///< of the thickness
  int vanes = 36;
  double vane_share = 0.3;  ///< of the way round
  double seam_mm = 0;       ///< width of a casting seam round the rim, 0 = none
  double band_mm = 0;       ///< rim near each face turned bare or painted, a false edge; 0 = none
  double groove_mm = 0;     ///< depth of rings worn into the track
  DiscFinish finish = DiscFinish::rust;
  double rim_albedo = 0.15;
  double lip_albedo = 0.14;
  double wall_albedo = 0.2;
  double track_albedo = 0.42;
  double texture = 0.2;     ///< relative contrast of rim and lip
  double grooves = 0.10;    ///< relative contrast of the track's turning marks
  double shine = 0.5;       ///< of the track's highlight across the turning marks
  double dirt = 0.2;        ///< share of the track's outer end under specks
  double rust_edge_mm = 0;  ///< rusty ring of the track before the wall, a false foot; 0 = none

  // Rim view: where the disc stands behind the notch.
  double offset_mm = 0;   ///< of the rim behind the card's printed face, at the notch's middle
  double shift_mm = 0;    ///< sideways, of the axis from the notch's middle
  double middle_mm = 55;  ///< y of the disc's middle plane on the card
  double roll_deg = 0;    ///< about the line of sight
  double tilt_deg = 0;    ///< about the card's x axis

  // Lip view: how the track card lies.
  double card_gap_mm = 4;    ///< from the card's far side to the foot of the wall
  double card_yaw_deg = 0;   ///< of the card against the radius
  double card_aside_mm = 0;  ///< of the card's middle from that radius
  double card_lift_mm = 0;   ///< dust under it

  double worn_thickness_mm() const {
    return rim_thickness_mm - 2 * lip_rise_mm - lip_a_mm - lip_b_mm;
  }
  double wall_top_radius_mm() const { return radius_mm - lip_width_mm; }
  double wall_foot_radius_mm() const { return wall_top_radius_mm() - wall_run_mm; }
};

/// Everything that a drawn photo of a disc depends on.
struct DrawnDiscScene {
  std::uint32_t seed = 1;
  int shot = 0;  ///< which photo of the same scene: other noise
  Difficulty difficulty = Difficulty::easy;
  DiscView view = DiscView::rim;
  DrawnCamera camera;
  DrawnCard card;
  DrawnDisc disc;
  DrawnPlace place;
  DrawnDeclared declared;
  double ground_mm = 78;  ///< y of the table; for the lip view below the track
};

/// The seen world's frame is x right, y down, z away from us. In the rim view it is the notch
/// card's own frame; in the lip view its origin lies on the wall's foot, radially behind the card,
/// at the track's height, with z along the radius outwards.
Frame disc_frame(const DrawnDiscScene& scene);  ///< x, y along the axis upwards, z towards us

class CardSurface;
CardSurface disc_card(const DrawnDiscScene& scene);

/// Scenes by lot: the same seed gives the same scenes on every machine. Several photos of a lip
/// share all but the camera's place, its elevations at least 10 degrees apart.
DrawnDiscScene random_rim_scene(std::uint32_t seed, double megapixels, Difficulty difficulty);
std::vector<DrawnDiscScene> random_lip_scenes(std::uint32_t seed, double megapixels,
                                              Difficulty difficulty, int photos);

cv::Mat cast_light(const DrawnDiscScene& scene);
cv::Mat draw(const DrawnDiscScene& scene);

}  // namespace scantling::drawn
