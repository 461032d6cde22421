#include "command_line/aligned_rows.h"

#include <algorithm>

namespace scantling {
namespace {

/// Columns of a terminal that a UTF-8 text takes: none of ours is wider than one column a
/// character.
std::size_t columns_of(const std::string& text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xc0) != 0x80; }));
}

}  // namespace

std::string aligned_rows(const std::vector<std::vector<std::string>>& rows) {
  std::vector<std::size_t> widths;
  for (const auto& row : rows) {
    widths.resize(std::max(widths.size(), row.size()));
    for (std::size_t i = 0; i < row.size(); ++i)
      widths[i] = std::max(widths[i], columns_of(row[i]));
  }
  std::string text;
  for (const auto& row : rows) {
    std::string line = row.empty() ? "" : "  ";
    for (std::size_t i = 0; i < row.size(); ++i) {
      line += row[i];
      if (i + 1 < row.size()) line.append(widths[i] - columns_of(row[i]) + 3, ' ');
    }
    text += line + "\n";
  }
  return text;
}

}  // namespace scantling
