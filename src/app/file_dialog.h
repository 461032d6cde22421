#pragma once

#include <atomic>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace scantling {

/// What to ask the desktop's file dialog for.
struct FileQuestion {
  std::string title;
  bool save = false;                  ///< ask for one file to write, else for files to read
  std::string suggestion;             ///< save: the name to start from
  std::vector<std::string> patterns;  ///< "*.jpg"; empty for all files
  std::string pattern_words;          ///< "Photos"
  bool folder = false;                ///< ask for one folder instead of files
};

/// The program's arguments for a question; the first is the program's own name.
std::vector<std::string> dialog_arguments(const FileQuestion& question);

/// The file to save with the ending that the question's only pattern asks for, unless it has it.
std::filesystem::path with_pattern_ending(std::filesystem::path file, const FileQuestion& question);

/// The program that shows the desktop's dialog (zenity), where there is one on the PATH.
std::optional<std::filesystem::path> dialog_program();

/// Asks and waits, so never call it on the main thread. Empty when the user cancelled or `stop`
/// was set meanwhile, which closes the dialog.
/// @throws std::runtime_error when the dialog could not be shown.
std::vector<std::filesystem::path> ask_for_files(const std::filesystem::path& program,
                                                 const FileQuestion& question,
                                                 const std::atomic<bool>& stop);

}  // namespace scantling
