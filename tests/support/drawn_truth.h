#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "card/card_definition.h"
#include "support/drawn_camera.h"
#include "support/drawn_scene.h"
#include "support/drawn_solid.h"

namespace scantling::drawn {

/// The part's true sizes at a place along its edge, mm from the middle of the notch to
/// the right (on end: downwards).
double true_friction_mm(const DrawnPad& pad, double station_mm);
double true_overall_mm(const DrawnPad& pad, double station_mm);

/// Where the card's present corners really are on the upright photo.
struct TrueCorner {
  int id = 0;
  Point_px photo_px;
};
std::vector<TrueCorner> true_corners(const DrawnScene& scene);

/// An edge's true line on the upright photo: along it at every 4 mm of the notch's middle 56 mm.
struct TrueEdge {
  std::string name;             ///< "plate_outer", "plate_friction", "friction_outer"
  std::vector<Point_px> outer;  ///< where the flat face begins: what thickness means
  std::vector<Point_px> inner;  ///< where the side face ends
};
std::vector<TrueEdge> true_edges(const DrawnScene& scene);

/// Everything above and all of the scene's parameters.
nlohmann::ordered_json truth_json(const DrawnScene& scene);

/// Parts of it that other kinds of drawn photos share.
nlohmann::ordered_json points_json(const std::vector<Point_px>& list);
nlohmann::ordered_json camera_json(const DrawnCamera& camera);
nlohmann::ordered_json card_json(const DrawnCard& card);
nlohmann::ordered_json place_json(const DrawnPlace& place);
nlohmann::ordered_json declared_json(const DrawnDeclared& declared);

}  // namespace scantling::drawn
