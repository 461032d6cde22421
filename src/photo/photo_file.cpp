#include "photo/photo_file.h"

#include <cerrno>
#include <cstdio>
#include <system_error>

#include "photo/photo_refusal.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

struct Close {
  void operator()(std::FILE* file) const { std::fclose(file); }
};

std::string reason_of(int error) {
  return std::generic_category().message(error);
}

}  // namespace

std::string name_for_user(const fs::path& path) {
  const std::string name = path.filename().string();
  return name.empty() ? path.string() : name;
}

FileBytes FileBytes::read(const fs::path& path, const PhotoLimits& limits) {
  const std::string name = name_for_user(path);
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (status.type() == fs::file_type::not_found) throw refuse_missing(name);
  if (status.type() == fs::file_type::none) throw refuse_unreadable(name, error.message());
  if (!fs::is_regular_file(status)) throw refuse_folder(name);
  const std::uintmax_t size = fs::file_size(path, error);
  if (error) throw refuse_unreadable(name, error.message());
  if (size > limits.file_bytes) throw refuse_file_bytes(name, limits);

  const std::unique_ptr<std::FILE, Close> file(std::fopen(path.c_str(), "rb"));
  if (!file) throw refuse_unreadable(name, reason_of(errno));
  if (size == 0) throw refuse_empty(name);
  FileBytes result;
  result.size_ = static_cast<std::size_t>(size);
  result.bytes_ = std::make_unique_for_overwrite<std::uint8_t[]>(result.size_);
  if (std::fread(result.bytes_.get(), 1, result.size_, file.get()) != result.size_)
    throw refuse_unreadable(name,
                            std::ferror(file.get()) ? reason_of(errno) : "it is being changed");
  return result;
}

}  // namespace scantling
