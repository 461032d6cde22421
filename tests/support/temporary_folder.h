#pragma once

#include <unistd.h>

#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <span>
#include <stdexcept>
#include <string>

namespace scantling {

/// A fresh folder, gone with all its content when this ends.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "scantling-XXXXXX").string();
    if (!::mkdtemp(name.data())) throw std::runtime_error("no temporary folder");
    path_ = name;
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  const std::filesystem::path& path() const { return path_; }
  std::filesystem::path operator/(const std::string& name) const { return path_ / name; }

  /// Writes a file and returns its path.
  std::filesystem::path file(const std::string& name, const std::string& content) const {
    const std::filesystem::path path = path_ / name;
    std::ofstream(path, std::ios::binary) << content;
    return path;
  }
  std::filesystem::path file(const std::string& name, std::span<const std::uint8_t> content) const {
    return file(name, std::string(content.begin(), content.end()));
  }

 private:
  std::filesystem::path path_;
};

}  // namespace scantling
