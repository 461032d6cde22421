#include "record/trouble.h"

#include <fmt/format.h>
#include <sqlite3.h>

namespace scantling {

bool is_damage(const SQLite::Exception& error) {
  return error.getErrorCode() == SQLITE_CORRUPT;
}

std::string database_sentence(const SQLite::Exception& error, const std::filesystem::path& path,
                              const char* doing) {
  const std::string file = path.string();
  switch (error.getErrorCode()) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return fmt::format(
          "Could not {}: another program holds the record {}. Close it there and try again.", doing,
          file);
    case SQLITE_FULL:
      return fmt::format(
          "Could not {}: the disk with {} is full. Nothing saved before is lost; free some space "
          "and try again.",
          doing, file);
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_AUTH:
      return fmt::format(
          "Could not {}: {} may not be written to. Change its permissions, or choose another file.",
          doing, file);
    case SQLITE_CANTOPEN:
      return fmt::format(
          "Could not {}: {} cannot be opened. Check that its folder is there and may be written "
          "to, or choose another file.",
          doing, file);
    case SQLITE_IOERR:
      return fmt::format(
          "Could not {}: the disk with {} could not be read or written; it may be full or failing. "
          "Nothing saved before is lost; free some space or check the drive, then try again.",
          doing, file);
    case SQLITE_CORRUPT:
      return fmt::format(
          "Could not {}: the record {} is damaged. Keep the file as it is. Save what can be read "
          "of "
          "it into a new record (scantling rescue), or open your newest backup copy.",
          doing, file);
    case SQLITE_NOTADB:
      return fmt::format("Could not {}: {} is not a job record. Choose another file.", doing, file);
    case SQLITE_CONSTRAINT:
      if (error.getExtendedErrorCode() == SQLITE_CONSTRAINT_FOREIGNKEY)
        return fmt::format(
            "Could not {}: what it belongs to is not in the record {}. Open the job again.", doing,
            file);
      return fmt::format("Could not {}: a value is not allowed ({}). Correct it and try again.",
                         doing, error.what());
    default:
      return fmt::format("Could not {} in {} ({}). Close the program and try again.", doing, file,
                         error.what());
  }
}

}  // namespace scantling
