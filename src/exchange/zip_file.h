#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "exchange/exchange_error.h"

namespace scantling {

/// What a zip file may hold before it is refused unread.
struct ZipLimits {
  std::uint64_t entries = 2000;
  std::uint64_t entry_bytes = 256u << 20;
  std::uint64_t total_bytes = 2048ull << 20;
  std::uint64_t largest_ratio = 200;  ///< unpacked over packed size, for entries above 1 MB
};

/// A zip file from somebody else. Names are only ever compared, never used as
/// paths.
class ZipReader {
 public:
  /// @throws ExchangeError for what is no zip file, is damaged or encrypted,
  /// holds a name twice or one that leads out of the file, or is beyond the
  /// limits.
  explicit ZipReader(const std::filesystem::path& path, const ZipLimits& limits = {});
  ~ZipReader();
  ZipReader(const ZipReader&) = delete;
  ZipReader& operator=(const ZipReader&) = delete;

  const std::vector<std::string>& names() const { return names_; }
  bool has(const std::string& name) const;
  /// An entry's bytes. @throws ExchangeError where there is none, or it is
  /// damaged or larger than `most_bytes` or than it says.
  std::string bytes(const std::string& name, std::uint64_t most_bytes) const;

 private:
  struct Archive;
  std::unique_ptr<Archive> archive_;
  std::vector<std::string> names_;
};

/// A zip file of ours: whole under its name, or not there.
class ZipWriter {
 public:
  explicit ZipWriter(std::filesystem::path path);
  ~ZipWriter();
  ZipWriter(const ZipWriter&) = delete;
  ZipWriter& operator=(const ZipWriter&) = delete;

  void add(const std::string& name, std::string bytes);
  /// Stored as it is: photos are packed already.
  void add_file(const std::string& name, const std::filesystem::path& file);
  /// Writes it. @throws ExchangeError.
  void finish();

 private:
  struct Archive;
  std::unique_ptr<Archive> archive_;
};

}  // namespace scantling
