#pragma once

#include <nlohmann/json_fwd.hpp>

#include "dimension/measurement.h"

namespace scantling {

/// A measurement as the record keeps it. `degrees_of_freedom` is
/// null where unlimited, `card` is null where no card was found; every other number is finite.
/// @throws std::invalid_argument naming the field when a number is not finite: the measuring broke
/// its promise, and such a result must not be shown or saved.
nlohmann::ordered_json measurement_to_json(const Measurement& measurement);

/// The same as the command line prints it: with what would improve each size ("improvements").
nlohmann::ordered_json measurement_for_printing(const Measurement& measurement);

/// Reads what `measurement_to_json` wrote, or an older form of it: absent optional fields take
/// their defaults, unknown ones are passed over, derived ones (`expanded_95_mm`) are worked out
/// afresh.
/// @throws std::runtime_error with a sentence naming the field that is missing or of a wrong type.
Measurement measurement_from_json(const nlohmann::ordered_json& json);

}  // namespace scantling
