#pragma once

#include <cstdint>
#include <opencv2/core/mat.hpp>
#include <optional>
#include <string>

#include "geometry/points.h"

namespace scantling::drawn {

/// How the pad stands: on its plate, on its friction material, or on one end (thickness level).
enum class PadPose { friction_up, friction_down, on_end };

enum class Difficulty { easy, normal, hard };

/// The camera and what it makes of the light. Angles are seen from the target: elevation above the
/// level, azimuth to the right. Distances in mm, frame of the card.
struct DrawnCamera {
  int width_px = 2304;  ///< of the upright photo
  int height_px = 1728;
  double focal_px = 1730;
  double centre_dx_px = 0;  ///< principal point from the middle of the photo
  double centre_dy_px = 0;
  double k1 = 0;  ///< Brown: x_d = x_u (1 + k1 r^2 + k2 r^4)
  double k2 = 0;
  double distance_mm = 300;
  double elevation_deg = 6;
  double azimuth_deg = 0;
  double roll_deg = 0;
  Point_mm target{64, 45};

  double blur_px = 0.7;  ///< sigma of the lens, in linear light
  double vignetting = 0.15;
  double paper_level = 0.62;  ///< linear light of the sunlit paper, 1 = white
  double shot_electrons = 6000;
  double read_noise = 0.0015;
  double sharpen = 0;
  double tone = 0;  ///< strength of an S-shaped curve over sRGB, 0..0.3
  int jpeg_quality = 92;
  int exif_orientation = 1;
  double f35_factor = 1;  ///< the written focal length over the true one, before rounding
  bool mirrored = false;
};

struct DrawnFinger {
  Point_mm tip;
  Point_mm root;
  double radius_mm = 8;
};

struct DrawnCard {
  bool present = true;
  double scale_x = 1;  ///< printed size over nominal size
  double scale_y = 1;
  double bend_mm = 0;    ///< how far the ends of the sheet bend away, about an upright axis
  double ripple_mm = 0;  ///< height of waves in the sheet, 60 mm long
  double lean_deg = 0;   ///< about the bottom edge, positive: the top away from the camera
  double ink = 0.05;
  double paper = 0.82;
  std::optional<DrawnFinger> finger;  ///< covers a part of the card
  bool second = false;                ///< the same card again, to the right
  /// Instead of the printed card an ID-1 card (85.60 mm x 53.98 mm, corners of 3.18 mm) stands to
  /// the left of the part, 24 mm from its middle; `paper` is its colour.
  bool id_card = false;
  bool id_card_upright = false;
};

enum class PlateFinish { paint, rust, bare };

struct DrawnPad {
  bool present = true;
  PadPose pose = PadPose::friction_up;
  double plate_mm = 5.5;
  double friction_mm = 7;   ///< at the middle of the notch, down to the plate
  double taper_per_mm = 0;  ///< friction thickness gained per mm towards +x (on end: downwards)
  double offset_mm = 0;     ///< of the plate's side face behind the card's printed face
  double yaw_deg = 0;
  double length_mm = 60;
  double shift_mm = 0;  ///< the pad's middle from the notch's middle, along the edge
  double depth_mm = 45;
  double plan_radius_mm = 0;  ///< of the visible side in plan, 0 = straight
  double place_mm = 0;        ///< on end: where the thickness's middle lies from x = 64
  double plate_edge_mm = 0.5;
  bool plate_edge_round = true;
  double setback_mm = 1;
  double friction_edge_mm = 0.4;
  bool friction_edge_round = false;
  double end_gap_mm = 3;  ///< friction material shorter than the plate, each end
  double end_chamfer_mm = 0;
  double slot_mm = 0;      ///< groove in the middle of the friction material
  double waviness_mm = 0;  ///< rms of the friction surface along the edge
  double chips_mm = 0;     ///< mean break-out of its outer edge
  double layer_mm = 0;     ///< height of a bonding layer of another grey, 0 = none
  PlateFinish finish = PlateFinish::paint;
  double plate_albedo = 0.08;
  double friction_albedo = 0.14;
  double texture = 0.18;  ///< relative contrast of the friction material's speckle
  double top_step = 0;    ///< grey levels by which the friction surface is lighter than its side
};

enum class Table { wood, paper, concrete, rubber };

struct DrawnPlace {
  Table table = Table::wood;
  double table_albedo = 0.4;
  double table_front_mm = -400;  ///< where the table ends towards the camera
  double wall_mm = 300;
  double wall_albedo = 0.4;
  double clutter = 0.2;          ///< relative contrast of the soft background
  double sun_azimuth_deg = -40;  ///< from behind the camera, positive from the right
  double sun_elevation_deg = 50;
  double sun_radius_deg = 3;  ///< half the width of the lamp
  double sun_share = 0.6;     ///< of the light on the card, the rest is sky
  double warmth = 0;          ///< colour tint, -1 cold to 1 warm
};

/// What the tool is told about the scene.
struct DrawnDeclared {
  double scale_x = 1, scale_y = 1, scale_u = 0.002;
  double offset_mm = 0, offset_u = 0.3;
};

/// Everything that a drawn photo of a pad depends on.
struct DrawnScene {
  std::uint32_t seed = 1;
  Difficulty difficulty = Difficulty::easy;
  DrawnCamera camera;
  DrawnCard card;
  DrawnPad pad;
  DrawnPlace place;
  DrawnDeclared declared;
};

/// A scene drawn by lot: the same seed gives the same scene on every machine.
DrawnScene random_scene(std::uint32_t seed, double megapixels);
DrawnScene random_scene(std::uint32_t seed, double megapixels, Difficulty difficulty);

const char* difficulty_word(Difficulty difficulty);
const char* pose_word(PadPose pose);

/// The light that reaches the sensor: CV_32FC3 (red, green, blue), linear, 1 = white, upright, not
/// yet blurred.
cv::Mat cast_light(const DrawnScene& scene);

/// What the camera makes of it: blur, noise, tone, 8-bit sRGB. CV_8UC3 in RGB order, upright.
cv::Mat develop(const DrawnScene& scene, const cv::Mat& light);
cv::Mat develop(const DrawnCamera& camera, std::uint32_t seed, const cv::Mat& light);

/// Both.
cv::Mat draw(const DrawnScene& scene);

}  // namespace scantling::drawn
