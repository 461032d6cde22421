#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "card/card_definition.h"
#include "made_json.h"
#include "made_placement.h"
#include "made_truth.h"

namespace scantling::made {

namespace {

using Json = nlohmann::ordered_json;

Json vector(const Vec3& v) {
  return {rounded(v.x(), 1e-6), rounded(v.y(), 1e-6), rounded(v.z(), 1e-6)};
}

const CardDefinition& definition_of(const PlacedSheet& sheet) {
  if (sheet.card == "ground") return ground_sheet();
  if (sheet.card == "track_b") return track_card_b();
  return sheet.card == "track" ? track_card() : notch_card();
}

/// Whether disc or pad stands between a place and the camera.
class Sight {
 public:
  Sight(const Scene& scene, const Camera& camera) : scene_(scene), eye_(camera.position_mm()) {}

  bool free(const Vec3& from) const {
    constexpr int kSteps = 1500;
    for (int i = 1; i < kSteps; ++i) {
      const double t = 0.6 * i / kSteps;
      const Vec3 at = from + t * (eye_ - from);
      if (shows_disc(scene_) && scene_.view == "faces" && in_disc(at)) return false;
      if (shows_pad(scene_) && in_pad(at)) return false;
    }
    return true;
  }

 private:
  bool in_disc(const Vec3& at) const {
    const Placed place = disc_place(scene_);
    const Vec3 p = place.axes.transpose() * (at - place.origin);
    const double r = std::hypot(p.x(), p.z()), half = scene_.disc.rim_thickness_mm / 2;
    if (r < scene_.disc.bell_radius_mm && r > scene_.disc.bore_mm)
      return p.y() > half - 1 && p.y() < track_height_mm(scene_.disc, false) + scene_.disc.bell_mm;
    return r < scene_.disc.radius_mm && r > scene_.disc.bell_radius_mm &&
           p.y() < track_height_mm(scene_.disc, false) - 0.01 &&
           p.y() > -track_height_mm(scene_.disc, true) + 0.01;
  }
  bool in_pad(const Vec3& at) const {
    const Placed place = pad_place(scene_);
    const Vec3 p = place.axes.transpose() * (at - place.origin);
    const PadShape pad(scene_);
    const double u = pad.u_of(p), up = 78 * scene_.card.scale_y - p.y();
    const double w = p.z() - scene_.part.offset_mm;
    return std::abs(u) < scene_.part.length_mm / 2 && w > 0 && w < scene_.part.depth_mm && up > 0 &&
           up < pad.overall_mm(u) - 0.01;
  }

