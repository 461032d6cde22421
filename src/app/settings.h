#pragma once

#include <cstdint>
#include <filesystem>
#include <string>

namespace scantling {

/// What the app remembers between two starts, apart from the jobs themselves.
struct Settings {
  std::string person;  ///< who confirms edges
  bool light_theme = false;
  bool letter_paper = false;   ///< reports and lists for US Letter, else A4
  bool inches = false;         ///< reports in inches, else millimetres
  std::string watched_folder;  ///< new photos in it go to the sorting page; empty: none
  int window_width = 1280;
  int window_height = 800;
  std::int64_t last_job = 0;  ///< of the record named in `record`
  std::string record;
};

/// $XDG_STATE_HOME/scantling/window.json
std::filesystem::path settings_path();
/// Missing or damaged settings are no fault: the usual values stand in for them.
Settings load_settings(const std::filesystem::path& file);
/// Whole or not at all. Returns false when the file could not be written.
bool save_settings(const Settings& settings, const std::filesystem::path& file);

/// The name of the person at this computer, as the system knows it; "someone" where it does not.
std::string system_person();

}  // namespace scantling
