#pragma once

#include <filesystem>
#include <string>

namespace scantling {

/// Where the window tests leave their pictures.
inline std::filesystem::path shot(const std::string& name) {
  return std::filesystem::path(SCANTLING_SHOTS) / (name + ".png");
}

}  // namespace scantling
