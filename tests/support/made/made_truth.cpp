#include "made_truth.h"

#include <Eigen/Geometry>
#include <cmath>
#include <functional>
#include <numbers>

#include "made_camera.h"
#include "made_json.h"
#include "made_mesh.h"

namespace scantling::made {

namespace {

using Json = nlohmann::ordered_json;

/// The line at (v, w) along the visible part of the edge.
class EdgeLines {
 public:
  explicit EdgeLines(const Scene& scene) : scene_(scene), camera_(scene), shape_(scene) {
    const auto& card = scene.card;
    const bool up = shape_.upright();
    const double a = shape_.u_of({33 * card.scale_x, 77 * card.scale_y, 0});
    const double b = shape_.u_of({95 * card.scale_x, 33 * card.scale_y, 0});
    const double end =
        scene.part.length_mm / 2 - scene.part.corner_mm - scene.part.friction.end_gap_mm;
    from_ = std::max(-end, std::min(a, b));
    to_ = std::min(end, std::max(a, b));
    if (up) to_ = std::min(to_, shape_.u_of({0, 33 * card.scale_y, 0}));
  }

  Json line(const std::function<double(double)>& v, double w) const {
    Json points = Json::array();
    constexpr int kPoints = 25;
    for (int i = 0; i < kPoints; ++i) {
      const double u = from_ + (to_ - from_) * i / (kPoints - 1);
      points.push_back(point(camera_.project(shape_.world(u, v(u), w + shape_.edge_depth_mm(u)))));
    }
    return points;
  }

