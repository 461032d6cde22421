#include "app/settings.h"

#include <pwd.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <type_traits>

#include "base/paths.h"
#include "base/save_file.h"

namespace scantling {
namespace fs = std::filesystem;
using nlohmann::ordered_json;

namespace {

/// What is missing or of a wrong kind leaves the usual value; the rest of the file still counts.
template <typename T>
void take(const ordered_json& told, const char* name, T& value) {
  const auto found = told.find(name);
  if (found == told.end()) return;
  if constexpr (std::is_same_v<T, ordered_json>) {
    if (found->is_array()) value = *found;
  } else if constexpr (std::is_same_v<T, bool>) {
    if (found->is_boolean()) value = found->get<bool>();
  } else if constexpr (std::is_same_v<T, std::string>) {
    if (found->is_string()) value = found->get<std::string>();
  } else if constexpr (std::is_integral_v<T>) {
    if (found->is_number_integer()) value = found->get<T>();
  } else {
    if (found->is_number()) value = found->get<T>();
  }
}

int nearest_text_size(double percent) {
  int nearest = 100;
  for (const int size : kTextSizes)
    if (std::abs(size - percent) < std::abs(nearest - percent)) nearest = size;
  return nearest;
}

}  // namespace

FigureStyle figure_style(const Settings& settings) {
  return {settings.inches ? LengthUnit::inch : LengthUnit::millimetre,
          settings.miles ? DistanceUnit::mile : DistanceUnit::kilometre,
          settings.decimal_comma ? DecimalMark::comma : DecimalMark::point};
}

void remember_job(Settings& settings, std::int64_t job_id) {
  std::erase(settings.recent_jobs, job_id);
  settings.recent_jobs.insert(settings.recent_jobs.begin(), job_id);
  if (settings.recent_jobs.size() > kMostRecentJobs) settings.recent_jobs.resize(kMostRecentJobs);
}

fs::path settings_path() {
  return user_state_folder() / "window.json";
}

Settings load_settings(const fs::path& file) {
  Settings settings;
  std::ifstream in(file);
  const ordered_json told = ordered_json::parse(in, nullptr, false);
  if (!told.is_object()) return settings;
  take(told, "person", settings.person);
  take(told, "light_theme", settings.light_theme);
  take(told, "letter_paper", settings.letter_paper);
  take(told, "inches", settings.inches);
  take(told, "watched_folder", settings.watched_folder);
  take(told, "miles", settings.miles);
  take(told, "decimal_comma", settings.decimal_comma);
  double text_percent = settings.text_percent, width = 1280, height = 800;
  take(told, "text_percent", text_percent);
  settings.text_percent = nearest_text_size(text_percent);
  take(told, "check_every_km", settings.check_every_km);
  if (!(settings.check_every_km >= 0 && settings.check_every_km <= kMostCheckEvery_km))
    settings.check_every_km = 0;
  take(told, "window_width", width);
  take(told, "window_height", height);
  settings.window_width = static_cast<int>(std::clamp(width, 800.0, 8000.0));
  settings.window_height = static_cast<int>(std::clamp(height, 560.0, 8000.0));
  take(told, "last_job", settings.last_job);
  take(told, "record", settings.record);
  ordered_json jobs = ordered_json::array();
  take(told, "recent_jobs", jobs);
  for (const auto& job : jobs)
    if (job.is_number_integer() && settings.recent_jobs.size() < kMostRecentJobs)
      settings.recent_jobs.push_back(job.get<std::int64_t>());
  return settings;
}

bool save_settings(const Settings& settings, const fs::path& file) {
  const ordered_json told = {{"person", settings.person},
                             {"light_theme", settings.light_theme},
                             {"letter_paper", settings.letter_paper},
                             {"inches", settings.inches},
                             {"watched_folder", settings.watched_folder},
                             {"miles", settings.miles},
                             {"decimal_comma", settings.decimal_comma},
                             {"text_percent", settings.text_percent},
                             {"check_every_km", settings.check_every_km},
                             {"recent_jobs", settings.recent_jobs},
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
