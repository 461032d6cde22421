#include "support/drawn_disc_truth.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "support/drawn_card.h"

namespace scantling::drawn {
namespace {

using Json = nlohmann::ordered_json;

Point_px seen(const DrawnDiscScene& scene, const Camera& camera, Vec3 world) {
  Point_px p = camera.project(world);
  if (scene.camera.mirrored) p.x = scene.camera.width_px - 1 - p.x;
  return p;
}

double crest_mm(const DrawnDisc& disc) {
  return disc.rim_thickness_mm / 2 - disc.lip_rise_mm;
}

TrueEdge face_edge(const DrawnDiscScene& scene, const Camera& camera, bool face_a) {
  const DrawnDisc& disc = scene.disc;
  const double side = face_a ? 1 : -1, edge = face_a ? disc.edge_a_mm : disc.edge_b_mm;
  const double flat = disc.rim_thickness_mm / 2;
  TrueEdge line{face_a ? "face_a" : "face_b", {}, {}};
  for (int x = -28; x <= 28; x += 2) {
    const double turn = std::asin((x - disc.shift_mm) / disc.radius_mm);
    line.outer.push_back(
        seen(scene, camera, on_disc(scene, disc.radius_mm - edge, side * flat, turn)));
    line.inner.push_back(
        seen(scene, camera, on_disc(scene, disc.radius_mm, side * (flat - edge), turn)));
  }
  return line;
}

TrueEdge wall_edge(const DrawnDiscScene& scene, const Camera& camera, bool top) {
  const DrawnDisc& disc = scene.disc;
  const double radius = top ? disc.wall_top_radius_mm() : disc.wall_foot_radius_mm();
  const double height = crest_mm(disc) - (top ? 0 : disc.lip_a_mm);
  TrueEdge line{top ? "wall_top" : "wall_foot", {}, {}};
  for (int arc = -26; arc <= 26; arc += 2) {
    const double turn = (disc.card_aside_mm + arc) / disc.wall_foot_radius_mm();
    line.outer.push_back(seen(scene, camera, on_disc(scene, radius, height, turn)));
  }
  line.inner = line.outer;
  return line;
}

Json sizes(const DrawnDiscScene& scene) {
  const DrawnDisc& disc = scene.disc;
  Json json{{"rim_thickness", disc.rim_thickness_mm},
            {"lip_height", disc.lip_a_mm},
            {"lip_height_b", disc.lip_b_mm},
            {"wall_run", disc.wall_run_mm},
            {"worn_thickness", disc.worn_thickness_mm()},
            {"rim_radius", disc.radius_mm},
            {"wall_foot_radius", disc.wall_foot_radius_mm()},
            {"wall_top_radius", disc.wall_top_radius_mm()},
            {"lip_width", disc.lip_width_mm},
            {"lip_rise", disc.lip_rise_mm},
            {"offset", disc.offset_mm}};
  if (scene.view == DiscView::lip) {
    const Vec3 axis = true_axis_on_card(scene);
    json["axis_on_card"] = {axis.x, axis.y};
    json["track_below_card"] = axis.z;
  }
  return json;
}

Json disc_json(const DrawnDisc& d) {
  static constexpr const char* kFinish[] = {"coated", "rust", "bare"};
  return {{"finish", kFinish[static_cast<int>(d.finish)]},
          {"wall_hollow", d.wall_hollow},
          {"edge_a_mm", d.edge_a_mm},
          {"edge_b_mm", d.edge_b_mm},
          {"edge_round", d.edge_round},
          {"track_width_mm", d.track_width_mm},
          {"bell_mm", d.bell_mm},
          {"bell_on_a", d.bell_on_a},
          {"vented", d.vented},
          {"vent_share", d.vent_share},
          {"vanes", d.vanes},
          {"vane_share", d.vane_share},
          {"seam_mm", d.seam_mm},
          {"band_mm", d.band_mm},
          {"rim_albedo", d.rim_albedo},
          {"lip_albedo", d.lip_albedo},
          {"wall_albedo", d.wall_albedo},
          {"track_albedo", d.track_albedo},
          {"texture", d.texture},
          {"grooves", d.grooves},
          {"shine", d.shine},
          {"dirt", d.dirt},
          {"rust_edge_mm", d.rust_edge_mm},
          {"shift_mm", d.shift_mm},
          {"middle_mm", d.middle_mm},
          {"roll_deg", d.roll_deg},
          {"tilt_deg", d.tilt_deg},
          {"card_gap_mm", d.card_gap_mm},
          {"card_yaw_deg", d.card_yaw_deg},
          {"card_aside_mm", d.card_aside_mm},
          {"card_lift_mm", d.card_lift_mm}};
}

}  // namespace

Vec3 on_disc(const DrawnDiscScene& scene, double radius_mm, double height_mm, double turn_rad) {
  // In the rim view we look at the near rim, in the lip view from the hub at the far one.
  const double x = radius_mm * std::sin(turn_rad), z = radius_mm * std::cos(turn_rad);
  return disc_frame(scene).out({scene.view == DiscView::lip ? -x : x, height_mm, z});
}

std::vector<TrueCorner> true_corners(const DrawnDiscScene& scene) {
  const Camera camera(scene.camera);
  const CardSurface card = disc_card(scene);
  const auto& definition = scene.view == DiscView::lip ? track_card() : notch_card();
  std::vector<TrueCorner> corners;
  for (const CardCorner& corner : definition.corners)
    if (corner.state == CutState::present)
      corners.push_back({corner.id, seen(scene, camera, card.place(corner.at))});
  return corners;
}

std::vector<TrueEdge> true_edges(const DrawnDiscScene& scene) {
  const Camera camera(scene.camera);
  if (scene.view == DiscView::rim)
    return {face_edge(scene, camera, true), face_edge(scene, camera, false)};
  return {wall_edge(scene, camera, false), wall_edge(scene, camera, true)};
}

Vec3 true_axis_on_card(const DrawnDiscScene& scene) {
  const CardSurface card = disc_card(scene);
  const Vec3 axis = disc_frame(scene).out({0, crest_mm(scene.disc) - scene.disc.lip_a_mm, 0});
  return card.frame().direction_in(axis - card.place({0, 0}));
}

Json truth_json(const DrawnDiscScene& scene) {
  Json corners = Json::array();
  for (const TrueCorner& corner : true_corners(scene))
    corners.push_back({corner.id, corner.photo_px.x, corner.photo_px.y});
  Json edges = Json::object();
  for (const TrueEdge& edge : true_edges(scene)) {
    if (scene.view == DiscView::rim)
      edges[edge.name] = {{"outer_px", points_json(edge.outer)},
                          {"inner_px", points_json(edge.inner)}};
    else
      edges[edge.name] = {{"points_px", points_json(edge.outer)}};
  }
  return {{"seed", scene.seed},
          {"shot", scene.shot},
          {"difficulty", difficulty_word(scene.difficulty)},
          {"view", scene.view == DiscView::rim ? "rim" : "lip"},
          {"true_mm", sizes(scene)},
          {"declared", declared_json(scene.declared)},
          {"camera", camera_json(scene.camera)},
          {"card", card_json(scene.card)},
          {"disc", disc_json(scene.disc)},
          {"place", place_json(scene.place)},
          {"edges", edges},
          {"corners_px", corners}};
}

}  // namespace scantling::drawn
