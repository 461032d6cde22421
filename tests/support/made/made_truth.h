#pragma once

#include <nlohmann/json.hpp>

#include "made_scene.h"

namespace scantling::made {

/// All that is exactly known about a made photo: sizes, stations, camera, pose, and where card
/// corners and edges lie on the upright photo (whole numbers are pixel centres).
nlohmann::ordered_json truth_of(const Scene& scene);

}  // namespace scantling::made
