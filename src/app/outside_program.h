#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace scantling {

/// A program of the desktop's, where there is one of this name on the PATH.
std::optional<std::filesystem::path> program_on_path(const std::string& name);

/// Hands a file or folder to the program that the desktop opens it with (xdg-open), and waits until
/// that is on its way, so never call it on the main thread. Empty when it went well, else why not,
/// in a sentence with the path.
std::string open_with_desktop(const std::filesystem::path& what);

}  // namespace scantling
