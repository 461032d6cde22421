#pragma once

#include <cstdint>
#include <filesystem>
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

  /// False when the file is missing or its content no longer has that hash.
  bool intact(const std::string& sha256) const;

  const std::filesystem::path& folder() const { return folder_; }

  static constexpr std::uintmax_t kLargestPhotoBytes = 256u << 20;

 private:
  std::filesystem::path folder_;
};

}  // namespace scantling
