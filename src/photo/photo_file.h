#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <span>
#include <string>

#include "photo/photo.h"

namespace scantling {

/// A file's bytes in memory.
class FileBytes {
 public:
  /// @throws PhotoRefusal when the file is missing, no ordinary file, unreadable, empty or larger
  /// than the limit. Nothing but an ordinary file is opened, so a pipe can't hang the program.
  static FileBytes read(const std::filesystem::path& path, const PhotoLimits& limits);

  std::span<const std::uint8_t> bytes() const { return {bytes_.get(), size_}; }

 private:
  std::unique_ptr<std::uint8_t[]> bytes_;
  std::size_t size_ = 0;
};

/// The file's name as messages show it.
std::string name_for_user(const std::filesystem::path& path);

}  // namespace scantling
