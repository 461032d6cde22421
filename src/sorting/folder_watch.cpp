#include "sorting/folder_watch.h"

#include <algorithm>
#include <fstream>

#include "base/save_file.h"
#include "sorting/photo_names.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

constexpr int kDeepest = 4;                 ///< DCIM/Camera and the like
constexpr std::size_t kMostFiles = 50'000;  ///< a whole disk chosen by mistake must not hang it

}  // namespace

FolderWatch::FolderWatch(fs::path folder, std::optional<std::set<std::string>> known)
    : folder_(std::move(folder)),
      all_known_(!known),
      known_(known.value_or(std::set<std::string>{})) {}

FolderWatch::Look FolderWatch::look() {
  Look look;
  std::error_code fault;
  std::map<std::string, Seen> coming;
  std::set<std::string> there;
  fs::recursive_directory_iterator it(folder_, fs::directory_options::skip_permission_denied,
                                      fault);
  if (fault) {
    look.fault = "The watched folder " + folder_.string() + " cannot be looked at (" +
                 fault.message() + "). Choose another, or put it back.";
    return look;
  }
  for (const fs::recursive_directory_iterator end; it != end && there.size() < kMostFiles;) {
    const fs::directory_entry entry = *it;
    std::error_code passing;  // a file may vanish while it is looked at
    const std::string name = entry.path().filename().string();
    if (entry.is_directory(passing)) {
      if (it.depth() + 1 >= kDeepest || name.starts_with('.')) it.disable_recursion_pending();
    } else if (named_like_photo(entry.path()) && entry.is_regular_file(passing)) {
      const std::string within = entry.path().lexically_relative(folder_).string();
      Seen seen;
      seen.bytes = entry.file_size(passing);
      if (!passing) seen.written = entry.last_write_time(passing);
      if (!passing) {
        // A name that comes again with another size is another photo.
        const std::string key = within + '\t' + std::to_string(seen.bytes);
        there.insert(key);
        if (!all_known_ && !known_.contains(key) && !told_.contains(key))
          coming.emplace(within, seen);
      }
    }
    it.increment(fault);
    if (fault) break;
  }
  if (all_known_) {
    known_ = std::move(there);
    all_known_ = false;
    return look;
  }
  for (auto at = coming.begin(); at != coming.end();) {
    const auto before = coming_.find(at->first);
    const bool whole =
        at->second.bytes > 0 && before != coming_.end() && before->second == at->second;
    if (!whole) {
      ++look.growing;
      ++at;
      continue;
    }
    look.arrived.push_back(folder_ / at->first);
    told_.insert(at->first + '\t' + std::to_string(at->second.bytes));
    at = coming.erase(at);
  }
  std::sort(look.arrived.begin(), look.arrived.end(), [](const fs::path& a, const fs::path& b) {
    return name_before(a.string(), b.string());
  });
  coming_ = std::move(coming);
  return look;
}

std::vector<std::string> FolderWatch::told(const std::vector<fs::path>& files) const {
  const fs::path folder = fs::absolute(folder_).lexically_normal();
  std::vector<std::string> keys;
  for (const fs::path& file : files) {
    const std::string within =
        fs::absolute(file).lexically_normal().lexically_relative(folder).string() + '\t';
    for (auto at = told_.lower_bound(within); at != told_.end() && at->starts_with(within); ++at)
      keys.push_back(*at);
  }
  return keys;
}

bool FolderWatch::dealt_with(const std::vector<fs::path>& files) {
  const std::size_t before = known_.size();
  for (const std::string& key : told(files)) known_.insert(key);
  return known_.size() != before;
}

bool FolderWatch::taken_up_again(const std::vector<fs::path>& files) {
  const std::size_t before = known_.size();
  for (const std::string& key : told(files)) known_.erase(key);
  return known_.size() != before;
}

std::optional<std::set<std::string>> load_known_files(const fs::path& file,
                                                      const fs::path& folder) {
  std::ifstream in(file, std::ios::binary);
  std::string line;
  // Names may hold anything but a zero byte.
  if (!in || !std::getline(in, line, '\0') || line != folder.string()) return std::nullopt;
  std::set<std::string> known;
  while (std::getline(in, line, '\0'))
    if (!line.empty()) known.insert(line);
  return known;
}

bool save_known_files(const fs::path& file, const fs::path& folder,
                      const std::set<std::string>& known) {
  std::string text = folder.string() + '\0';
  for (const std::string& name : known) text += name + '\0';
  std::error_code ignored;
  fs::create_directories(file.parent_path(), ignored);
  try {
    save_file(file, text);
  } catch (const UnwritableFile&) {
    return false;
  }
  return true;
}

}  // namespace scantling
