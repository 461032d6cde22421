#include "base/paths.h"

#include <cstdlib>

namespace scantling {
namespace fs = std::filesystem;

namespace {

fs::path xdg_folder(const char* variable, const char* below_home) {
  if (const char* value = std::getenv(variable); value && fs::path(value).is_absolute())
    return fs::path(value) / "scantling";
  const char* home = std::getenv("HOME");
  return fs::path(home && *home ? home : "/") / below_home / "scantling";
}

}  // namespace

fs::path user_data_folder() {
  return xdg_folder("XDG_DATA_HOME", ".local/share");
}
fs::path user_state_folder() {
  return xdg_folder("XDG_STATE_HOME", ".local/state");
}

fs::path assets_folder() {
  std::error_code ignored;
  if (const char* value = std::getenv("SCANTLING_ASSETS");
      value && fs::is_directory(value, ignored))
    return value;
  // Beside the program, wherever it was installed.
  const fs::path program = fs::read_symlink("/proc/self/exe", ignored);
  const fs::path installed = program.parent_path().parent_path() / "share" / "scantling";
  for (const fs::path& folder : {installed, fs::path(SCANTLING_SOURCE_ASSETS)})
    if (fs::is_directory(folder, ignored)) return folder;
  return {};
}

}  // namespace scantling
