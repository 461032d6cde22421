#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace scantling {

/// A folder into which photos come while it is watched, as a phone's copying program puts them
/// there. Its sub-folders are watched too, hidden ones apart.
class FolderWatch {
 public:
  /// `known`: the files, each by its name within the folder and its size, that need not be told any
  /// more. Nothing: all that are there at the first look.
  explicit FolderWatch(std::filesystem::path folder,
                       std::optional<std::set<std::string>> known = std::nullopt);

  struct Look {
    std::vector<std::filesystem::path>
        arrived;        ///< whole since the look before, by name; told once
    int growing = 0;    ///< photos still being copied
    std::string fault;  ///< why the folder cannot be looked at, empty where it can
  };
  /// Looks at the folder. A new photo is told once it is not empty and has the size and the time of
  /// writing that it had at the look before: call it about once a second.
  Look look();

  /// Photos that were told and that the user has dealt with, or has taken up again: only the former
  /// are known to the next start of the program. Others than those told are left alone. Returns
  /// whether `known` has changed.
  bool dealt_with(const std::vector<std::filesystem::path>& files);
  bool taken_up_again(const std::vector<std::filesystem::path>& files);

  const std::filesystem::path& folder() const { return folder_; }
  const std::set<std::string>& known() const { return known_; }

 private:
  struct Seen {
    std::uintmax_t bytes = 0;
    std::filesystem::file_time_type written;
    bool operator==(const Seen&) const = default;
  };
  std::vector<std::string> told(const std::vector<std::filesystem::path>& files) const;

  std::filesystem::path folder_;
  bool all_known_ = false;  ///< at the next look
  std::set<std::string> known_;
  std::set<std::string> told_;  ///< since the program was started
  std::map<std::string, Seen> coming_;
};

/// Which files of a watched folder were dealt with already, kept from one start of the program to
/// the next: a text file, the folder's name first. Nothing where it is of another folder or
/// missing.
std::optional<std::set<std::string>> load_known_files(const std::filesystem::path& file,
                                                      const std::filesystem::path& folder);
/// Whole or not at all; false when it could not be written.
bool save_known_files(const std::filesystem::path& file, const std::filesystem::path& folder,
                      const std::set<std::string>& known);

}  // namespace scantling
