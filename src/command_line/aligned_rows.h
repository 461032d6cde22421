#pragma once

#include <string>
#include <vector>

namespace scantling {

/// Rows of a table as lines of text, each column as wide as its widest word; an empty row is a
/// blank line.
std::string aligned_rows(const std::vector<std::vector<std::string>>& rows);

}  // namespace scantling
