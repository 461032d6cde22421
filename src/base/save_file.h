#pragma once

#include <filesystem>
#include <stdexcept>
#include <string_view>

namespace scantling {

/// A file the user named cannot be written; the message is the sentence to show.
class UnwritableFile : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Writes the whole file or leaves what was there: a temporary file beside it, flushed to the disk
/// and renamed over it. A link is followed; a pipe or a device is written directly.
/// @throws UnwritableFile
void save_file(const std::filesystem::path& path, std::string_view bytes);

}  // namespace scantling
