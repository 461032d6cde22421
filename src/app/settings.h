#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "report/figure_style.h"

namespace scantling {

/// What the app remembers between two starts, apart from the jobs themselves.
struct Settings {
  std::string person;  ///< who confirms edges
  bool light_theme = false;
  bool letter_paper = false;   ///< reports and lists for US Letter, else A4
  bool inches = false;         ///< window and reports in inches, else millimetres
  std::string watched_folder;  ///< new photos in it go to the sorting page; empty: none
  bool miles = false;          ///< odometer readings and distances, else kilometres
  bool decimal_comma = false;
  int text_percent = 100;                 ///< one of kTextSizes
  double check_every_km = 0;              ///< offered as the next check of a new job; 0: none
  std::vector<std::int64_t> recent_jobs;  ///< of the record named in `record`, newest first
  int window_width = 1280;
  int window_height = 800;
  std::int64_t last_job = 0;  ///< of the record named in `record`
  std::string record;
  bool operator==(const Settings&) const = default;
};

/// Text and everything with it, in per cent of the usual size.
inline constexpr int kTextSizes[] = {90, 100, 115, 130};
inline constexpr std::size_t kMostRecentJobs = 8;
inline constexpr double kMostCheckEvery_km = 200'000;

FigureStyle figure_style(const Settings& settings);
/// Puts a job first among the recent ones.
void remember_job(Settings& settings, std::int64_t job_id);

/// $XDG_STATE_HOME/scantling/window.json
std::filesystem::path settings_path();
/// Missing or damaged settings are no fault: the usual values stand in for them.
Settings load_settings(const std::filesystem::path& file);
/// Whole or not at all. Returns false when the file could not be written.
bool save_settings(const Settings& settings, const std::filesystem::path& file);

/// The name of the person at this computer, as the system knows it; "someone" where it does not.
std::string system_person();

}  // namespace scantling
