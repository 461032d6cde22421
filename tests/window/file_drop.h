#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace scantling {

/// Drags files over the program's window and lets them go there, as a file manager does: a source
/// of the X drag-and-drop protocol (XDND, version 5) with a list of file addresses.
/// @throws std::runtime_error when no window of the display takes drops, or it does not answer.
void drop_files(const std::string& display, const std::vector<std::filesystem::path>& files);

}  // namespace scantling
