#include "planes/planes_json.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "dimension/measurement_json.h"

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}

Json vector_json(const World3& v) {
  return Json::array({number(v[0]), number(v[1]), number(v[2])});
}

Json axes_json(const std::array<World3, 3>& axes) {
  Json list = Json::array();
  for (const World3& axis : axes) list.push_back(vector_json(axis));
  return list;
}

std::string piece_name(PlanePiece piece) {
  return printed_pieces()[static_cast<std::size_t>(piece)]->name;
}

Json photo_json(const SolvedPhoto& photo) {
  Json shows = Json::array();
  for (const PlanePiece piece : photo.shows) shows.push_back(piece_name(piece));
  Json corners = Json::array();
  int used = 0;
  for (const SolvedCorner& c : photo.corners) {
    used += c.used;
    corners.push_back({{"card", piece_name(c.piece)},
                       {"id", c.id},
                       {"photo_px", {number(c.photo_px.x), number(c.photo_px.y)}},
                       {"residual_px", {number(c.off_x_px), number(c.off_y_px)}},
                       {"used", c.used}});
  }
  Json pose = nullptr;
  if (photo.solved)
    pose = {{"camera_mm", vector_json(photo.place)}, {"right_down_forward", axes_json(photo.axes)}};
  return {{"photo", photo.name},
          {"camera", photo.camera},
          {"used", photo.solved},
          {"shows", std::move(shows)},
          {"pose", std::move(pose)},
          {"focal_px", photo.solved ? number(photo.focal_px) : Json(nullptr)},
          {"corners", used},
          {"residual_px", photo.solved ? number(photo.residual_px) : Json(nullptr)},
          {"corner_list", std::move(corners)}};
}

Json card_json(const SolvedPiece& piece) {
  Json outline = Json::array();
  for (const World3& corner : piece.outline) outline.push_back(vector_json(corner));
  return {{"name", piece_name(piece.piece)},
          {"corners", piece.corners},
          {"residual_px", number(piece.residual_px)},
          {"px_per_mm", number(piece.px_per_mm)},
          {"tilt_deg", number(piece.tilt_deg)},
          {"distance_mm", number(piece.distance_mm)},
          {"photos", piece.photos},
          {"middle_mm", vector_json(piece.middle)},
          {"axes", axes_json(piece.axes)},
          {"outline_mm", std::move(outline)},
          {"depth_standard_uncertainty_mm", number(piece.depth_u_mm)},
          {"bend_mm", number(piece.bend_mm)},
          {"seen_within_deg", number(piece.largest_angle_deg)}};
}

Json fit_json(const PlanesFit& fit) {
  return {{"noise_px", number(fit.noise_px)},
          {"degrees_of_freedom", number(fit.degrees_of_freedom)},
          {"reduced_chi_square", number(fit.reduced_chi_square)},
          {"moved_chi_square", number(fit.moved_chi_square)},
          {"corners_left_out", fit.left_out},
          {"words", fit.words}};
}

}  // namespace

Json planes_to_json(const PlanesResult& result) {
  Measurement shared;
  shared.dimensions = result.dimensions;
  shared.checks = result.checks;
  const Json measured = measurement_for_printing(shared);
  const bool faces = result.view == PlanesView::faces;
  const std::string angle = faces ? "faces_angle" : "tilt";
  Json json = {{"view", planes_view_word(result.view)}, {"dimensions", measured["dimensions"]}};
  json[angle + "_deg"] = result.angle_deg ? number(*result.angle_deg) : Json(nullptr);
  json[angle + "_standard_uncertainty_deg"] =
      result.angle_deg ? number(result.angle_u_deg) : Json(nullptr);
  json["photos"] = Json::array();
  for (const SolvedPhoto& photo : result.photos) json["photos"].push_back(photo_json(photo));
  json["cards"] = Json::array();
  for (const SolvedPiece& piece : result.pieces) json["cards"].push_back(card_json(piece));
  json["fit"] = result.fit ? fit_json(*result.fit) : Json(nullptr);
  json["sheet"] = {{"flat", !result.sheet.curved}, {"range_mm", number(result.sheet.range_mm)}};
  json["next_photo"] =
      result.next_photo
          ? Json{{"card", piece_name(result.next_photo->piece)},
                 {"camera_mm", vector_json(result.next_photo->place)},
                 {"standard_uncertainty_mm", number(result.next_photo->standard_uncertainty_mm)},
                 {"words", result.next_photo->words}}
          : Json(nullptr);
  json["frame"] = "millimetres from the ground sheet's middle: x right, y down, z into the sheet";
  json["checks"] = measured["checks"];
  json["timing_ms"] = {{"decode", number(result.timing_ms.decode)},
                       {"card", number(result.timing_ms.card)},
                       {"solve", number(result.timing_ms.edges)},
                       {"total", number(result.timing_ms.total)}};
  return json;
}

}  // namespace scantling
