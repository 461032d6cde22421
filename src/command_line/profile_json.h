#pragma once

#include <nlohmann/json.hpp>

#include "camera/camera_profile.h"

namespace scantling {

/// A profile's figures for `--json`, each with its standard deviation.
nlohmann::ordered_json profile_json(const CameraProfile& profile);

}  // namespace scantling
