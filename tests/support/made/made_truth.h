#pragma once

#include <nlohmann/json.hpp>

#include "made_scene.h"

namespace scantling::made {

/// All that is exactly known about a made photo: sizes, stations, camera, pose, and where card
/// corners and edges lie on the upright photo (whole numbers are pixel centres).
nlohmann::ordered_json truth_of(const Scene& scene);

/// The lens, the file and where the camera was.
nlohmann::ordered_json camera_truth(const Scene& scene);
/// The rim, lip, faces, pile and sheet views: sizes, each card's pose and its corners in sight, and
/// the true lines on the photo.
nlohmann::ordered_json other_view_truth(const Scene& scene);

}  // namespace scantling::made
