#include "record/disk.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <vector>

#include "record/record_error.h"
#include "record/sha256.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

std::string what_next(int error_number) {
  switch (error_number) {
    case ENOSPC:
    case EDQUOT:
    case EFBIG:
      return "The disk is full: free some space and try again.";
    case EACCES:
    case EPERM:
    case EROFS:
      return "You may not write there: choose another folder, or change its permissions.";
    case ENOTDIR:
    case EEXIST:
      return "A file stands where a folder is needed: choose another place.";
    case EISDIR:
      return "It is a folder: choose a file.";
    case ENOENT:
      return "It is not there: check the name and whether the drive is connected.";
    case EIO:
      return "The drive reports a fault: check the drive and its cable.";
    default:
      return "Check the drive, or choose another place.";
  }
}

}  // namespace

std::string disk_sentence(const std::string& could_not, const fs::path& path, int error_number) {
  return fmt::format("{} {} ({}). {}", could_not, path.string(), std::strerror(error_number),
                     what_next(error_number));
}

void make_private_folders(const fs::path& folder) {
  fs::path built;
  for (const fs::path& piece : folder) {
    built /= piece;
    if (::mkdir(built.c_str(), 0700) == 0 || errno == EISDIR) continue;
    const int error_number = errno;
    struct stat status {};
    // Above a home folder mkdir may answer "read-only" or "permission" for what exists already.
    if (::stat(built.c_str(), &status) == 0) {
      if (S_ISDIR(status.st_mode)) continue;
      throw RecordError(disk_sentence("Could not make the folder", built, ENOTDIR));
    }
    throw RecordError(disk_sentence("Could not make the folder", built, error_number));
  }
}

void sync_folder(const fs::path& folder) {
  const int descriptor = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  const bool synced = descriptor >= 0 && ::fsync(descriptor) == 0;
  const int error_number = errno;
  if (descriptor >= 0) ::close(descriptor);
  // EINVAL: this file system has nothing to sync for a folder.
  if (!synced && error_number != EINVAL)
    throw RecordError(disk_sentence("Could not secure on disk", folder, error_number));
}

std::string sha256_of_file(const fs::path& file) {
  const int descriptor = ::open(file.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC);
  if (descriptor < 0) return {};
  Sha256 hash;
  std::vector<char> block(1 << 20);
  ssize_t count = 0;
  struct stat status {};
  const bool regular = ::fstat(descriptor, &status) == 0 && S_ISREG(status.st_mode);
  while (regular && ((count = ::read(descriptor, block.data(), block.size())) > 0 ||
                     (count < 0 && errno == EINTR)))
    if (count > 0) hash.add(block.data(), static_cast<std::size_t>(count));
  ::close(descriptor);
  return regular && count == 0 ? hash.hexadecimal() : std::string{};
}

}  // namespace scantling
