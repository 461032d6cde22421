#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

namespace scantling {

/// Checks a JSON value against a JSON Schema (draft 2020-12), as far as this
/// project's own schemas go: type, const, enum, required, properties,
/// additionalProperties (false or a schema), items, minItems, maxItems,
/// minLength, maxLength, pattern, minimum, maximum, exclusiveMinimum, anyOf and
/// $ref into $defs. Returns nothing where it holds, else a sentence that names
/// the place.
/// @throws std::logic_error for a schema that uses anything else.
std::optional<std::string> schema_fault(const nlohmann::ordered_json& value,
                                        const nlohmann::ordered_json& schema);

}  // namespace scantling
