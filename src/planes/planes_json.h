#pragma once

#include <nlohmann/json_fwd.hpp>

#include "planes/planes_result.h"

namespace scantling {

/// The result as the command line prints it: `dimensions` and `checks` as in a measurement's JSON,
/// `faces_angle_deg` or `tilt_deg`, a `photos` list, the `cards` with what `card` holds there, and
/// `fit`. Every number is finite or null.
/// @throws std::invalid_argument when a size is not finite.
nlohmann::ordered_json planes_to_json(const PlanesResult& result);

}  // namespace scantling
