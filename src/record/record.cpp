#include "record/record.h"

#include <fcntl.h>
#include <sqlite3.h>
#include <unistd.h>

#include <cerrno>

#include "base/paths.h"
#include "record/disk.h"
#include "record/record_state.h"
#include "record/schema.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

constexpr int kBusyTimeout_ms = 5000;

/// An owner's name and number plate are nobody else's business: mode 0600, SQLite keeps it for its
/// side files. A file that is there already is never opened here: closing it again would take away
/// the locks that another connection of this program holds on it (POSIX advisory locks go with any
/// descriptor), and another program would then clear the log that the connection still works with.
void make_private_file(const fs::path& path) {
  const int descriptor = ::open(path.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
  if (descriptor >= 0) {
    ::close(descriptor);
    return;
  }
  if (errno == EEXIST && ::faccessat(AT_FDCWD, path.c_str(), R_OK | W_OK, AT_EACCESS) == 0) return;
  throw RecordError(disk_sentence("Could not open the record", path, errno));
}

fs::path prepared_path(const fs::path& given) {
  if (given.empty()) throw RecordError("The record's file name is empty: give a file.");
  const fs::path path = fs::absolute(given).lexically_normal();
  std::error_code ignored;
  if (fs::is_directory(path, ignored))
    throw RecordError(path.string() + " is a folder: give a file for the record.");
  if (fs::exists(path, ignored) && !fs::is_regular_file(path, ignored))
    throw RecordError(path.string() + " is not a plain file: choose another for the record.");
  make_private_folders(path.parent_path());
  make_private_file(path);
  return path;
}

SQLite::Database opened(const fs::path& path) {
  return with_sentences(path, "open the record", [&] {
    SQLite::Database database(path.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE,
                              kBusyTimeout_ms);
    if (database.execAndGet("PRAGMA quick_check (1)").getString() != "ok")
      throw SQLite::Exception("quick_check", SQLITE_CORRUPT);
    bring_up_to_date(database, path, migrations());
    database.exec("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON");
    return database;
  });
}

fs::path photo_folder(const fs::path& path) {
  return fs::path(path) += ".photos";
}

}  // namespace

Record::Record(const fs::path& database) {
  const fs::path path = prepared_path(database);
  state_.reset(new State{path, opened(path), PhotoStore(photo_folder(path))});
}

Record::~Record() = default;
Record::Record(Record&&) noexcept = default;
Record& Record::operator=(Record&&) noexcept = default;

fs::path Record::default_path() {
  return user_data_folder() / "record.sqlite";
}

int Record::schema_version() const {
  return state_->read([&] { return state_->database.execAndGet("PRAGMA user_version").getInt(); });
}

bool Record::changed_elsewhere() {
  return state_->read([&] {
    const std::int64_t now =
        row(state_->shelf.lend(state_->database, "PRAGMA data_version"),
            [](const SQLite::Statement& found) { return found.getColumn(0).getInt64(); })
            .value();
    const bool changed = state_->data_version && *state_->data_version != now;
    state_->data_version = now;
    return changed;
  });
}

const fs::path& Record::path() const {
  return state_->path;
}

}  // namespace scantling
