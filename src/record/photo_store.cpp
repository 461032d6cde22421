#include "record/photo_store.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstdlib>
#include <vector>

#include "record/disk.h"
#include "record/record_error.h"
#include "record/sha256.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

constexpr const char* kIncoming = ".incoming-";

/// A file under a passing name: gone when this ends, unless it was renamed before.
class IncomingFile {
 public:
  explicit IncomingFile(const fs::path& folder) : name_((folder / kIncoming).string() + "XXXXXX") {
    descriptor_ = ::mkostemp(name_.data(), O_CLOEXEC);  // mode 0600
    if (descriptor_ < 0) fail(folder);
  }
  ~IncomingFile() {
    if (descriptor_ >= 0) ::close(descriptor_);
    if (!renamed_) ::unlink(name_.c_str());
  }
  IncomingFile(const IncomingFile&) = delete;
  IncomingFile& operator=(const IncomingFile&) = delete;

  void write(const char* bytes, std::size_t count) {
    while (count > 0) {
      const ssize_t written = ::write(descriptor_, bytes, count);
      if (written < 0 && errno == EINTR) continue;
      if (written < 0) fail(name_);
      bytes += written;
      count -= static_cast<std::size_t>(written);
    }
  }

  void settle_as(const fs::path& target) {
    if (::fsync(descriptor_) != 0) fail(name_);
    const int closed = ::close(descriptor_);
    descriptor_ = -1;
    if (closed != 0 || ::rename(name_.c_str(), target.c_str()) != 0) fail(target);
    renamed_ = true;
  }

 private:
  [[noreturn]] static void fail(const fs::path& path) {
    throw RecordError(disk_sentence("Could not store the photo as", path, errno));
  }

  std::string name_;
  int descriptor_ = -1;
  bool renamed_ = false;
};

/// Opened without waiting: a pipe or a device must not hang the program.
class SourceFile {
 public:
  explicit SourceFile(const fs::path& path)
      : path_(path), descriptor_(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC)) {
    struct stat status {};
    if (descriptor_ < 0 || ::fstat(descriptor_, &status) != 0) fail(errno);
    if (S_ISDIR(status.st_mode)) fail(EISDIR);
    if (!S_ISREG(status.st_mode)) refuse("is not a plain file: choose a photo.");
    if (status.st_size == 0)
      refuse("is empty: copy the photo from the phone again, then add it once more.");
    if (static_cast<std::uintmax_t>(status.st_size) > PhotoStore::kLargestPhotoBytes)
      refuse("is larger than 256 MB: choose a photo as the phone took it.");
  }
  ~SourceFile() {
    if (descriptor_ >= 0) ::close(descriptor_);
  }
  SourceFile(const SourceFile&) = delete;
  SourceFile& operator=(const SourceFile&) = delete;

  /// The number of bytes read, 0 at the end.
  std::size_t read(std::vector<char>& block) {
    ssize_t count = 0;
    do {
      count = ::read(descriptor_, block.data(), block.size());
    } while (count < 0 && errno == EINTR);
    if (count < 0) fail(errno);
    return static_cast<std::size_t>(count);
  }

 private:
  // Closed here because a throwing constructor runs no destructor; a second close cannot happen.
  void close_early() {
    if (descriptor_ >= 0) ::close(descriptor_);
    descriptor_ = -1;
  }
  [[noreturn]] void fail(int error_number) {
    close_early();
    throw RecordError(disk_sentence("Could not read the photo", path_, error_number));
  }
  [[noreturn]] void refuse(const char* why) {
    close_early();
    throw RecordError(fmt::format("{} {}", path_.string(), why));
  }

  fs::path path_;
  int descriptor_;
};

/// What a crash left behind; a day is far longer than any copying takes.
void clear_leftovers(const fs::path& folder) {
  std::error_code ignored;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder, ignored)) {
    if (!entry.path().filename().string().starts_with(kIncoming)) continue;
    const auto written = entry.last_write_time(ignored);
    if (!ignored && fs::file_time_type::clock::now() - written > std::chrono::hours(24))
      fs::remove(entry.path(), ignored);
  }
}

}  // namespace

PhotoStore::PhotoStore(fs::path folder) : folder_(std::move(folder)) {
  clear_leftovers(folder_);
}

std::string PhotoStore::add(const fs::path& photo) {
  SourceFile source(photo);
  make_private_folders(folder_);
  IncomingFile copy(folder_);
  Sha256 hash;
  std::vector<char> block(1 << 20);
  std::uintmax_t total = 0;
  while (const std::size_t count = source.read(block)) {
    total += count;
    if (total > kLargestPhotoBytes)
      throw RecordError(photo.string() + " keeps growing: wait until it is copied whole.");
    hash.add(block.data(), count);
    copy.write(block.data(), count);
  }
  const std::string sha256 = hash.hexadecimal();
  if (!hash_holds(sha256)) copy.settle_as(path(sha256));
  sync_folder(folder_);
  return sha256;
}

fs::path PhotoStore::path(const std::string& sha256) const {
  return folder_ / sha256;
}

std::optional<PhotoStore::Seen> PhotoStore::look(const std::string& sha256) const {
  std::error_code error;
  Seen seen;
  seen.bytes = fs::file_size(path(sha256), error);
  if (error) return std::nullopt;
  seen.written = fs::last_write_time(path(sha256), error);
  return error ? std::nullopt : std::optional(seen);
}

bool PhotoStore::hash_holds(const std::string& sha256) const {
  return !sha256.empty() && sha256_of_file(path(sha256)) == sha256;
}

bool PhotoStore::intact(const std::string& sha256) const {
  const auto now = look(sha256);
  if (!now) return false;
  const auto known = intact_.find(sha256);
  if (known != intact_.end() && known->second == *now) return true;
  if (!hash_holds(sha256)) return false;
  intact_.insert_or_assign(sha256, *now);
  return true;
}

}  // namespace scantling
