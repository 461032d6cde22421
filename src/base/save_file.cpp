#include "base/save_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <optional>
#include <string>

namespace scantling {
namespace fs = std::filesystem;

namespace {

[[noreturn]] void refuse(const fs::path& path, int error) {
  std::string advice = "Choose another place or name.";
  if (error == ENOENT || error == ENOTDIR) advice = "Make its folder first, or choose another.";
  if (error == ENOSPC || error == EDQUOT) advice = "Make room on the disk, or choose another.";
  throw UnwritableFile("Cannot write \"" + path.string() + "\": " + std::strerror(error) + ". " +
                       advice);
}

/// Closes on every way out.
class File {
 public:
  explicit File(int descriptor) : descriptor_(descriptor) {}
  ~File() { close(); }
  File(const File&) = delete;
  File& operator=(const File&) = delete;

  int descriptor() const { return descriptor_; }
  bool close() {
    const int descriptor = descriptor_;
    descriptor_ = -1;
    return descriptor < 0 || ::close(descriptor) == 0;
  }

 private:
  int descriptor_;
};

bool write_all(int descriptor, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

void write_directly(const fs::path& path, std::string_view bytes) {
  File file(::open(path.c_str(), O_WRONLY | O_CLOEXEC));
  if (file.descriptor() < 0 || !write_all(file.descriptor(), bytes) || !file.close())
    refuse(path, errno);
}

/// Opens a new file beside `target`; on success `name` says which.
int open_beside(const fs::path& target, std::string& name) {
  for (int attempt = 0;; ++attempt) {
    name = target.string() + "." + std::to_string(::getpid()) + "-" + std::to_string(attempt) +
           ".part";
    const int descriptor = ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (descriptor >= 0 || errno != EEXIST || attempt == 99) return descriptor;
  }
}

}  // namespace

void save_file(const fs::path& path, std::string_view bytes) {
  if (path.empty()) refuse(path, ENOENT);
  fs::path target = path;
  std::optional<mode_t> mode;  // of the file that is replaced
  struct stat there {};
  if (::stat(path.c_str(), &there) == 0) {
    if (S_ISDIR(there.st_mode)) refuse(path, EISDIR);
    if (!S_ISREG(there.st_mode)) return write_directly(path, bytes);
    if (::access(path.c_str(), W_OK) != 0) refuse(path, errno);
    std::error_code error;
    target = fs::canonical(path, error);
    if (error) refuse(path, error.value());
    mode = there.st_mode & 07777;
  } else if (errno != ENOENT) {
    refuse(path, errno);
  }

  std::string temporary;
  File file(open_beside(target, temporary));
  if (file.descriptor() < 0) refuse(path, errno);
  const auto give_up = [&] {
    const int error = errno;
    ::unlink(temporary.c_str());
    refuse(path, error);
  };
  if (!write_all(file.descriptor(), bytes) || (mode && ::fchmod(file.descriptor(), *mode) != 0) ||
      ::fsync(file.descriptor()) != 0 || !file.close())
    give_up();
  if (::rename(temporary.c_str(), target.c_str()) != 0) give_up();

  // The rename itself must outlast a power cut; where that fails the file is still whole.
  const fs::path folder = target.has_parent_path() ? target.parent_path() : fs::path(".");
  const File opened(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (opened.descriptor() >= 0) ::fsync(opened.descriptor());
}

}  // namespace scantling
