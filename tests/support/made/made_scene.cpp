#include "made_scene.h"

#include <fstream>
#include <nlohmann/json.hpp>
#include <stdexcept>

namespace scantling::made {

NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE_WITH_DEFAULT(PhotoSettings, width_px, height_px, f35_mm,
                                                focal_factor, cx_offset_px, cy_offset_px, k1, k2,
                                                vignetting, blur_px, motion_px, motion_deg,
                                                aperture_px_mm, focus_mm, exposure, white,
                                                full_well, read_noise, noise_grain_px, sharpen,
                                                jpeg_quality, orientation, make, model, date_time,
                                                seed)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE_WITH_DEFAULT(CameraPlace, elevation_deg, azimuth_deg, roll_deg,
                                                distance_mm, from_mm, look_mm)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE_WITH_DEFAULT(CardSettings, present, mirrored, scale_x, scale_y,
                                                lean_deg, curl_mm, paper, ink, grease)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE_WITH_DEFAULT(PlateSettings, thickness_mm, chamfer_mm, rounded,
                                                finish)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE_WITH_DEFAULT(FrictionSettings, thickness_mm, taper_per_mm,
                                                setback_mm, chamfer_mm, rounded, ragged_mm, crumbs,
                                                slot_mm, end_gap_mm, finish)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE_WITH_DEFAULT(PartSettings, present, pose, offset_mm, length_mm,
                                                depth_mm, corner_mm, edge_radius_mm, seed, plate,
                                                friction)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE_WITH_DEFAULT(
    DiscSettings, radius_mm, rim_thickness_mm, lip_outboard_mm, lip_inboard_mm, lip_width_mm,
    wall_run_mm, edge_mm, track_width_mm, bell_radius_mm, bell_mm, bore_mm, vent_mm, vanes,
    vane_share, rust, hole_mm, slots, turn_deg, raise_mm, offset_mm, shift_mm, inboard_up,
    card_gap_mm, card_yaw_deg, card_aside_mm, yaw_deg, lean_deg, card_radius_mm, card_turn_deg)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE_WITH_DEFAULT(PileSettings, pad_yaw_deg, card_yaw_deg)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE_WITH_DEFAULT(LightSettings, kind, azimuth_deg, elevation_deg,
                                                strength)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE_WITH_DEFAULT(PlaceSettings, table, table_front_mm, background,
                                                occluder, occluder_mm, wet)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE_WITH_DEFAULT(Scene, name, note, view, photo, camera, card, part,
                                                disc, pile, light, place, render_factor, samples)

namespace {

/// A misspelt name must not silently become a default.
void refuse_unknown_names(const nlohmann::json& given, const nlohmann::json& known,
                          const std::string& where) {
  for (const auto& [key, value] : given.items()) {
    if (!known.contains(key)) throw std::runtime_error("unknown name in the scene: " + where + key);
    if (value.is_object()) refuse_unknown_names(value, known.at(key), where + key + ".");
  }
}

}  // namespace

Scene read_scene(const std::filesystem::path& file) {
  std::ifstream stream(file);
  if (!stream) throw std::runtime_error("cannot read the scene " + file.string());
  const auto json = nlohmann::json::parse(stream);
  refuse_unknown_names(json, nlohmann::json(Scene{}), "");
  auto scene = json.get<Scene>();
  if (scene.name.empty()) scene.name = file.stem().string();
  return scene;
}

}  // namespace scantling::made
