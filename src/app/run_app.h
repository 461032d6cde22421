#pragma once

#include <filesystem>
#include <vector>

namespace scantling {

struct AppOptions {
  std::filesystem::path record;               ///< the job record to work on
  std::vector<std::filesystem::path> photos;  ///< opened at start
  bool demo = false;                          ///< open on the demo job
};

/// Opens the desktop window and returns when it closes: an exit status.
/// Without a display it says so on standard error and returns 1.
int run_app(const AppOptions& options);

}  // namespace scantling
