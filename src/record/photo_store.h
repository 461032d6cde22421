#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <string>

namespace scantling {

/// A folder of photos, each named by the SHA-256 of its content. A photo appears under its name
/// only when it is whole and safe on disk: it is written under another name, forced to disk,
/// renamed, and the folder forced to disk too. Nothing is ever deleted but own leftovers.
class PhotoStore {
 public:
  /// Nothing is made on disk before the first photo.
  explicit PhotoStore(std::filesystem::path folder);

  /// Copies the file in and returns its hash. A file whose content is there already is not stored
  /// twice; a stored copy that was altered is put right.
  /// @throws RecordError for what is not a readable, plain, non-empty file of at most
  /// `kLargestPhotoBytes`, and when the disk refuses.
  std::string add(const std::filesystem::path& photo);

  std::filesystem::path path(const std::string& sha256) const;

  /// False when the file is missing or its content no longer has that hash. A file found whole is
  /// read again only when its size or its time of writing has changed.
  bool intact(const std::string& sha256) const;

  const std::filesystem::path& folder() const { return folder_; }

  static constexpr std::uintmax_t kLargestPhotoBytes = 256u << 20;

 private:
  /// What a file looked like when its content was last seen to have its hash.
  struct Seen {
    std::uintmax_t bytes = 0;
    std::filesystem::file_time_type written;
    bool operator==(const Seen&) const = default;
  };
  std::optional<Seen> look(const std::string& sha256) const;
  bool hash_holds(const std::string& sha256) const;

  std::filesystem::path folder_;
  mutable std::map<std::string, Seen> intact_;
};

}  // namespace scantling
