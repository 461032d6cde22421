#include "app/settings.h"

#include <pwd.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>

#include "base/paths.h"
#include "base/save_file.h"

namespace scantling {
namespace fs = std::filesystem;
using nlohmann::ordered_json;

fs::path settings_path() {
  return user_state_folder() / "window.json";
}

Settings load_settings(const fs::path& file) {
  Settings settings;
  std::ifstream in(file);
  const ordered_json told = ordered_json::parse(in, nullptr, false);
  if (!told.is_object()) return settings;
  try {
    settings.person = told.value("person", settings.person);
    settings.light_theme = told.value("light_theme", settings.light_theme);
    settings.letter_paper = told.value("letter_paper", settings.letter_paper);
    settings.inches = told.value("inches", settings.inches);
    settings.watched_folder = told.value("watched_folder", settings.watched_folder);
    settings.window_width = std::clamp(told.value("window_width", 1280), 800, 8000);
    settings.window_height = std::clamp(told.value("window_height", 800), 560, 8000);
    settings.last_job = told.value("last_job", settings.last_job);
    settings.record = told.value("record", settings.record);
  } catch (const ordered_json::exception&) {
    return {};
  }
  return settings;
}

bool save_settings(const Settings& settings, const fs::path& file) {
  const ordered_json told = {{"person", settings.person},
                             {"light_theme", settings.light_theme},
                             {"letter_paper", settings.letter_paper},
                             {"inches", settings.inches},
                             {"watched_folder", settings.watched_folder},
                             {"window_width", settings.window_width},
                             {"window_height", settings.window_height},
                             {"record", settings.record},
                             {"last_job", settings.last_job}};
  std::error_code ignored;
  fs::create_directories(file.parent_path(), ignored);
  try {
    save_file(file, told.dump(1, ' ', false, ordered_json::error_handler_t::replace) + '\n');
  } catch (const UnwritableFile&) {
    return false;
  }
  return true;
}

std::string system_person() {
  const passwd* entry = getpwuid(getuid());
  if (!entry) return "someone";
  std::string full = entry->pw_gecos ? entry->pw_gecos : "";
  full = full.substr(0, full.find(','));
  return full.empty() ? entry->pw_name : full;
}

}  // namespace scantling
