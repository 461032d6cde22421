#include "support/drawn_truth.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "support/drawn_card.h"

namespace scantling::drawn {
namespace {

using Json = nlohmann::ordered_json;

Point_px seen(const DrawnScene& scene, const Camera& camera, Vec3 world) {
  Point_px p = camera.project(world);
  if (scene.camera.mirrored) p.x = scene.camera.width_px - 1 - p.x;
  return p;
}

Json sizes(const DrawnPad& pad) {
  Json stations = Json::array();
  for (double station : {-20.0, 0.0, 20.0})
    stations.push_back({{"position_mm", station},
                        {"plate_thickness", pad.plate_mm},
                        {"friction_thickness", true_friction_mm(pad, station)},
                        {"overall_thickness", true_overall_mm(pad, station)}});
  return {{"plate_thickness", pad.plate_mm},
          {"friction_thickness", true_friction_mm(pad, 0)},
          {"overall_thickness", true_overall_mm(pad, 0)},
          {"friction_taper", true_friction_mm(pad, 20) - true_friction_mm(pad, -20)},
          {"friction_taper_per_mm", pad.taper_per_mm},
          {"stations", stations}};
}

Json pad_json(const DrawnPad& p) {
  static constexpr const char* kFinish[] = {"paint", "rust", "bare"};
  return {{"present", p.present},
          {"pose", pose_word(p.pose)},
          {"offset_mm", p.offset_mm},
          {"yaw_deg", p.yaw_deg},
          {"length_mm", p.length_mm},
          {"shift_mm", p.shift_mm},
          {"depth_mm", p.depth_mm},
          {"plan_radius_mm", p.plan_radius_mm},
          {"place_mm", p.place_mm},
          {"plate_edge_mm", p.plate_edge_mm},
          {"plate_edge_round", p.plate_edge_round},
          {"setback_mm", p.setback_mm},
          {"friction_edge_mm", p.friction_edge_mm},
          {"friction_edge_round", p.friction_edge_round},
          {"end_gap_mm", p.end_gap_mm},
          {"end_chamfer_mm", p.end_chamfer_mm},
          {"slot_mm", p.slot_mm},
          {"waviness_mm", p.waviness_mm},
          {"chips_mm", p.chips_mm},
          {"layer_mm", p.layer_mm},
          {"finish", kFinish[static_cast<int>(p.finish)]},
          {"plate_albedo", p.plate_albedo},
          {"friction_albedo", p.friction_albedo},
          {"texture", p.texture},
          {"top_step", p.top_step}};
}

}  // namespace

Json points_json(const std::vector<Point_px>& list) {
  Json json = Json::array();
  for (Point_px p : list)
    json.push_back({std::round(p.x * 1e4) / 1e4, std::round(p.y * 1e4) / 1e4});
  return json;
}

Json camera_json(const DrawnCamera& c) {
  return {{"width_px", c.width_px},
          {"height_px", c.height_px},
          {"focal_px", c.focal_px},
          {"cx_px", (c.width_px - 1) / 2.0 + c.centre_dx_px},
          {"cy_px", (c.height_px - 1) / 2.0 + c.centre_dy_px},
          {"k1", c.k1},
          {"k2", c.k2},
          {"distance_mm", c.distance_mm},
          {"elevation_deg", c.elevation_deg},
          {"azimuth_deg", c.azimuth_deg},
          {"roll_deg", c.roll_deg},
          {"target_mm", {c.target.x, c.target.y}},
          {"blur_px", c.blur_px},
          {"vignetting", c.vignetting},
          {"paper_level", c.paper_level},
          {"shot_electrons", c.shot_electrons},
          {"read_noise", c.read_noise},
          {"sharpen", c.sharpen},
          {"tone", c.tone},
          {"jpeg_quality", c.jpeg_quality},
          {"exif_orientation", c.exif_orientation},
          {"f35_factor", c.f35_factor},
          {"mirrored", c.mirrored}};
}

Json card_json(const DrawnCard& c) {
  Json json{{"present", c.present}, {"scale_x", c.scale_x},     {"scale_y", c.scale_y},
            {"bend_mm", c.bend_mm}, {"ripple_mm", c.ripple_mm}, {"lean_deg", c.lean_deg},
            {"ink", c.ink},         {"paper", c.paper},         {"second", c.second},
            {"finger", nullptr}};
  if (c.finger)
    json["finger"] = {{"tip_mm", {c.finger->tip.x, c.finger->tip.y}},
                      {"root_mm", {c.finger->root.x, c.finger->root.y}},
                      {"radius_mm", c.finger->radius_mm}};
  return json;
}

Json place_json(const DrawnPlace& p) {
  static constexpr const char* kTable[] = {"wood", "paper", "concrete", "rubber"};
  return {{"table", kTable[static_cast<int>(p.table)]},
          {"table_albedo", p.table_albedo},
          {"table_front_mm", p.table_front_mm},
          {"wall_mm", p.wall_mm},
          {"wall_albedo", p.wall_albedo},
          {"clutter", p.clutter},
          {"sun_azimuth_deg", p.sun_azimuth_deg},
          {"sun_elevation_deg", p.sun_elevation_deg},
          {"sun_radius_deg", p.sun_radius_deg},
          {"sun_share", p.sun_share},
          {"warmth", p.warmth}};
}

Json declared_json(const DrawnDeclared& d) {
  return {{"sheet_scale_x", d.scale_x},
          {"sheet_scale_y", d.scale_y},
          {"sheet_scale_u", d.scale_u},
          {"offset_mm", d.offset_mm},
          {"offset_u_mm", d.offset_u}};
}

double true_friction_mm(const DrawnPad& pad, double station_mm) {
  return pad.friction_mm + pad.taper_per_mm * station_mm;
}

double true_overall_mm(const DrawnPad& pad, double station_mm) {
  return pad.plate_mm + true_friction_mm(pad, station_mm);
}

std::vector<TrueCorner> true_corners(const DrawnScene& scene) {
  const Camera camera(scene.camera);
  const CardSurface card(scene.card, {});
  std::vector<TrueCorner> corners;
  for (const CardCorner& corner : notch_card().corners)
    if (corner.state == CutState::present)
      corners.push_back({corner.id, seen(scene, camera, card.place(corner.at))});
  return corners;
}

std::vector<TrueEdge> true_edges(const DrawnScene& scene) {
  const Camera camera(scene.camera);
  const Frame frame = build_pad(scene.pad, scene.seed).frame;
  std::vector<TrueEdge> edges;
  using Place = EdgePlace (*)(const DrawnPad&, double);
  for (const auto& [name, place] : {std::pair<const char*, Place>{"plate_outer", plate_outer_edge},
                                    {"plate_friction", plate_friction_edge},
                                    {"friction_outer", friction_outer_edge}}) {
    TrueEdge edge{name, {}, {}};
    for (int x = -28; x <= 28; x += 4) {
      const EdgePlace at = place(scene.pad, x);
      edge.outer.push_back(seen(scene, camera, frame.out(at.outer)));
      edge.inner.push_back(seen(scene, camera, frame.out(at.inner)));
    }
    edges.push_back(edge);
  }
  return edges;
}

Json truth_json(const DrawnScene& scene) {
  Json corners = Json::array();
  for (const TrueCorner& corner : true_corners(scene))
    corners.push_back({corner.id, corner.photo_px.x, corner.photo_px.y});
  Json edges = Json::object();
  for (const TrueEdge& edge : true_edges(scene))
    edges[edge.name] = {{"outer_px", points_json(edge.outer)},
                        {"inner_px", points_json(edge.inner)}};
  return {{"seed", scene.seed},
          {"difficulty", difficulty_word(scene.difficulty)},
          {"true_mm", sizes(scene.pad)},
          {"declared", declared_json(scene.declared)},
          {"camera", camera_json(scene.camera)},
          {"card", card_json(scene.card)},
          {"pad", pad_json(scene.pad)},
          {"place", place_json(scene.place)},
          {"edges", edges},
          {"corners_px", corners}};
}

}  // namespace scantling::drawn