  const Scene& scene_;
  Vec3 eye_;
};

Json card_truth(const Scene& scene, const Camera& camera, const PlacedSheet& sheet) {
  const CardDefinition& card = definition_of(sheet);
  const Sight sight(scene, camera);
  const Eigen::Matrix3d r = camera.camera_from_world() * sheet.axes;
  const Vec3 t = camera.camera_from_world() * (sheet.origin - camera.position_mm());
  const Vec3 middle = sheet.world((card.sheet.x_min + card.sheet.x_max) / 2,
                                  (card.sheet.y_min + card.sheet.y_max) / 2);
  const bool faces_us = sheet.axes.col(2).dot(middle - camera.position_mm()) > 0;
  Json rotation = Json::array();
  for (int i = 0; i < 3; ++i)
    rotation.push_back({rounded(r(i, 0), 1e-9), rounded(r(i, 1), 1e-9), rounded(r(i, 2), 1e-9)});
  Json corners = Json::array();
  for (const CardCorner& corner : card.corners) {
    if (corner.state != CutState::present || !faces_us) continue;
    const Vec3 world = sheet.world(corner.at.x, corner.at.y);
    const Vec2 px = camera.project(world);
    const bool inside = px.x() > 4 && px.y() > 4 && px.x() < scene.photo.width_px - 5 &&
                        px.y() < scene.photo.height_px - 5;
    if (!inside || !sight.free(world)) continue;
    corners.push_back(
        {{"id", corner.id}, {"xy_mm", {corner.at.x, corner.at.y}}, {"px", point(px)}});
  }
  const double depth = camera.depth_mm(middle);
  const double tilt = std::acos(std::min(1.0, std::abs(r(2, 2)))) * 180 / std::numbers::pi;
  return {{"card", sheet.card},
          {"sheet_scale", {sheet.scale_x, sheet.scale_y}},
          {"camera_from_card_rotation", rotation},
          {"camera_from_card_translation_mm", vector(t)},
          {"tilt_deg", rounded(tilt, 1e-4)},
          {"distance_mm", rounded((middle - camera.position_mm()).norm(), 1e-3)},
          {"px_per_mm", rounded(camera.focal_px() / depth, 1e-4)},
          {"marker_gap_mm", (card.square_mm - card.marker_mm) / 2},
          {"corners_px", corners}};
}

/// A circle of the disc about the middle of the view, every 2 mm of arc.
Json arc(const Scene& scene, const Camera& camera, double radius, double height, double reach_mm) {
  const Placed place = disc_place(scene);
  Scene unturned = scene;
  unturned.disc.turn_deg = 0;
  const Placed still = disc_place(unturned);
  Json points = Json::array();
  const double aside = scene.view == "lip" ? scene.disc.card_aside_mm : -scene.disc.shift_mm;
  for (double s = -reach_mm; s <= reach_mm + 1e-9; s += 2) {
    const double turn = (s + aside) / scene.disc.radius_mm;
    // Its frame's own x runs right or left, by which face is up.
    const double right = still.axes(0, 0);
    points.push_back(
        point(camera.project(place.origin + still.axes * Vec3(right * radius * std::sin(turn),
                                                              height, radius * std::cos(turn)))));
  }
  return points;
}

Json edges_of(const Scene& scene, const Camera& camera) {
  const auto& disc = scene.disc;
  Json edges = Json::object();
  if (scene.view == "rim") {
    const double flat = disc.rim_thickness_mm / 2;
    for (const double side : {1.0, -1.0}) {
      edges[side > 0 ? "face_a" : "face_b"] = {
          {"nominal", arc(scene, camera, disc.radius_mm, side * flat, 28)},
          {"flat_begins", arc(scene, camera, disc.radius_mm - disc.edge_mm, side * flat, 28)},
          {"side_ends", arc(scene, camera, disc.radius_mm, side * (flat - disc.edge_mm), 28)}};
    }
  } else if (scene.view == "lip") {
    const double side = disc.inboard_up ? -1 : 1;
    edges["wall_foot"] = {{"nominal", arc(scene, camera, wall_foot_radius_mm(disc),
                                          side * track_height_mm(disc, disc.inboard_up), 26)}};
    edges["wall_top"] = {{"nominal", arc(scene, camera, wall_top_radius_mm(disc),
                                         side * disc.rim_thickness_mm / 2, 26)}};
  }
  return edges;
}

void add_disc_sizes(Json& truth, const Scene& scene) {
  const auto& disc = scene.disc;
  truth["rim_thickness_mm"] = disc.rim_thickness_mm;
  truth["lip_outboard_mm"] = disc.lip_outboard_mm;
  truth["lip_inboard_mm"] = disc.lip_inboard_mm;
  truth["worn_thickness_mm"] =
      rounded(disc.rim_thickness_mm - disc.lip_outboard_mm - disc.lip_inboard_mm, 1e-6);
  truth["disc_diameter_mm"] = 2 * disc.radius_mm;
  if (scene.view == "rim") truth["offset_mm"] = disc.offset_mm;
  if (scene.view == "lip") {
    truth["lip_height_mm"] = disc.inboard_up ? disc.lip_inboard_mm : disc.lip_outboard_mm;
    truth["wall_run_mm"] = disc.wall_run_mm;
    truth["wall_foot_radius_mm"] = wall_foot_radius_mm(disc);
    truth["wall_top_radius_mm"] = wall_top_radius_mm(disc);
    const PlacedSheet card = sheets_of(scene).front();
    const Placed place = disc_place(scene);
    const double side = disc.inboard_up ? -1 : 1;
    const Vec3 axis = place.world({0, side * track_height_mm(disc, disc.inboard_up), 0});
    truth["axis_on_card_mm"] = vector(card.axes.transpose() * (axis - card.origin));
  }
}

}  // namespace

Json other_view_truth(const Scene& scene) {
  const Camera camera(scene);
  Json truth{
      {"name", scene.name}, {"note", scene.note}, {"made_picture", true}, {"view", scene.view}};
  if (shows_disc(scene)) add_disc_sizes(truth, scene);
  if (scene.view == "pile") {
    const PadShape pad(scene);
    truth["overall_thickness_mm"] = rounded(pad.overall_mm(0), 1e-6);
    truth["plate_thickness_mm"] = pad.plate_mm();
    truth["friction_thickness_mm"] = rounded(pad.friction_mm(0), 1e-6);
    truth["friction_taper_per_mm"] = scene.part.friction.taper_per_mm;
  }
  truth["camera"] = camera_truth(scene);
  truth["cards"] = Json::array();
  for (const PlacedSheet& sheet : sheets_of(scene))
    truth["cards"].push_back(card_truth(scene, camera, sheet));
  if (const Json edges = edges_of(scene, camera); !edges.empty()) truth["edges_px"] = edges;
  return truth;
}

}  // namespace scantling::made
