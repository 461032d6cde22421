#pragma once

#include <array>
#include <filesystem>
#include <string>

namespace scantling::made {

/// The camera body: lens, sensor and the file it writes. Positions are on the upright photo.
struct PhotoSettings {
  int width_px = 3264;  ///< of the upright photo
  int height_px = 2448;
  double f35_mm = 27;         ///< as written to EXIF
  double focal_factor = 1.0;  ///< true focal length over the one that EXIF promises
  double cx_offset_px = 0;    ///< principal point from the middle of the photo
  double cy_offset_px = 0;
  double k1 = 0;  ///< radial distortion after Brown: x_d = x_u (1 + k1 r^2 + k2 r^4)
  double k2 = 0;
  double vignetting = 0.25;  ///< share of light lost at the corners
  double blur_px = 0.8;      ///< Gaussian sigma of the lens in focus
  double motion_px = 0;      ///< length of a straight hand movement
  double motion_deg = 0;
  double aperture_px_mm = 9000;  ///< blur disc = this * |1/z - 1/z_focus|, diameter in px
  double focus_mm = 0;           ///< focus distance, 0 = on the aim point
  double exposure = 1.0;         ///< gain on the rendered light
  std::array<double, 3> white = {1, 1, 1};  ///< white-balance error left over
  double full_well = 6000;                  ///< electrons at white: the shot noise
  double read_noise = 0.0012;               ///< share of white
  double noise_grain_px = 0.5;              ///< how far the phone's own smoothing spreads the noise
  double sharpen = 0;                       ///< unsharp mask strength in the encoded picture
  int jpeg_quality = 92;
  int orientation = 1;  ///< EXIF: 1, 3, 6 or 8
  std::string make = "Halden";
  std::string model = "Halden H3";
  std::string date_time = "2026:05:16 10:12:00";
  unsigned seed = 1;
};

/// Where the camera is: seen from the aim point, elevation above the level, azimuth to the right.
struct CameraPlace {
  double elevation_deg = 4;
  double azimuth_deg = 0;
  double roll_deg = 0;
  double distance_mm = 300;
  std::array<double, 3> from_mm = {64, 72, 0};  ///< the point the angles and distance refer to
  std::array<double, 3> look_mm = {64, 45, 0};  ///< the point in the middle of the photo
};

struct CardSettings {
  bool present = true;
  bool mirrored = false;
  double scale_x = 1;  ///< printed size over nominal size
  double scale_y = 1;
  double lean_deg = 0;  ///< about the bottom edge, positive: the top away from the camera
  double curl_mm = 0;   ///< how far the two ends bend away from the camera
  double paper = 0.78;  ///< diffuse reflectance
  double ink = 0.035;
  double grease = 0;  ///< 0..1, dirty finger marks
};

struct PlateSettings {
  double thickness_mm = 5.5;
  double chamfer_mm = 0.5;
  bool rounded = true;
  std::string finish = "black";  ///< black, grey, rusty, bare, blue, sheared
};

struct FrictionSettings {
  double thickness_mm = 6;  ///< at the pad's middle
  double taper_per_mm = 0;  ///< thickness gained per mm of length, towards the part's +u
  double setback_mm = 1.0;
  double chamfer_mm = 0.5;
  bool rounded = false;
  double ragged_mm = 0.05;  ///< unevenness of the chamfer's size along the edge
  int crumbs = 0;           ///< broken-out places along the upper edge
  double slot_mm = 0;       ///< width of a middle slot
  double end_gap_mm = 2;
  std::string finish = "grey";  ///< grey, brown, dark, coppery
};

/// The pad. Pose: lying, friction_down, standing_left or standing_right (friction material there).
struct PartSettings {
  bool present = true;
  std::string pose = "lying";
  double offset_mm = 0;  ///< of the plate's side face behind the card's printed face
  double length_mm = 58;
  double depth_mm = 44;
  double corner_mm = 4;
  double edge_radius_mm = 0;  ///< of the edge in plan, 0 = straight
  unsigned seed = 1;
  PlateSettings plate;
  FrictionSettings friction;
};

/// A brake disc. The bell stands on its outboard face.
struct DiscSettings {
  double radius_mm = 142;
  double rim_thickness_mm = 24;  ///< over both lips, between the flats
  double lip_outboard_mm = 0.5;  ///< height of the wall at the worn track's outer end
  double lip_inboard_mm = 0.5;
  double lip_width_mm = 3;    ///< from the wall's top to the rim
  double wall_run_mm = 0.15;  ///< of the wall along the radius
  double edge_mm = 0.6;       ///< chamfer at the rim
  double track_width_mm = 50;
  double bell_radius_mm = 64;
  double bell_mm = 18;  ///< over the worn outboard track
  double bore_mm = 33;  ///< radius
  double vent_mm = 8;   ///< between the two plates, 0 = solid
  int vanes = 38;
  double vane_share = 0.3;
  double rust = 0.5;    ///< 0..1, of lip and rim
  double hole_mm = 0;   ///< diameter of the holes drilled through the tracks, 0 = none
  int slots = 0;        ///< milled across each track
  double turn_deg = 0;  ///< about its own axis
  double raise_mm = 9;  ///< strips of wood between disc and ground
  // rim view
  double offset_mm = 0.3;  ///< of the rim behind the card's printed face, in the notch's middle
  double shift_mm = 0;
  // lip view: the card on the track
  bool inboard_up = false;
  double card_gap_mm = 3;  ///< from the card's far side to the wall's foot
  double card_yaw_deg = 0;
  double card_aside_mm = 0;
  // faces view: upright across the ground sheet
  double yaw_deg = 0;
  double lean_deg = 0;
  double card_radius_mm = 108;  ///< from the axis to the middle of each card
  double card_turn_deg = 0;     ///< of both cards in their planes
};

/// Pile view: where pad and card lie.
struct PileSettings {
  double pad_yaw_deg = 0;
  double card_yaw_deg = 0;
};

/// Light kind: daylight, sun, lamp, shade, flash or plain (no shadows). Direction: azimuth from
/// behind the camera.
struct LightSettings {
  std::string kind = "daylight";
  double azimuth_deg = -40;
  double elevation_deg = 55;
  double strength = 1;
};

/// Table: plywood, paper, concrete, rubber, steel. Background: wall, clutter, dark, garden.
struct PlaceSettings {
  std::string table = "plywood";
  double table_front_mm = -400;  ///< where the bench ends towards the camera, card frame z
  std::string background = "wall";
  std::string occluder = "none";  ///< none, glove
  std::array<double, 3> occluder_mm = {0, 0, -6};
  double wet = 0;  ///< 0..1, how much of the metal a film of water darkens and makes shine
};

/// Everything that a made photograph depends on. View: pad, rim, lip, faces, pile, sheet.
struct Scene {
  std::string name;
  std::string note;
  std::string view = "pad";
  PhotoSettings photo;
  CameraPlace camera;
  CardSettings card;
  PartSettings part;
  DiscSettings disc;
  PileSettings pile;
  LightSettings light;
  PlaceSettings place;
  double render_factor = 1.2;  ///< rendered px per photo px in the middle
  int samples = 4;             ///< a rendered px at an edge is sampled this number squared
};

/// Reads a scene; names left out keep their defaults. @throws std::runtime_error on a bad file.
Scene read_scene(const std::filesystem::path& file);

}  // namespace scantling::made
