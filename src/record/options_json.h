#pragma once

#include <string>
#include <vector>

#include "dimension/analysis.h"

namespace scantling {

/// How the record writes what a measurement was made with, as JSON text.
/// `read_with`: see MeasurementEntry. @throws RecordError when a number is not finite.
std::string options_to_text(const MeasureOptions& options,
                            const std::vector<std::string>& read_with = {});
std::string moved_edges_to_text(const std::vector<MovedEdge>& moved);

/// Reads it back. @throws RecordError when the text is not what the functions above write.
MeasureOptions options_from_text(const std::string& text);
std::vector<std::string> read_with_from_text(const std::string& options_text);
std::vector<MovedEdge> moved_edges_from_text(const std::string& text);

}  // namespace scantling