 private:
  Scene scene_;
  Camera camera_;
  PadShape shape_;
  double from_ = 0, to_ = 0;
};

Json edges_of(const Scene& scene) {
  const EdgeLines lines(scene);
  const PadShape shape(scene);
  const auto& part = scene.part;
  const double c = part.plate.chamfer_mm, s = part.friction.setback_mm,
               f = part.friction.chamfer_mm;
  const double plate = part.plate.thickness_mm;
  const auto at = [](double v) { return [v](double) { return v; }; };
  const auto top = [&](double less) {
    return [&shape, less](double u) { return shape.overall_mm(u) - less; };
  };
  Json edges;
  edges["plate_outer"] = {{"nominal", lines.line(at(0), 0)},
                          {"flat_begins", lines.line(at(0), c)},
                          {"side_ends", lines.line(at(c), 0)}};
  edges["plate_friction"] = {{"nominal", lines.line(at(plate), 0)},
                             {"flat_begins", lines.line(at(plate), c)},
                             {"side_ends", lines.line(at(plate - c), 0)},
                             {"friction_foot", lines.line(at(plate), s)}};
  edges["friction_outer"] = {{"nominal", lines.line(top(0), 0)},
                             {"nominal_on_friction_side", lines.line(top(0), s)},
                             {"flat_begins", lines.line(top(0), s + f)},
                             {"side_ends", lines.line(top(f), s)}};
  return edges;
}

Json card_corners(const Scene& scene) {
  const Camera camera(scene);
  const CardPlace place(scene);
  Json corners = Json::array();
  for (int id = 0; id < 120; ++id) {
    const double x = 8.0 * (id % 15 + 1), y = 8.0 * (id / 15 + 1);
    if (x >= 32 && x <= 96 && y >= 32) continue;  // in or on the edge of the notch
    corners.push_back(
        {{"id", id}, {"xy_mm", {x, y}}, {"px", point(camera.project(place.world(x, y)))}});
  }
  return corners;
}

Json stations_of(const Scene& scene) {
  const PadShape shape(scene);
  Json stations = Json::array();
  const auto& card = scene.card;
  for (const double position : {-1.0, 0.0, 1.0}) {
    const double offset = shape.upright() ? 15.0 * position : 20.0 * position;
    const Vec3 at = shape.upright() ? Vec3(64 * card.scale_x, 55 * card.scale_y + offset, 0)
                                    : Vec3(64 * card.scale_x + offset, 0, 0);
    const double u = shape.u_of(at);
    stations.push_back({{"position_mm", offset},
                        {"friction_thickness_mm", rounded(shape.friction_mm(u), 1e-6)},
                        {"plate_thickness_mm", shape.plate_mm()},
                        {"overall_thickness_mm", rounded(shape.overall_mm(u), 1e-6)}});
  }
  return stations;
}

/// The card seen from the camera: x_camera = R x_card + t, card coordinates in true mm.
Json card_pose(const Scene& scene, const Camera& camera) {
  const CardPlace place(scene);
  const double sx = scene.card.scale_x, sy = scene.card.scale_y;
  const auto seen = [&](double x, double y) {
    return Vec3(camera.camera_from_world() * (place.world(x, y) - camera.position_mm()));
  };
  const Vec3 middle = seen(64, 16);
  const Vec3 ex = (seen(64 + 0.01 / sx, 16) - seen(64 - 0.01 / sx, 16)) / 0.02;
  const Vec3 ey = (seen(64, 16 + 0.01 / sy) - seen(64, 16 - 0.01 / sy)) / 0.02;
  const Vec3 ez = ex.cross(ey);
  const Vec3 origin = middle - 64 * sx * ex - 16 * sy * ey;
  Json r = Json::array();
  for (int i = 0; i < 3; ++i)
    r.push_back({rounded(ex[i], 1e-9), rounded(ey[i], 1e-9), rounded(ez[i], 1e-9)});
  const double tilt = std::acos(std::min(1.0, std::abs(ez.z()))) * 180 / std::numbers::pi;
  return {{"camera_from_card_rotation", r},
          {"camera_from_card_translation_mm",
           {rounded(origin.x(), 1e-6), rounded(origin.y(), 1e-6), rounded(origin.z(), 1e-6)}},
          {"tilt_deg", rounded(tilt, 1e-4)},
          {"distance_mm", rounded(middle.norm(), 1e-3)},
          {"px_per_mm", rounded(camera.focal_px() / middle.z(), 1e-4)}};
}

}  // namespace

Json camera_truth(const Scene& scene) {
  const Camera camera(scene);
  const auto& photo = scene.photo;
  return {{"width_px", photo.width_px},
          {"height_px", photo.height_px},
          {"orientation", photo.orientation},
          {"f_px", camera.focal_px()},
          {"cx", camera.centre_px().x()},
          {"cy", camera.centre_px().y()},
          {"k1", photo.k1},
          {"k2", photo.k2},
          {"exif_f35_mm", photo.f35_mm},
          {"blur_px", photo.blur_px},
          {"motion_px", photo.motion_px},
          {"elevation_deg", scene.camera.elevation_deg},
          {"azimuth_deg", scene.camera.azimuth_deg},
          {"roll_deg", scene.camera.roll_deg},
          {"distance_mm", scene.camera.distance_mm}};
}

Json truth_of(const Scene& scene) {
  if (scene.view != "pad") return other_view_truth(scene);
  const Camera camera(scene);
  const PadShape shape(scene);
  const auto& part = scene.part;
  const auto& photo = scene.photo;
  Json truth;
  truth["name"] = scene.name;
  truth["note"] = scene.note;
  truth["made_picture"] = true;
  truth["view"] = "pad";
  truth["part_present"] = part.present;
  const auto stations = stations_of(scene);
  truth["friction_thickness_mm"] = stations[1]["friction_thickness_mm"];
  truth["plate_thickness_mm"] = stations[1]["plate_thickness_mm"];
  truth["overall_thickness_mm"] = stations[1]["overall_thickness_mm"];
  truth["friction_taper_mm"] = rounded(stations[2]["friction_thickness_mm"].get<double>() -
                                           stations[0]["friction_thickness_mm"].get<double>(),
                                       1e-6);
  truth["stations"] = stations;
  truth["part"] = {{"pose", part.pose},
                   {"offset_mm", part.offset_mm},
                   {"length_mm", part.length_mm},
                   {"depth_mm", part.depth_mm},
                   {"edge_radius_mm", part.edge_radius_mm},
                   {"plate_chamfer_mm", part.plate.chamfer_mm},
                   {"plate_rounded", part.plate.rounded},
                   {"plate_finish", part.plate.finish},
                   {"friction_setback_mm", part.friction.setback_mm},
                   {"friction_chamfer_mm", part.friction.chamfer_mm},
                   {"friction_rounded", part.friction.rounded},
                   {"friction_finish", part.friction.finish},
                   {"crumbs", part.friction.crumbs},
                   {"slot_mm", part.friction.slot_mm}};
  truth["card"] = {{"present", scene.card.present},
                   {"mirrored", scene.card.mirrored},
                   {"sheet_scale", {scene.card.scale_x, scene.card.scale_y}},
                   {"lean_deg", scene.card.lean_deg},
                   {"curl_mm", scene.card.curl_mm},
                   {"occluder", scene.place.occluder}};
  truth["camera"] = camera_truth(scene);
  truth["pose"] = card_pose(scene, camera);
  truth["light"] = {{"kind", scene.light.kind},
                    {"azimuth_deg", scene.light.azimuth_deg},
                    {"elevation_deg", scene.light.elevation_deg},
                    {"exposure", photo.exposure},
                    {"table", scene.place.table},
                    {"background", scene.place.background}};
  truth["edges_px"] = edges_of(scene);
  truth["card_corners_px"] = card_corners(scene);
  return truth;
}

}  // namespace scantling::made
