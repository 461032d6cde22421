#pragma once

#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "support/drawn_disc.h"
#include "support/drawn_truth.h"

namespace scantling::drawn {

/// Where the card's present corners really are on the upright photo.
std::vector<TrueCorner> true_corners(const DrawnDiscScene& scene);

/// The true lines on the upright photo. Rim view: "face_a" (the upper one) and "face_b" within 28
/// mm of the notch's middle; `outer` where the flat begins, which thickness means, `inner` where
/// the rim ends. Lip view: "wall_foot" and "wall_top" behind the track card and 4 mm to its sides,
/// every 2 mm of arc; `outer` and `inner` are the same.
std::vector<TrueEdge> true_edges(const DrawnDiscScene& scene);

/// The disc's axis where it meets the worn track's plane, in the track card's frame: true mm from
/// the card's origin, however the sheet was printed.
Vec3 true_axis_on_card(const DrawnDiscScene& scene);

/// A place of face a or b's section, at this turn of the axis from the middle of the view.
Vec3 on_disc(const DrawnDiscScene& scene, double radius_mm, double height_mm, double turn_rad);

nlohmann::ordered_json truth_json(const DrawnDiscScene& scene);

}  // namespace scantling::drawn
